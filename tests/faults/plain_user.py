"""Running part of a test as a user whom the rights of files bind: root, as which tests may run, they do not."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest

import store

NOBODY = 65534


def folder_for_everybody() -> Path:
    """A new folder that any user may enter, unlike pytest's own. Skips the test where nothing above allows it."""
    for above in dict.fromkeys((Path(tempfile.gettempdir()), Path("/tmp"))):
        if _for_everybody(above):
            folder = Path(tempfile.mkdtemp(dir=above))
            atexit.register(shutil.rmtree, folder, ignore_errors=True)
            folder.chmod(0o755)
            return folder
    pytest.skip("no folder for temporary files that another user may enter")


def needs_the_program_for_everybody() -> None:
    """Skips the test where another user may not read this checkout, whose tables are read when they are wanted."""
    if os.geteuid() == 0 and not _for_everybody(Path(store.__file__).parent):
        pytest.skip("another user may not read this checkout")


def _for_everybody(folder: Path) -> bool:
    return all(part.stat().st_mode & 0o001 for part in (folder, *folder.parents))


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
