"""A backup is whole, private, and never written over anything."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record import people
from store.record.backup import backup
from store.record.check import check
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_record


def test_a_backup_holds_all_and_is_one_file(
    record: Record, person: Person, tmp_path: Path, clock: SetClock
) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    made = backup(record, folder / "copy.sqlite")
    assert [path.name for path in folder.iterdir()] == ["copy.sqlite"]
    assert check(made) == []
    with open_record(made, clock, read_only=True) as copy:
        assert copy.journal == "delete"
        assert people.person(copy, person.id) == person
    if os.name == "posix":
        assert stat.S_IMODE(made.stat().st_mode) == 0o600


def test_in_a_folder_it_gets_a_name_with_the_date(record: Record, tmp_path: Path) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    assert backup(record, folder) == folder / "record-2026-11-25-1038.sqlite"


def test_what_is_there_is_left_as_it_is(record: Record, tmp_path: Path) -> None:
    there = tmp_path / "letter.txt"
    there.write_text("dear colleague")
    for to in (there, record.path):
        with pytest.raises(RecordFault, match="is there already") as fault:
            backup(record, to)
        assert fault.value.kind is FaultKind.EXISTS
    assert there.read_text() == "dear colleague"


def test_a_folder_that_is_not_there_is_named(record: Record, tmp_path: Path) -> None:
    with pytest.raises(RecordFault, match="There is no folder"):
        backup(record, tmp_path / "gone" / "copy.sqlite")


def test_nothing_is_left_of_a_backup_that_fails(
    record: Record, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def pulled_out(*_: object) -> None:
        raise OSError("the stick was pulled out")

    monkeypatch.setattr("store.record.backup._copy_pages", pulled_out)
    folder = tmp_path / "stick"
    folder.mkdir()
    with pytest.raises(OSError, match="pulled out"):
        backup(record, folder)
    assert list(folder.iterdir()) == []
