"""A paper put into a file: whole or not at all, so that a full disk leaves the old one as it was."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from store.care.faults import CareFault


def save(path: Path, paper: str | bytes) -> None:
    """Put a paper into a file, in place of what was there, readable by its owner only. Raises CareFault."""
    data = paper.encode("utf-8") if isinstance(paper, str) else paper
    if path.is_dir():
        raise CareFault(f"{path} is a folder: name the file in it")
    part = ""
    try:
        handle, part = tempfile.mkstemp(prefix=".bothfeet-", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    except OSError as cannot:
        if part:
            with suppress(OSError):
                os.unlink(part)
        raise CareFault(
            f"{path} cannot be written ({cannot.strerror}): what was there stays as it was; name another file"
        ) from cannot
