"""Running part of a test as a user whom the rights of files bind: root, as which tests may run, they do not."""

from __future__ import annotations

import os
from collections.abc import Callable

NOBODY = 65534


def as_plain_user(do: Callable[[], str]) -> str:
    """What `do` returns, in a child process of a user without any rights of their own where we are root."""
    if os.geteuid() != 0:
        return do()
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        _in_child(do, writes)
    os.close(writes)
    with os.fdopen(reads, encoding="utf-8") as pipe:
        told = pipe.read()
    os.waitpid(child, 0)
    return told


def _in_child(do: Callable[[], str], writes: int) -> None:
    try:
        os.setgroups([])
        os.setgid(NOBODY)
        os.setuid(NOBODY)
        told = do()
    except BaseException as error:
        told = f"failed: {error!r}"
    os.write(writes, told.encode())
    os._exit(0)
