"""A while in which nothing is looked through for what may be freed."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def unswept() -> Iterator[None]:
    """For a short while in which much is made and nearly all of it stays, as at a start.

    Python looks through what is there again and again as it grows, which costs such a while a tenth. What nothing
    refers to any more is freed all the same; only what refers to itself in a circle waits.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()
