"""A record of one invented person, closed, and a clock that stands still."""

from __future__ import annotations

import shutil
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


def made(folder: Path, clock: SetClock) -> Path:
    """A record of one person in a folder."""
    with open_record(folder / "record.sqlite", clock, create=True) as record:
        add_person(record, Person("", "R.K."))
    return folder / "record.sqlite"
