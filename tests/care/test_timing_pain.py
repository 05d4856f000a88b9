"""How much pain stops a bout, and that it stands in the file with what it stopped."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from store.bout.plan import BoutPlan
from store.care import timing
from store.care.timing import LiveBout, Mode
from store.knowledge.words import BoutRow
from store.record import bouts
from tests.care.bouts import Ward, ward


def row_of(at: Ward, live: LiveBout) -> BoutRow:
    row = bouts.bout(at.care.record, live.row.id)
    assert row is not None
    return row


# on disk first


def test_too_much_pain_stops_what_runs_and_stands_in_the_file_with_it(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.start(live)
    at.go(live, 10)
    live.pain(8)
    view = live.look()
    assert (view.mode, view.advice) == (Mode.PAUSED, "change the glide")
    assert view.sentence == "Pain 8: stopped. Press space to go on."
    reps = view.reps_done
    at.go(live, 30)
    assert live.look().reps_done == reps
    assert timing.bout_state(at.care, row_of(at, live))[1] == live.state
    live.undo()
    assert live.look().mode is Mode.PAUSED, "taking the figure back starts nothing"
    live.press()
    at.go(live, 6)
    assert live.look().reps_done == reps + 1


@pytest.mark.parametrize(("n", "mode"), [(5, Mode.WORKING), (6, Mode.PAUSED)])
def test_where_some_pain_is_allowed_more_than_five_stops_it(tmp_path: Path, n: int, mode: Mode) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    at.start(live)
    at.go(live, 3)
    live.pain(n)
    assert live.look().mode is mode


def test_pain_in_a_rest_lets_the_rest_run_on(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.start(live)
    at.go(live, 61)
    live.pain(9)
    assert live.look().mode is Mode.REST


def test_events_stand_in_the_file_at_once(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("heel_raises")
    at.start(live)
    live.press()
    path = at.care.record.path
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True) as outside:
        kinds = [kind for (kind,) in outside.execute("SELECT kind FROM bout_event ORDER BY seq")]
    outside.close()
    assert kinds[-1] == "counted_rep"


def test_the_pain_that_stops_a_bout_is_the_one_that_the_knowledge_gives(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("walk_run")
    assert live.plan.most_pain == 2
    at.start(live)
    live.pain(2)
    assert live.state.running
    live.pain(3)
    assert live.state.mode is Mode.PAUSED
    assert at.begin("heel_raises").plan.most_pain == 5


def test_a_bout_kept_before_the_figure_stood_in_its_plan_runs_under_the_one_of_then(tmp_path: Path) -> None:
    data = ward(tmp_path).begin("heel_raises").plan.as_data()
    del data["most_pain"]
    assert BoutPlan.from_data(data).most_pain == 5
