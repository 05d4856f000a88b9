"""A disk on which nothing more fits."""

from __future__ import annotations

import shutil
from contextlib import suppress
from pathlib import Path


def fill_up(disk: Path) -> None:
    with (disk / "ballast").open("wb", buffering=0) as file, suppress(OSError):
        while file.write(b"x" * 4096):
            pass
    assert shutil.disk_usage(disk).free == 0
