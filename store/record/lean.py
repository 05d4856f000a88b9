"""An import without what the imported takes in by the way where it is installed, and needs for nothing of ours."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def without(*names: str) -> Iterator[None]:
    """Let imports within find none of these top-level modules, unless they are loaded already."""
    hidden = [name for name in names if name not in sys.modules]
    sys.modules.update(dict.fromkeys(hidden))  # type: ignore[arg-type]  # None is Python's own word for "not there"
    try:
        yield
    finally:
        for name in hidden:
            del sys.modules[name]
