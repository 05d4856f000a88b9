"""Readings come back as they were given, and lists leave out what was retracted."""

from __future__ import annotations

import math
from typing import Any

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Moment, Person, Reading, Side, Status, Visit
from store.record import readings
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record
from tests.record.made import lunge


@pytest.fixture
def whole(visit: Visit, clock: SetClock) -> Reading:
    """A reading with every field filled."""
    return Reading(
        id="",
        person=visit.person,
        measure="lunge",
        unit="cm",
        taken=clock.now(),
        side=Side.LEFT,
        value=10.433333333333334,
        moment=Moment.BEFORE,
        trials=(10.2, 10.5, 10.6),
        conditions=("brace", "shoe"),
        episode=visit.episode,
        visit=visit.id,
        examiner="AB",
        note='heel lifted "once" – 5 µm; naïve',
        protocol="knee over second toe",
        blind=True,
    )


def test_a_reading_comes_back_as_it_was_given(record: Record, whole: Reading) -> None:
    [kept] = readings.add_readings(record, [whole])
    assert kept == whole._replace(id=kept.id, revision=kept.revision)
    assert readings.reading(record, kept.id) == kept
    assert record.db.execute(
        "SELECT taken_at, taken_on, taken_offset_min, trials, conditions FROM reading"
    ).fetchone() == (
        "2026-11-25T09:38:00.000Z",
        "2026-11-25",
        60,
        "[10.2, 10.5, 10.6]",
        '["brace", "shoe"]',
    )


def test_unable_and_cap_reached_are_kept_as_such(record: Record, whole: Reading) -> None:
    unable = whole._replace(value=None, status=Status.UNABLE, trials=())
    capped = whole._replace(value=30.0, status=Status.CAP, measure="stance_open", unit="s", trials=(30.0,))
    kept = readings.add_readings(record, [unable, capped])
    assert [readings.reading(record, one.id) for one in kept] == kept


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"value": None}, "a reading has a value, unless unable"),
        ({"value": math.nan}, "a reading has a value, unless unable"),
        ({"value": math.inf}, "value is a finite number"),
        ({"value": 3.0, "status": Status.UNABLE}, "a reading has a value, unless unable"),
        ({"trials": (1.0, math.nan)}, "not finite"),
        ({"measure": ""}, "a reading is of a measure"),
        ({"person": "nobody"}, "refers to something that is not in the record"),
    ],
)
def test_what_cannot_be_is_refused_with_the_rule_and_nothing_is_kept(
    record: Record, whole: Reading, change: dict[str, Any], words: str
) -> None:
    wrong = whole._replace(**change)
    with pytest.raises(RecordFault, match=words) as refused:
        readings.add_readings(record, [whole, wrong])
    assert refused.value.kind is FaultKind.REFUSED
    assert readings.readings_of_person(record, whole.person) == []


def test_retracted_readings_are_left_out_of_lists_and_stay_in_the_file(
    record: Record, visit: Visit, clock: SetClock
) -> None:
    first, second = readings.add_readings(
        record, [lunge(visit, clock, Side.LEFT, 10.2), lunge(visit, clock, Side.RIGHT, 4.8)]
    )
    clock.move(60)
    [gone] = readings.retract_readings(record, [second.id], by="AB", because="swapped")
    assert gone.retracted == clock.now()
    assert gone.revision > second.revision
    assert readings.readings_of_visit(record, visit.id) == [first]
    assert readings.readings_of_visit(record, visit.id, "lunge") == [first]
    assert readings.readings_of_visit(record, visit.id, "girth") == []
    assert readings.readings_of_person(record, visit.person) == [first]
    assert readings.reading(record, second.id) == gone


def test_retracting_twice_changes_nothing_more(record: Record, visit: Visit, clock: SetClock) -> None:
    [one] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    [gone] = readings.retract_readings(record, [one.id], by="AB", because="undo")
    assert readings.retract_readings(record, [one.id], by="AB", because="undo") == [gone]


def test_retracting_the_unknown_keeps_the_others_standing(record: Record, visit: Visit, clock: SetClock) -> None:
    [one] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    with pytest.raises(RecordFault, match="not in the record"):
        readings.retract_readings(record, [one.id, "no such"], by="AB", because="undo")
    assert readings.readings_of_visit(record, visit.id) == [one]


def test_the_sides_of_a_measure_read_in_a_visit(record: Record, visit: Visit, clock: SetClock) -> None:
    both = [lunge(visit, clock, side, 10.2, Moment.BEFORE) for side in Side]
    again = lunge(visit, clock, Side.RIGHT, 10.6, Moment.AFTER)
    *_, gone, pain = readings.add_readings(
        record,
        [*both, again, again._replace(side=Side.LEFT), again._replace(measure="pain_now", unit="0-10", side=None)],
    )
    readings.retract_readings(record, [gone.id], by="AB", because="undo")
    assert readings.sides_of_visit(record, visit.id, "lunge") == ({Side.LEFT, Side.RIGHT}, {Side.RIGHT})
    assert readings.sides_of_visit(record, visit.id, pain.measure) == (set(), {None})
    assert readings.sides_of_visit(record, visit.id, "girth") == (set(), set())


def test_readings_of_one_measure_of_a_person(record: Record, visit: Visit, clock: SetClock) -> None:
    pain = Reading("", visit.person, "pain_now", "0-10", clock.now(), None, 2.0)
    [kept, _] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2), pain])
    assert readings.readings_of_person(record, visit.person, "lunge") == [kept]


def test_the_last_saved_is_all_that_was_saved_with_it(record: Record, visit: Visit, clock: SetClock) -> None:
    assert readings.last_saved(record, visit.id) == []
    [first] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 9.0)])
    pair = readings.add_readings(
        record, [lunge(visit, clock, Side.LEFT, 10.2), lunge(visit, clock, Side.RIGHT, 4.8)]
    )
    assert readings.last_saved(record, visit.id) == pair
    readings.retract_readings(record, [one.id for one in pair], by="AB", because="undo")
    assert readings.last_saved(record, visit.id) == [first]


def test_what_was_changed_in_another_window_is_not_overwritten(
    record: Record, visit: Visit, clock: SetClock
) -> None:
    [one] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 9.0)])
    theirs = readings.revise_reading(record, one._replace(value=9.5), by="CD", because="misread")
    with pytest.raises(RecordFault, match="changed in another window") as stale:
        readings.revise_reading(record, one._replace(value=8.0), by="AB", because="misread")
    assert stale.value.kind is FaultKind.CHANGED
    assert readings.reading(record, one.id) == theirs


def test_a_correction_needs_its_reason(record: Record, visit: Visit, clock: SetClock) -> None:
    [one] = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 9.0)])
    with pytest.raises(ValueError, match="reason"):
        readings.revise_reading(record, one._replace(value=8.0), by="AB", because=" ")


def test_no_readings_are_no_transaction(record: Record, person: Person) -> None:
    assert readings.add_readings(record, []) == []
    assert readings.readings_of_person(record, person.id) == []
