"""A paper put into a file: whole or not at all, so that a full disk leaves the old one as it was."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from store.care.faults import CareFault


def save(path: Path, paper: str | bytes) -> None:
    """Put a paper into a file, in place of what was there, readable by its owner only. Raises CareFault."""
    save_parts(path, [paper.encode("utf-8") if isinstance(paper, str) else paper])


def typed_path(text: str) -> Path:
    """The path that somebody typed, ~ taken for their own folder. Raises CareFault."""
    try:
        return Path(text).expanduser()
    except RuntimeError as unknown:
        raise CareFault(f"there is no folder {text.split('/')[0]} here: type the whole path") from unknown


def new_place(path: Path, *, force: bool) -> None:
    """Raises CareFault where a file stands already and is not to be replaced."""
    try:
        there = path.exists() and not path.is_dir()
    except OSError:  # such as a name that is too long: saving says so
        there = False
    if there and not force:
        raise CareFault(f"{path} is there already and stays as it is: name another file, or add --force")


def save_parts(path: Path, parts: Iterable[bytes]) -> None:
    """The same, with a paper that comes in parts: no more than one is held at once. Raises CareFault."""
    part = ""
    try:
        _check(path)
        handle, part = tempfile.mkstemp(prefix=".bothfeet-", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            for each in parts:
                file.write(each)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    except BaseException as cannot:
        if part:
            with suppress(OSError):
                os.unlink(part)
        if isinstance(cannot, CareFault) or not isinstance(cannot, OSError | ValueError):
            raise
        why = cannot.strerror if isinstance(cannot, OSError) else cannot
        raise CareFault(
            f"{_short(path)} cannot be written ({why}): what was there stays as it was; name another file"
        ) from cannot


def _check(path: Path) -> None:
    if path.is_dir():
        raise CareFault(f"{path} is a folder: name the file in it")
    if path.exists() and not path.is_file():
        raise CareFault(f"{path} is no plain file, and nothing was written to it: name another file")


def _short(path: Path) -> str:
    """A path as it can stand in a sentence of two rows: of a long one its beginning and its end."""
    text = str(path)
    return text if len(text) <= 90 else f"{text[:45]}…{text[-40:]}"
