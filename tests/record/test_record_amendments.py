"""A correction keeps the original: through our functions, through any SQLite tool, and to the last digit."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Amendment, Side, Visit
from store.record import bouts, examiners, readings
from store.record.amendments import amendments_of
from store.record.check import check
from store.record.file import Record
from store.record.schema import APPEND_ONLY, CLINICAL
from tests.record.made import event, fill_later_tables, hold, lunge

Tool = sqlite3.Connection


@pytest.fixture
def filled(record: Record, visit: Visit, clock: SetClock) -> Record:
    """A record with a row in every table."""
    examiners.add_examiner(record, "AB")
    bout = bouts.add_bout(record, hold(visit, clock))
    bouts.add_event(record, event(bout, clock, 1))
    [reading] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    readings.retract_readings(record, [reading.id], by="AB", because="undo")
    fill_later_tables(record, visit, clock)
    return record


def rows(db: sqlite3.Connection, table: str) -> list[tuple[object, ...]]:
    return db.execute(f"SELECT * FROM {table}").fetchall()


def test_the_original_and_the_reason_are_kept(record: Record, visit: Visit, clock: SetClock) -> None:
    [first] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    clock.move(90)
    second = readings.revise_reading(record, first._replace(value=12.0), by="CD", because="misread the tape")
    at_second = clock.now()
    clock.move(90)
    [third] = readings.retract_readings(record, [first.id], by="AB", because="swapped sides")
    kept = amendments_of(record, "reading", first.id)
    assert [(one.revision, one.by, one.because, one.at) for one in kept] == [
        (second.revision, "CD", "misread the tape", at_second),
        (third.revision, "AB", "swapped sides", clock.now()),
    ]
    assert [one.was["value"] for one in kept] == [10.2, 12.0]
    assert [one.was["revision"] for one in kept] == [first.revision, second.revision]
    assert kept[0].was["trials"] == "[]"
    assert set(kept[0].was) == {row[1] for row in record.db.execute("PRAGMA table_info(reading)")}
    assert amendments_of(record, "reading", "no such") == []


def test_what_was_is_kept_to_the_last_digit(record: Record, visit: Visit, clock: SetClock) -> None:
    chance = random.Random(2026)
    values = [chance.uniform(-1, 1) * 10 ** chance.randint(-12, 12) for _ in range(300)]
    given = [lunge(visit, clock, Side.LEFT, value) for value in values]
    kept = readings.add_readings(record, given)
    readings.retract_readings(record, [one.id for one in kept], by="AB", because="undo")
    assert [amendments_of(record, "reading", one.id)[0].was["value"] for one in kept] == values


@pytest.mark.parametrize("table", CLINICAL)
def test_no_tool_changes_a_clinical_row_without_a_later_revision(filled: Record, table: str) -> None:
    before = rows(filled.db, table)
    with closing(sqlite3.connect(filled.path)) as tool:
        for change in ("revised_by = 'x'", "revised_by = 'x', revision = '0'", "id = 'x', revision = 'z'"):
            with pytest.raises(sqlite3.IntegrityError, match="amended under a new, later revision"):
                tool.execute(f"UPDATE {table} SET {change}")
        with pytest.raises(sqlite3.IntegrityError):
            tool.execute(f"UPDATE OR REPLACE {table} SET revised_by = 'x'")
    assert rows(filled.db, table) == before != []


@pytest.mark.parametrize("table", CLINICAL)
def test_a_tool_that_gives_a_later_revision_leaves_the_original_behind(filled: Record, table: str) -> None:
    names = [row[1] for row in filled.db.execute(f"PRAGMA table_info({table})")]
    before = dict(zip(names, rows(filled.db, table)[0], strict=True))
    with closing(sqlite3.connect(filled.path)) as tool:
        tool.execute(
            f"UPDATE {table} SET revision = ?, revised_by = 'x', revised_because = 'y'", (filled.new_id(),)
        )
        tool.commit()
    last: Amendment = amendments_of(filled, table, before["id"])[-1]
    assert last.was == before
    assert (last.by, last.because) == ("x", "y")
    assert check(filled) == []


@pytest.mark.parametrize("table", CLINICAL + APPEND_ONLY)
def test_no_tool_deletes_or_replaces_a_row(filled: Record, table: str) -> None:
    before = rows(filled.db, table)
    with closing(sqlite3.connect(filled.path)) as tool:
        tool.execute("PRAGMA recursive_triggers = OFF")  # with it, REPLACE would fire the delete trigger by itself
        for change in (f"DELETE FROM {table}", f"REPLACE INTO {table} SELECT * FROM {table}"):
            with pytest.raises(sqlite3.IntegrityError, match=r"never|there already"):
                tool.execute(change)
    assert rows(filled.db, table) == before != []


@pytest.mark.parametrize("change", ["UPDATE bout_event SET kind = 'x'", "UPDATE amendment SET was = '{}'"])
def test_events_and_amendments_are_never_changed(filled: Record, change: str) -> None:
    with (
        closing(sqlite3.connect(filled.path)) as tool,
        pytest.raises(sqlite3.IntegrityError, match="never changed"),
    ):
        tool.execute(change)


def test_a_clock_set_back_still_makes_a_later_revision(
    record: Record, visit: Visit, clock: SetClock, set_back: Callable[[], None]
) -> None:
    [first] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    set_back()
    second = readings.revise_reading(record, first._replace(value=12.0), by="AB", because="misread")
    assert second.revision > first.revision
    assert check(record) == []


@pytest.fixture
def set_back(record: Record, clock: SetClock) -> Callable[[], None]:
    """The clock goes back a year, and the program is started again, so that it remembers no identifier."""
    from store.record.uuid7 import Ids

    def back() -> None:
        clock.put(clock.now().at.replace(year=2025))
        record.ids = Ids()

    return back
