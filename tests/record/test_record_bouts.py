"""Bouts come back whole, their events one after the other, and a bout goes on in one window only."""

from __future__ import annotations

from datetime import timedelta

import pytest

from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import BoutRow, Moment, Visit
from store.record import bouts
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_record
from tests.record.made import event, hold, lunge


@pytest.fixture
def bout(record: Record, visit: Visit, clock: SetClock) -> BoutRow:
    return bouts.add_bout(record, hold(visit, clock))


def test_a_bout_comes_back_as_added(record: Record, visit: Visit, clock: SetClock) -> None:
    whole = hold(visit, clock)._replace(moment=Moment.AFTER, ended=clock.now(), retracted=clock.now())
    kept = bouts.add_bout(record, whole)
    assert kept == whole._replace(id=kept.id, revision=kept.revision)
    assert bouts.bout(record, kept.id) == kept
    assert bouts.bout(record, "no such") is None


def test_events_come_back_in_order_as_added(record: Record, bout: BoutRow, clock: SetClock) -> None:
    happened = [event(bout, clock, seq) for seq in (1, 2, 3)]
    bouts.add_event(record, happened[0])
    bouts.add_events(record, happened[1:])
    assert bouts.events_of(record, bout.id) == happened
    assert bouts.events_of(record, "no such") == []


def test_an_event_is_on_disk_when_it_counts(record: Record, bout: BoutRow, clock: SetClock) -> None:
    bouts.add_event(record, event(bout, clock, 1))
    with open_record(record.path, clock, read_only=True) as other:
        assert bouts.events_of(other, bout.id) == [event(bout, clock, 1)]


@pytest.mark.parametrize("seq", [1, 3, 0])
def test_a_number_used_or_left_out_shows_another_window(
    record: Record, bout: BoutRow, clock: SetClock, seq: int
) -> None:
    bouts.add_event(record, event(bout, clock, 1))
    with pytest.raises(RecordFault, match="another window") as other:
        bouts.add_event(record, event(bout, clock, seq, "lost"))
    assert other.value.kind is FaultKind.CHANGED
    assert bouts.events_of(record, bout.id) == [event(bout, clock, 1)]


def test_the_first_event_may_not_be_the_second(record: Record, bout: BoutRow, clock: SetClock) -> None:
    with pytest.raises(RecordFault, match="another window"):
        bouts.add_event(record, event(bout, clock, 2))


def test_of_several_events_all_are_kept_or_none(record: Record, bout: BoutRow, clock: SetClock) -> None:
    with pytest.raises(RecordFault):
        bouts.add_events(record, [event(bout, clock, 1), event(bout, clock, 3)])
    assert bouts.events_of(record, bout.id) == []


def test_a_wall_clock_set_back_within_a_bout_is_kept_as_it_was(
    record: Record, bout: BoutRow, clock: SetClock
) -> None:
    first = event(bout, clock, 1)
    back = Stamp(first.wall_at.at - timedelta(hours=2), 60)
    second = event(bout, clock, 2)._replace(wall_at=back)
    bouts.add_events(record, [first, second])
    assert bouts.events_of(record, bout.id) == [first, second]


def test_unfinished_bouts_are_found_until_ended_or_retracted(
    record: Record, visit: Visit, bout: BoutRow, clock: SetClock
) -> None:
    clock.move(60)
    second = bouts.add_bout(record, hold(visit, clock))
    for found in (
        bouts.unfinished_bouts(record),
        bouts.unfinished_bouts(record, person=visit.person),
        bouts.unfinished_bouts(record, episode=visit.episode),
        bouts.unfinished_bouts(record, person=visit.person, episode=visit.episode),
    ):
        assert found == [bout, second]
    assert bouts.unfinished_bouts(record, person="no such") == []
    assert bouts.unfinished_bouts(record, episode="no such") == []
    ended = bouts.revise_bout(record, bout._replace(ended=clock.now()), by="AB", because="ended")
    bouts.revise_bout(record, second._replace(retracted=clock.now()), by="AB", because="undo")
    assert bouts.unfinished_bouts(record) == []
    assert bouts.bouts_of_visit(record, visit.id) == [ended]


def test_readings_of_a_bout(record: Record, visit: Visit, bout: BoutRow, clock: SetClock) -> None:
    from store.knowledge.words import Side
    from store.record.readings import add_readings, readings_of_bout

    made = lunge(visit, clock, Side.LEFT, 30.0)._replace(bout=bout.id, measure="stance_open", unit="s")
    [kept] = add_readings(record, [made])
    assert readings_of_bout(record, bout.id) == [kept]
