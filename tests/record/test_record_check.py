"""The check finds what another tool broke, and nothing where nothing is broken."""

from __future__ import annotations

import sqlite3
from contextlib import closing

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
