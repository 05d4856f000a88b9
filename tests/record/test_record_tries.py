"""Tries at what is practised: kept, amended as they go on, found by examiner, merged."""

from __future__ import annotations

import pytest

from store.knowledge.time import SetClock
from store.knowledge.tries import PracticeTry, TryKind
from store.record.amendments import amendments_of
from store.record.faults import RecordFault
from store.record.file import Record
from store.record.tries import TRY, tries_of


def new(clock: SetClock, **other: object) -> PracticeTry:
    one = PracticeTry("", TryKind.DRILL, "lunge", clock.now(), "AB", data={"ankles": 2, "values": [4.5]})
    return one._replace(**other)  # type: ignore[arg-type]  # by name


def test_a_try_comes_back_as_it_was_kept_and_its_steps_are_amendments(record: Record, clock: SetClock) -> None:
    kept = TRY.add(record, new(clock), by="AB")
    assert tries_of(record, "AB") == [kept]
    further = kept._replace(data={"ankles": 2, "values": [4.5, 9.0]}, ended=clock.now())
    further = TRY.revise(record, further, by="AB", because="it went on")
    assert tries_of(record, "AB") == [further]
    assert len(amendments_of(record, "practice_try", kept.id)) == 1


def test_the_newest_comes_first_and_others_examiners_tries_are_theirs(record: Record, clock: SetClock) -> None:
    first = TRY.add(record, new(clock), by="AB")
    clock.move(60)
    second = TRY.add(record, new(clock, kind=TryKind.CASE, ref="root"), by="AB")
    TRY.add(record, new(clock, examiner="CD"), by="CD")
    gone = TRY.add(record, new(clock), by="AB")
    TRY.retract(record, gone, by="AB", because="undo")
    assert [one.id for one in tries_of(record, "AB")] == [second.id, first.id]


def test_two_windows_do_not_overwrite_each_other(record: Record, clock: SetClock) -> None:
    kept = TRY.add(record, new(clock), by="AB")
    TRY.revise(record, kept._replace(data={"values": [1]}), by="AB", because="it went on")
    with pytest.raises(RecordFault, match="changed in another window"):
        TRY.revise(record, kept._replace(data={"values": [2]}), by="AB", because="it went on")
