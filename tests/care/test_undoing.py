from __future__ import annotations

from pathlib import Path

import pytest

from store.care import putting_right, visits
from store.care.faults import CareFault
from store.care.timing import Mode, reopen, unfinished
from store.care.undoing import undo
from store.knowledge.words import Moment, Step
from store.record import amendments, bouts, readings
from store.record import visits as visits_kept
from tests.care.begun import begun, walked


def test_the_last_thing_goes_first_whatever_it_was(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 home 5/7")
    now.line("girth l 51 r 52.3")
    walked(now.bout("mobilisation_belt"), now.clock, 80).end()
    now.line("heel l 20 r 7")
    assert undo(now.care, now.visit) == "took back heel raise left 20, right 7 reps"
    assert undo(now.care, now.visit) == (
        "opened again, paused: mobilisation, belt, right 1 x 10. u again takes back all of this bout"
    )
    assert undo(now.care, now.visit) == ("took back this bout, mobilisation, belt, right 1 x 10")
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
    assert undo(now.care, now.visit).startswith(f"opened again: {live.plan.name}, left ")
    assert now.kept == []
    assert undo(now.care, now.visit).startswith(f"took back this bout, {live.plan.name}, left ")
    assert bouts.bouts_of_visit(now.care.record, now.visit_id) == []


def test_a_bout_ended_by_mistake_goes_on_where_it_was_and_ends_once_more(tmp_path: Path) -> None:
    now = begun(tmp_path)
    live = walked(now.bout("mobilisation_belt"), now.clock, 30)
    was = live.state.current
    live.end()
    undo(now.care, now.visit)
    assert now.line_of("mobilisation")[1] is False
    (left,) = unfinished(now.care, now.visit)
    again = reopen(now.care, left)
    assert again.state.mode is Mode.PAUSED
    assert again.state.current == was
    walked(again, now.clock, 70)
    again.pain(1)
    assert again.end().kept
    assert now.line_of("mobilisation")[1] is True
    (one,) = bouts.bouts_of_visit(now.care.record, now.visit_id)
    assert one.ended is not None
    assert undo(now.care, now.visit).startswith("opened again, paused: mobilisation, belt, right 1 x 10, pain 1")


def test_a_bout_opened_again_and_gone_on_with_is_not_taken_back_unseen(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51")
    walked(now.bout("mobilisation_belt"), now.clock, 30).end()
    undo(now.care, now.visit)
    (left,) = unfinished(now.care, now.visit)
    again = walked(reopen(now.care, left), now.clock, 20)
    again.leave()
    assert undo(now.care, now.visit) == "took back girth left 51.0 cm"
    assert unfinished(now.care, now.visit) != ()


def test_what_a_bout_opened_again_came_to_is_not_told_while_its_re_test_waits(tmp_path: Path) -> None:
    now = begun(tmp_path)
    plan = (Step("test", "measure", "heel_raise", 3), Step("again", "retest", "heel_raise", 3))
    visit = visits_kept.revise_visit(now.care.record, now.visit._replace(plan=plan), by="AB", because="a test")
    live = walked(now.bout("heel_raise_test"), now.clock, 5)
    live.press()
    live.end()
    assert undo(now.care, visit) == ("opened again, paused: heel raise test. u again takes back all of this bout")


def test_a_visit_opened_again_goes_on_and_what_was_in_sight_is_no_longer_blind(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 10.2 10.2 r 4.9 4.9 4.9 before")
    visits.end_visit(now.care, now.visit)
    assert visits.open_again(now.care, now.visit).ended is None
    now.line("lunge l 10.2 10.2 10.2 r 6.4 6.4 6.4 after")
    assert [one.blind for one in now.kept if one.moment is Moment.AFTER] == [False, False]
    assert undo(now.care, now.visit).startswith("took back lunge")


def test_a_visit_is_opened_again_on_its_own_day_alone_and_beside_no_other(tmp_path: Path) -> None:
    now = begun(tmp_path)
    with pytest.raises(CareFault, match="no ending to take back"):
        visits.open_again(now.care, now.visit)
    visits.end_visit(now.care, now.visit)
    other = visits.start_visit(now.care, now.episode)
    with pytest.raises(CareFault, match="another visit of this episode goes on"):
        visits.open_again(now.care, now.visit)
    visits.end_visit(now.care, other)
    now.clock.move(24 * 3600)
    with pytest.raises(CareFault, match="on an earlier day"):
        visits.open_again(now.care, now.visit)


def test_nothing_is_undone_in_a_visit_that_has_ended(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51")
    visits.end_visit(now.care, now.visit)
    with pytest.raises(CareFault, match="has ended"):
        undo(now.care, now.visit)


def test_a_step_left_out_and_one_taken_in_are_taken_back_in_their_turn(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 r 52.5")
    for step in ("shifts", "shifts", "home"):
        visits.drop_step(now.care, now.visit, step)
    assert undo(now.care, now.visit) == "took back that home programme was left out"
    assert undo(now.care, now.visit) == "took back that direction shifts was taken back in"
    assert [step.id for step in now.visit.plan if step.dropped] == ["shifts"]
    now.line("heel l 20 r 7")
    assert undo(now.care, now.visit) == "took back heel raise left 20, right 7 reps"
    assert undo(now.care, now.visit) == "took back that direction shifts was left out"
    assert not any(step.dropped for step in now.visit.plan)
    assert undo(now.care, now.visit) == "took back girth left 51.0, right 52.5 cm"
    with pytest.raises(CareFault, match="nothing to undo in this visit"):
        undo(now.care, now.visit)


def test_a_reading_put_right_before_a_step_was_left_out_stands_and_is_given_back_after_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    left, _ = now.line("girth l 51 r 52.5").readings
    measure = now.care.knowledge.measures["girth"]
    putting_right.put_right(now.care, left, putting_right.anew(now.care, left, measure, "50"))
    visits.drop_step(now.care, now.visit, "shifts")
    assert undo(now.care, now.visit) == "took back that direction shifts was left out"
    assert [one.value for one in now.kept] == [50.0, 52.5]
    assert undo(now.care, now.visit) == "took back the correction: girth left is 51.0 again"
    assert [one.value for one in now.kept] == [51.0, 52.5]
    undo(now.care, now.visit)
    undo(now.care, now.visit)
    assert now.kept == []


def test_the_correction_of_a_hidden_value_is_taken_back_without_naming_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    (left,) = now.line("lunge l 10.2 10.2 10.2 before").readings
    measure = now.care.knowledge.measures["lunge"]
    putting_right.put_right(now.care, left, putting_right.anew(now.care, left, measure, "9 9 9"))
    assert undo(now.care, now.visit) == "took back the correction of lunge left"
    assert [one.value for one in now.kept] == [10.2]
