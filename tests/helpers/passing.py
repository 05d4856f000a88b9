"""Folders for what is made outside of a test's own folder, for a look at a screen: they go when Python ends."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from pathlib import Path


def passing_folder() -> Path:
    """A new folder, removed with all that is in it at the end of the run."""
    folder = Path(tempfile.mkdtemp(prefix="bothfeet-look-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder
