"""Every activity's bout, at its usual dose, run to its end by the pedal and a set clock."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from store.care import timing
from store.care.dose_words import dose_words
from store.care.timing import LiveBout, Mode, Question
from store.knowledge.load import load
from store.knowledge.words import BoutKind, Side
from store.record.bouts import bout, events_of
from tests.care.bouts import Ward, ward

ACTIVITIES = load().activities
BY_PEDAL = (BoutKind.COUNTED, BoutKind.REACHES)
AS_MANY_AS_CAN_BE = 12
STEP_S = 4.0  # less than what counts as a gap


@pytest.fixture(scope="module")
def at(tmp_path_factory: pytest.TempPathFactory) -> Ward:
    return quick_disk(ward(tmp_path_factory.mktemp("ward")))


def quick_disk(own: Ward) -> Ward:
    """Hours of bouts are kept here: that each write is flushed is tested elsewhere."""
    own.care.record.db.execute("PRAGMA synchronous = OFF")
    return own


def to_the_next(at: Ward, live: LiveBout) -> None:
    """Let time go on to what falls due next, in steps that a heartbeat would have."""
    due_ms = live.next_due_ms()
    left_s = STEP_S if due_ms is None else live.ticks_at(due_ms) - at.care.clock.ticks()
    at.clock.move(min(max(left_s, 0.001), STEP_S) if live.state.mode is not Mode.WORKING else STEP_S)
    live.tick()


def run_to_its_end(at: Ward, live: LiveBout) -> None:
    """By the pedal only, and the figures that are asked for after a set."""
    for _ in range(4000):
        view = live.look()
        if view.mode is Mode.DONE and not view.questions:
            return
        for asked in view.questions:
            live.control(3) if asked is Question.CONTROL else live.pain(0)
        if view.mode is Mode.READY or (view.mode is Mode.REST and view.rest_over):
            at.go(live, 1)
            live.press()
        elif view.mode is Mode.WORKING and view.kind in BY_PEDAL:
            at.go(live, 2)
            if not view.reps and view.reps_done == AS_MANY_AS_CAN_BE:
                live.end_set()
            else:
                live.press()
        else:
            to_the_next(at, live)
    raise AssertionError(f"{live.plan.name} does not come to an end")


@pytest.mark.parametrize("activity_id", list(ACTIVITIES))
def test_every_activity_is_run_to_its_end_and_says_what_came_of_it(at: Ward, activity_id: str) -> None:
    activity = ACTIVITIES[activity_id]
    live = at.begin(activity_id)
    live.pressed_before()
    run_to_its_end(at, live)
    done, planned = live.so_far().done, live.so_far().planned
    assert done.sets == planned.sets == len(live.plan.turns)
    assert done.reps == planned.reps or not planned.reps
    assert all(result.complete for result in live.state.done)
    assert activity.kind in BY_PEDAL or done.seconds >= planned.seconds
    ended = live.end()
    assert ended.kept
    assert ended.says.startswith(f"saved {activity.name}: ")
    row = bout(at.care.record, live.row.id)
    assert row is not None
    told = timing.bout_text(at.care, row)
    assert told != timing.NOTHING_DONE
    for side in live.plan.sides:
        assert str(side or "") in told
    assert bool(ended.readings) is bool(activity.measure)
    again = timing.bout_state(at.care, row)[1]
    assert again == live.state
    assert events_of(at.care.record, row.id)


@pytest.mark.parametrize(
    ("activity", "asked", "dose", "told"),
    [
        ("glide_3", {}, "2 x 2 min, right", "right 2 x 2 min, pain 0 0"),
        ("walk_run", {"reps": 1}, "5 x walk 4 run 1 min", "walk 4 min, run 1 min, pain 0"),
        ("reaches", {}, "2 x 5 each way a side", "left 2 x 15; right 2 x 15"),
        ("hop_hold_short", {}, "2 x 10 hops, right", "right 20 of 20 hops without a fault, pain 0 0"),
        ("brisk_walk", {"hold_s": 150}, "30 min", "2 min 30 s, pain 0"),
        ("calf_stretch_bent", {}, "3 x 30 s, right", "right 3 x 30 s, pain 0 0 0"),
    ],
)
def test_dose_and_outcome_in_words(
    tmp_path: Path, activity: str, asked: dict[str, Any], dose: str, told: str
) -> None:
    own = quick_disk(ward(tmp_path))
    assert dose_words(ACTIVITIES[activity], Side.RIGHT) == dose
    live = own.begin(activity, **asked)
    run_to_its_end(own, live)
    live.end()
    row = bout(own.care.record, live.row.id)
    assert row is not None
    assert timing.bout_text(own.care, row) == told
