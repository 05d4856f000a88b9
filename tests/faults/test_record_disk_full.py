"""On a full disk nothing that was saved is lost, what was not saved is said, and it goes on when there is room."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person, Reading, Side, Visit
from store.record import people, readings, visits
from store.record.backup import backup
from store.record.check import check
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_record
from tests.faults.full import fill_up
from tests.record.made import lunge


def saved_until_full(record: Record, visit: Visit, clock: SetClock) -> list[Reading]:
    """Readings with long notes, saved one by one until one is refused; those that were acknowledged."""
    kept: list[Reading] = []
    long = lunge(visit, clock, Side.LEFT, 10.2)._replace(note="x" * 20_000)

    def save() -> None:
        while len(kept) < 5000:
            kept.extend(readings.add_readings(record, [long]))

    with pytest.raises(RecordFault) as fault:
        save()
    assert fault.value.kind is FaultKind.FULL
    assert str(fault.value) == (
        "The disk is full: this was not saved, all before it is safe. Free some space and save again."
    )
    return kept


@pytest.fixture
def visit(path: Path, clock: SetClock) -> Visit:
    with open_record(path, clock) as record:
        person = people.find_people(record, "")[0]
        return visits.add_visit(record, Visit("", person.id, clock.now()))


def test_a_file_that_may_not_grow(path: Path, clock: SetClock, visit: Visit) -> None:
    with open_record(path, clock) as record:
        (pages,) = record.db.execute("PRAGMA page_count").fetchone()
        record.db.execute(f"PRAGMA max_page_count = {pages + 20}")
        kept = saved_until_full(record, visit, clock)
        assert kept
        assert readings.readings_of_visit(record, visit.id) == kept
        assert check(record) == []
        record.db.execute(f"PRAGMA max_page_count = {pages + 2000}")
        kept += readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    with open_record(path, clock) as again:
        assert readings.readings_of_visit(again, visit.id) == kept


def test_of_several_readings_none_is_kept(path: Path, clock: SetClock, visit: Visit) -> None:
    many = [lunge(visit, clock, Side.LEFT, 10.2)._replace(note="x" * 20_000)] * 50
    with open_record(path, clock) as record:
        (pages,) = record.db.execute("PRAGMA page_count").fetchone()
        record.db.execute(f"PRAGMA max_page_count = {pages + 20}")
        with pytest.raises(RecordFault, match="The disk is full"):
            readings.add_readings(record, many)
        assert readings.readings_of_visit(record, visit.id) == []
        assert not record.db.in_transaction


def test_a_real_disk_that_is_full(small_disk: Path, clock: SetClock) -> None:
    ballast = small_disk / "ballast"
    ballast.write_bytes(b"x" * 500_000)
    with open_record(small_disk / "record.sqlite", clock, create=True) as record:
        person = people.add_person(record, Person("", "R.K."))
        visit = visits.add_visit(record, Visit("", person.id, clock.now()))
        kept = saved_until_full(record, visit, clock)
        assert kept
        assert readings.readings_of_visit(record, visit.id) == kept
        ballast.unlink()
        kept += readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
        assert check(record) == []
    with open_record(small_disk / "record.sqlite", clock) as again:
        assert readings.readings_of_visit(again, visit.id) == kept


def test_a_new_file_on_a_full_disk(small_disk: Path, clock: SetClock) -> None:
    fill_up(small_disk)
    path = small_disk / "record.sqlite"
    with pytest.raises(RecordFault, match="The disk is full"):
        open_record(path, clock, create=True)
    (small_disk / "ballast").unlink()
    with open_record(path, clock, create=True) as record:
        assert check(record) == []


def test_a_backup_to_a_full_disk_leaves_nothing_there(path: Path, small_disk: Path, clock: SetClock) -> None:
    fill_up(small_disk)
    with open_record(path, clock) as record:
        with pytest.raises(RecordFault, match="The disk is full"):
            backup(record, small_disk)
        assert check(record) == []
    assert [each.name for each in small_disk.iterdir()] == ["ballast"]
