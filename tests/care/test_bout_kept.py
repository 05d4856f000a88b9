from __future__ import annotations

from pathlib import Path

from store.care import timing
from store.care.bout_kept import becomes
from store.care.timing import LiveBout
from store.knowledge.words import BoutRow, Side, Status
from store.record import bouts, readings
from tests.care.bouts import Ward, ward


def row_of(at: Ward, live: LiveBout) -> BoutRow:
    row = bouts.bout(at.care.record, live.row.id)
    assert row is not None
    return row


def hold_until(at: Ward, live: LiveBout, seconds: float) -> None:
    at.start(live)
    at.go(live, seconds)
    live.press()
    at.go(live, 1)


def taken(at: Ward) -> dict[Side | None, tuple[float | None, Status, tuple[float, ...]]]:
    found = readings.readings_of_visit(at.care.record, at.visit.id)
    return {one.side: (one.value, one.status, one.trials) for one in found if one.bout}


def test_a_stance_to_its_own_protocol_becomes_readings(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("stance_open_test")
    for seconds in (30.0, 44.9, 41.0, 12.5, 15.2, 9.0):
        hold_until(at, live, seconds)
    ended = live.end()
    assert taken(at) == {
        Side.LEFT: (44.9, Status.MEASURED, (30.0, 44.9, 41.0)),
        Side.RIGHT: (15.2, Status.MEASURED, (12.5, 15.2, 9.0)),
    }
    assert ended.says == "saved stance test, eyes open: 6 trials, 152.6 s under load; kept as a reading"
    assert {one.protocol for one in ended.readings} == {"arms_crossed_cap_45"}


def test_a_side_with_too_few_trials_is_no_reading_unless_it_reached_the_cap(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("stance_open_test")
    at.start(live)
    at.go(live, 46)
    at.go(live, 1)
    hold_until(at, live, 44)
    hold_until(at, live, 45)
    hold_until(at, live, 12)
    ended = live.end()
    assert taken(at) == {Side.LEFT: (45.0, Status.CAP, (45.0, 44.0, 45.0))}
    assert ended.says.endswith("; kept as a reading. No reading where 1 of 3 trials was done on the right.")


def test_one_trial_at_the_cap_settles_the_best_of_three(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("stance_open_test")
    at.start(live)
    at.go(live, 46)
    live.end()
    assert taken(at) == {Side.LEFT: (45.0, Status.CAP, (45.0,))}


def test_another_dose_than_the_protocols_is_no_reading_and_says_why(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("stance_open_test", sets=1)
    hold_until(at, live, 20)
    hold_until(at, live, 10)
    says = live.end().says
    assert taken(at) == {}
    assert "No reading: It was planned otherwise than the measure's own protocol." in says


def test_the_heel_raise_test_counts_whole_raises_to_the_last_full_one(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("heel_raise_test")
    for count in (24, 9):
        at.start(live)
        for _ in range(count):
            at.clock.move(2)
            live.press()
        live.end_set()
        at.go(live, 1)
    live.end()
    assert {side: value for side, (value, _, _) in taken(at).items()} == {Side.LEFT: 24, Side.RIGHT: 9}


def test_nothing_done_is_retracted_and_says_so(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.go(live, 1)
    live.press()
    ended = live.end()
    assert not ended.kept
    assert ended.says == "mobilisation, belt: nothing was done, nothing kept"
    row = row_of(at, live)
    assert row.retracted is not None
    assert timing.unfinished(at.care, at.visit) == ()


def test_a_bout_in_the_few_words_of_a_plan_line(tmp_path: Path) -> None:
    at = ward(tmp_path)
    belt = at.begin("mobilisation_belt", sets=2, reps=2)
    for pain in (0, 1):
        at.start(belt)
        at.go(belt, 12)
        belt.pain(pain)
        at.go(belt, 1)
    assert timing.bout_text(at.care, row_of(at, belt)) == "right 2 x 2, pain 0 1"
    hold = at.begin("hold_firm", sets=1, hold_s=5)
    for faults in (0, 1):
        at.start(hold)
        at.go(hold, 1)
        for _ in range(faults):
            hold.press()
        at.go(hold, 5)
    assert timing.bout_text(at.care, row_of(at, hold)) == "left 1 hold, no fault; right 1 hold, 1 fault"
    shifts = at.begin("direction_shifts", duration_s=20)
    at.start(shifts)
    at.go(shifts, 1)
    shifts.press()
    at.go(shifts, 20)
    assert timing.bout_text(at.care, row_of(at, shifts)) == "right 3 of 4 in control"
    raises = at.begin("heel_raises")
    for count in (3, 2):
        at.start(raises)
        for _ in range(count):
            at.clock.move(1)
            raises.press()
        raises.end_set()
        at.go(raises, 1)
    assert timing.bout_text(at.care, row_of(at, raises)) == "right reps 3 2"


def test_before_it_ends_it_says_which_readings_it_makes(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("stance_open_test")
    at.start(live)
    at.go(live, 46)
    hold_until(at, live, 44)
    hold_until(at, live, 45)
    hold_until(at, live, 12)
    measure = at.care.knowledge.measures["stance_open"]
    assert becomes(live.so_far(), measure) == (
        "stance, eyes open left 45 s, cap reached, best of 3: becomes a reading",
        "No reading: 1 of 3 trials was done on the right.",
    )
    belt = at.begin("mobilisation_belt")
    assert becomes(belt.so_far(), None) == ()
