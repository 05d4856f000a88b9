"""A record of one invented person, closed, and a clock that stands still."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record.file import open_record
from store.record.people import add_person
from tests.faults.plain_user import folder_for_everybody
from tests.record.made import START


@pytest.fixture
def clock() -> SetClock:
    return SetClock(START)


@pytest.fixture
def path(tmp_path: Path, clock: SetClock) -> Path:
    return made(tmp_path, clock)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that any user may enter, unlike pytest's own."""
    folder = folder_for_everybody()
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A real file system of two megabytes, where it may be mounted."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("only root may mount a small disk")
    command = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(disk)]
    if subprocess.run(command, capture_output=True).returncode:
        pytest.skip("no small disk may be mounted here")
    yield disk
    subprocess.run(["umount", disk], check=True)


def made(folder: Path, clock: SetClock) -> Path:
    """A record of one person in a folder."""
    with open_record(folder / "record.sqlite", clock, create=True) as record:
        add_person(record, Person("", "R.K."))
    return folder / "record.sqlite"
