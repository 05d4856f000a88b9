"""The check finds what another tool broke, and nothing where nothing is broken."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person, Side, Visit
from store.record import bouts, readings
from store.record.check import check
from store.record.file import Record
from store.record.people import add_person
from tests.record.made import event, hold, lunge


@pytest.fixture
def filled(record: Record, visit: Visit, clock: SetClock) -> Record:
    bout = bouts.add_bout(record, hold(visit, clock))
    bouts.add_events(record, [event(bout, clock, seq) for seq in (1, 2, 3)])
    [one] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    readings.revise_reading(record, one._replace(value=12.0), by="AB", because="misread")
    return record


def parts(record: Record) -> set[str]:
    return {finding.part for finding in check(record)}


def test_a_whole_record_has_no_findings(filled: Record) -> None:
    assert check(filled) == []
    filled.close()
    assert check(filled.path) == []


@pytest.mark.parametrize(
    ("change", "part"),
    [
        ("PRAGMA application_id = 7", "application_id"),
        ("PRAGMA user_version = 99", "user_version"),
        ("DROP TRIGGER reading_amended", "triggers"),
        ("DROP TRIGGER bout_event_no_delete", "triggers"),
        ("DROP VIEW gap_by_visit", "views"),
        ("ALTER TABLE person ADD COLUMN hue TEXT", "triggers"),
        ("DROP TABLE examiner", "tables"),
        ("DROP TRIGGER bout_event_no_delete; DELETE FROM bout_event WHERE seq = 2", "bout events"),
        ("DROP TRIGGER amendment_no_delete; DELETE FROM amendment", "amendments"),
        ("DROP TRIGGER amendment_no_update; UPDATE amendment SET was_revision = 'zzz'", "amendments"),
        ("DROP TRIGGER amendment_no_update; UPDATE amendment SET row_id = 'nobody'", "amendments"),
        ("DROP TRIGGER visit_no_delete; DELETE FROM visit", "foreign keys"),
    ],
)
def test_what_another_tool_broke_is_found(filled: Record, change: str, part: str) -> None:
    with closing(sqlite3.connect(filled.path)) as tool:
        tool.executescript(change)
    assert part in parts(filled)


def test_a_reading_of_one_person_in_the_visit_of_another_is_found(
    filled: Record, visit: Visit, clock: SetClock
) -> None:
    other = add_person(filled, Person("", "T.M."))
    readings.add_readings(filled, [lunge(visit, clock, Side.LEFT, 1.0)._replace(person=other.id)])
    assert parts(filled) == {"person"}


def beside(path: Path) -> dict[str, bytes]:
    """All that lies in the folder of a record, by name."""
    return {one.name: one.read_bytes() for one in path.parent.iterdir()}


def test_it_leaves_nothing_beside_a_file_that_nobody_has_open(filled: Record) -> None:
    filled.close()
    before = beside(filled.path)
    assert list(before) == [filled.path.name]
    assert check(filled.path) == []
    assert beside(filled.path) == before
    link = filled.path.parent / "link" / "here.sqlite"
    link.parent.mkdir()
    link.symlink_to(filled.path)
    assert check(link) == []
    assert [one.name for one in link.parent.iterdir()] == [link.name]
    assert {one.name for one in filled.path.parent.iterdir()} == {filled.path.name, "link"}


def test_it_leaves_a_record_that_is_open_as_it_is_and_sees_what_was_saved_last(filled: Record) -> None:
    """Another process has it open, with what it saved still in the WAL."""
    other = subprocess.Popen(
        [sys.executable, "-c", HOLDS, str(filled.path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert other.stdin is not None
    assert other.stdout is not None
    with other:
        assert other.stdout.readline() == "open\n"
        filled.close()
        names, kept = set(beside(filled.path)), filled.path.read_bytes()
        assert names == {filled.path.name, f"{filled.path.name}-wal", f"{filled.path.name}-shm"}
        assert parts_of(filled.path) == {"triggers"}
        assert (set(beside(filled.path)), filled.path.read_bytes()) == (names, kept)
        told, _ = other.communicate("go on\n")
    assert told == "saved\n"
    with closing(sqlite3.connect(filled.path)) as db:
        assert db.execute("SELECT hue FROM person").fetchall()[0] == ("blue",)
        assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)


HOLDS = """
import sqlite3, sys
db = sqlite3.connect(sys.argv[1], isolation_level=None)
db.execute("ALTER TABLE person ADD COLUMN hue TEXT")
print("open", flush=True)
input()
db.execute("UPDATE person SET hue = 'blue', revision = 'zzz'")
print("saved", flush=True)
"""


@pytest.mark.parametrize("index", [True, False])
def test_what_a_killed_program_left_is_looked_at_and_left(filled: Record, tmp_path: Path, index: bool) -> None:
    with closing(sqlite3.connect(filled.path, isolation_level=None)) as tool:
        tool.execute("ALTER TABLE person ADD COLUMN hue TEXT")
        left = tmp_path / "left" / filled.path.name
        left.parent.mkdir()
        for ending in ("", "-wal", *(["-shm"] if index else [])):
            shutil.copyfile(f"{filled.path}{ending}", f"{left}{ending}")
    before = beside(left)
    assert parts_of(left) == {"triggers"}
    assert set(beside(left)) == set(before)
    for name in (left.name, f"{left.name}-wal"):
        assert beside(left)[name] == before[name]


def parts_of(path: Path) -> set[str]:
    return {one.part for one in check(path)}
