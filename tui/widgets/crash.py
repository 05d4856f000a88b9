"""What is told when the program meets a fault of its own: where, and never with which values."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType

from store.knowledge.time import Stamp

LOG_NAME = "faults.log"


def fault_of(error: BaseException) -> BaseException:
    """The error itself, out of the wrapping that a worker puts around it."""
    inner = getattr(error, "error", None)
    return inner if isinstance(inner, BaseException) else error


def place_of(error: BaseException) -> str:
    """The kind of error and the last place it passed: `ValueError, store/reckon/sides.py line 41`."""
    frames = list(_frames(error.__traceback__))
    return f"{type(error).__name__}, {frames[-1]}" if frames else type(error).__name__


def account(error: BaseException, at: Stamp) -> str:
    """The way to the error as lines of places. Neither the error's message nor a local variable is in it."""
    lines = [f"{at.text} {type(error).__name__}"]
    seen: set[int] = set()
    current: BaseException | None = error
    while current is not None and id(current) not in seen:
        seen.add(id(current))
        if current is not error:
            lines.append(f"  after {type(current).__name__}")
        lines += [f"    {frame}" for frame in _frames(current.__traceback__)]
        current = current.__cause__ or current.__context__
    return "\n".join(lines) + "\n"


def _frames(traceback: TracebackType | None) -> Iterator[str]:
    while traceback is not None:
        code = traceback.tb_frame.f_code
        yield f"{'/'.join(Path(code.co_filename).parts[-3:])} line {traceback.tb_lineno} in {code.co_name}"
        traceback = traceback.tb_next


def write_log(folder: Path, text: str) -> Path | None:
    """Add to the private log in this folder; None where it cannot be written."""
    path = folder / LOG_NAME
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600), "a", encoding="utf-8") as log:
            os.chmod(path, 0o600)
            log.write(text)
    except OSError:
        return None
    return path


def message(error: BaseException, log: Path | None) -> str:
    """What the person at the keyboard is told."""
    written = (
        f"Where it happened is written, without names or values, in:\n{log}"
        if log
        else "Where it happened could not be written down: the folder for logs cannot be written to."
    )
    return (
        "bothfeet has met a fault of its own and closed. What was shown as saved is kept.\n"
        f"{written}\n"
        f"({place_of(error)})\n"
        "Start it again with the same command; a bout that was running opens paused."
    )
