"""Writes stand whole or not at all, wait for no other reader, and are noticed by other windows."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record import people
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_in_memory, open_record


def everybody(record: Record) -> list[str]:
    return [person.label for person in people.find_people(record, "")]


def add(record: Record, *labels: str) -> None:
    for label in labels:
        people.add_person(record, Person("", label))


def add_then_twice(record: Record, label: str) -> None:
    person = people.add_person(record, Person("", label))
    with record.write_tx():
        people.add_person(record, person)


def test_what_fails_takes_back_all_of_its_transaction(record: Record) -> None:
    with pytest.raises(RecordFault), record.write_tx():
        add(record, "R.K.", " ")
    assert everybody(record) == []
    assert not record.db.in_transaction


def test_a_part_that_fails_takes_back_its_own_only(record: Record) -> None:
    with record.write_tx():
        people.add_person(record, Person("", "R.K."))
        with pytest.raises(RecordFault), record.write_tx():
            add(record, "T.M.", " ")
        people.add_person(record, Person("", "A.O."))
    assert everybody(record) == ["A.O.", "R.K."]


def test_a_part_that_fails_takes_back_all_in_a_record_that_is_not_saved_yet(
    clock: SetClock, tmp_path: Path
) -> None:
    with open_in_memory(clock, tmp_path / "record.sqlite") as record:
        add(record, "R.K.")
        with pytest.raises(RecordFault), record.write_tx():
            add_then_twice(record, "T.M.")
        assert everybody(record) == ["R.K."]
        assert not record.db.in_transaction


def test_a_transaction_begins_by_taking_the_right_to_write(record: Record, clock: SetClock) -> None:
    """A deferred BEGIN would read first, and fail at its first write when another window wrote meanwhile."""
    with record.write_tx(), closing(sqlite3.connect(record.path, timeout=0)) as tool:
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            tool.execute("BEGIN IMMEDIATE")
        with open_record(record.path, clock, read_only=True) as reader:
            assert everybody(reader) == []


def test_another_window_is_noticed_once(record: Record, clock: SetClock) -> None:
    assert not record.changed_elsewhere()
    people.add_person(record, Person("", "R.K."))
    assert not record.changed_elsewhere(), "a window's own writes are no news to it"
    with open_record(record.path, clock) as other:
        people.add_person(other, Person("", "T.M."))
        assert record.changed_elsewhere()
        assert not record.changed_elsewhere()
        assert everybody(record) == ["R.K.", "T.M."]


def test_a_window_that_is_still_writing_is_no_news_yet(
    record: Record, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a share a writer keeps readers out while it writes: the question is asked again later."""
    record.close()
    monkeypatch.setattr("store.record.file.on_share", lambda _: True)
    with open_record(record.path, clock, busy_ms=0) as one, closing(sqlite3.connect(record.path)) as tool:
        tool.execute("BEGIN EXCLUSIVE")
        tool.execute("CREATE TABLE x (y)")
        assert not one.changed_elsewhere()
        tool.commit()
        assert one.changed_elsewhere()


def test_two_windows_write_in_turn(record: Record, clock: SetClock) -> None:
    with open_record(record.path, clock) as other:
        for n in range(20):
            people.add_person(record, Person("", f"a{n:02}"))
            people.add_person(other, Person("", f"b{n:02}"))
    assert len(everybody(record)) == 40


def test_a_record_opened_to_read_refuses_to_write(record: Record, clock: SetClock) -> None:
    with open_record(record.path, clock, read_only=True) as reader:
        with pytest.raises(RecordFault, match="may only be read") as refused:
            people.add_person(reader, Person("", "R.K."))
        assert refused.value.kind is FaultKind.READ_ONLY
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            reader.db.execute("CREATE TABLE x (y)")


def test_a_mistake_of_the_program_is_no_fault_of_the_file(record: Record) -> None:
    with pytest.raises(sqlite3.OperationalError, match="no such table"):
        record.read("SELECT * FROM tpyo", {})
