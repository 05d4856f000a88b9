from __future__ import annotations

from pathlib import Path

import pytest

from store.care import visits
from store.care.faults import CareFault
from store.care.undoing import undo
from store.record import amendments, bouts, readings
from tests.care.begun import begun, walked


def test_the_last_thing_goes_first_whatever_it_was(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 home 5/7")
    now.line("girth l 51 r 52.3")
    walked(now.bout("mobilisation_belt"), now.clock, 80).end()
    now.line("heel l 20 r 7")
    assert undo(now.care, now.visit) == "took back heel raise left 20, right 7 reps"
    assert undo(now.care, now.visit) == "took back mobilisation, belt"
    assert now.line_of("mobilisation") == ("3 x 10, right", False)
    assert undo(now.care, now.visit) == "took back girth left 51.0, right 52.3 cm"
    assert undo(now.care, now.visit) == "took back what was said: pain 2 home 5/7"
    assert now.view.said == {}
    assert now.line_of("said")[1] is False
    with pytest.raises(CareFault, match="nothing to undo in this visit"):
        undo(now.care, now.visit)


def test_what_is_taken_back_stays_in_the_file(tmp_path: Path) -> None:
    now = begun(tmp_path)
    (saved,) = now.line("girth l 51").readings
    undo(now.care, now.visit)
    kept = readings.reading(now.care.record, saved.id)
    assert kept is not None
    assert kept.retracted is not None
    (was,) = amendments.amendments_of(now.care.record, "reading", saved.id)
    assert was.because == "taken back by undo"
    assert was.was["value"] == 51.0


def test_saying_it_again_is_taken_back_to_what_was_said_before(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 worst 4 gaveway 0")
    now.says("pain 5 gaveway 2 consent y")
    undo(now.care, now.visit)
    assert now.view.said == {"pain": "2", "worst": "4", "gaveway": "0"}
    assert now.visit.consent is None
    undo(now.care, now.visit)
    assert now.view.said == {}
    assert now.kept == []


def test_consent_that_was_given_by_itself_is_not_taken_back_with_what_was_said(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    agreed = visits.consent(now.care, now.visit)
    assert undo(now.care, now.visit) == "took back what was said: pain 2"
    assert now.visit.consent == agreed.consent is not None


def test_a_pain_that_was_undone_does_not_come_back(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("worst 4")
    now.line("pain_now 9")
    undo(now.care, now.visit)
    now.says("pain 3")
    undo(now.care, now.visit)
    assert now.view.said == {"worst": "4"}


def test_a_test_bout_goes_with_its_readings(tmp_path: Path) -> None:
    now = begun(tmp_path)
    live = now.bout("stance_closed_test")
    while live.look().mode != "done":
        live.press()
        for _ in range(8):
            now.clock.move(1)
            live.tick()
        live.press()
        now.clock.move(3)
        live.tick()
    live.end()
    assert [one.measure for one in now.kept] == ["stance_closed", "stance_closed"]
    assert undo(now.care, now.visit) == f"took back {live.plan.name}"
    assert now.kept == []
    assert bouts.bouts_of_visit(now.care.record, now.visit_id) == []


def test_nothing_is_undone_in_a_visit_that_has_ended(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51")
    visits.end_visit(now.care, now.visit)
    with pytest.raises(CareFault, match="has ended"):
        undo(now.care, now.visit)
