"""What was stopped for pain says so where it is offered again: before its start, and in the plan of a visit."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from store.care import ending, visits
from store.care.bout_setting import setting
from store.care.timing import LiveBout
from store.care.undoing import undo
from store.care.visit_view import view
from tests.care.bouts import NOW, Ward, ward


def done(at: Ward, activity: str, *pains: int, sets: int = 3) -> LiveBout:
    """A bout with these pains after its sets, ended after so many of three."""
    live = at.begin(activity, sets=3)
    at.start(live)
    for n in range(sets):
        at.go(live, 70)
        if pains[n : n + 1]:
            live.pain(pains[n])
        if n + 1 < sets:
            at.go(live, 1)
            live.press()
    live.end()
    return live


def next_visit(at: Ward) -> None:
    """Two days later."""
    ending.end_visit(at.care, at.care.visit(at.visit.id))
    at.clock.put(NOW + timedelta(days=2))
    at.visit = visits.start_visit(at.care, at.care.episode(at.visit.episode or ""))


def told(at: Ward, activity: str = "mobilisation_belt") -> str:
    return setting(at.care, at.visit.id, activity).last_time


def minded(at: Ward, activity: str) -> str:
    return next(one.minds for one in view(at.care, at.visit.id).lines if one.line.step.ref == activity)


def test_a_technique_with_pain_told_twice_says_so_in_the_next_visit(tmp_path: Path) -> None:
    at = ward(tmp_path)
    done(at, "mobilisation_belt", 1, 3, sets=2)
    next_visit(at)
    assert told(at) == "last time, 25 Nov: stopped, pain 3"
    assert minded(at, "mobilisation_belt") == "last time stopped, pain 3"
    done(at, "mobilisation_belt", 0, 0, 0)
    assert told(at) == "", "the newest bout counts"


def test_one_that_went_on_to_its_end_all_the_same_was_told_to_stop(tmp_path: Path) -> None:
    at = ward(tmp_path)
    done(at, "mobilisation_belt", 2, 1, 0)
    next_visit(at)
    assert told(at) == "last time, 25 Nov: told to stop, pain 2"


def test_more_pain_than_is_allowed_stopped_it_and_less_did_not(tmp_path: Path) -> None:
    at = ward(tmp_path)
    done(at, "hold_firm", 0, 6, sets=2)
    assert told(at, "hold_firm") == "last time, 25 Nov: stopped, pain 6"
    done(at, "hold_firm", 0, 5, sets=2)
    assert told(at, "hold_firm") == ""


def test_pain_told_once_and_a_bout_that_was_taken_back_tell_nothing(tmp_path: Path) -> None:
    at = ward(tmp_path)
    done(at, "mobilisation_belt", 0, 2, 0)
    assert told(at) == ""
    done(at, "mobilisation_belt", 2, 2, sets=2)
    assert told(at) == "last time, 25 Nov: stopped, pain 2"
    for _ in range(2):
        undo(at.care, at.care.visit(at.visit.id))
    assert told(at) == ""
