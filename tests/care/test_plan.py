from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.care import measuring, noting, plan, safety, visits
from store.care.care import Care
from store.care.people import EpisodeForm, new_person
from store.care.plan import PlanLine
from store.care.timing import Overrides, begin
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Mark, Reading, Side, Step
from store.record.visits import revise_visit
from tests.care.begun import Begun, begun, walked
from tests.care.home_made import AtHome
from tests.screens.made import NOW, opened


def open_steps(now: Begun) -> list[str]:
    return [line.step.id for line in now.view.plan if line.open]


def ended(now: Begun, activity: str, seconds: int = 80, sides: tuple[Side, ...] = ()) -> None:
    """A bout of an activity ended after so many seconds, of one set on each of these sides where they are told."""
    known = now.care.knowledge.activities[activity]
    live = begin(now.care, known, now.visit, overrides=Overrides(sides=sides) if sides else None)
    walked(live, now.clock, seconds).end()


def test_work_on_the_wrong_side_does_not_tick_a_step(tmp_path: Path) -> None:
    now = begun(tmp_path)
    ended(now, "mobilisation_belt", sides=(Side.LEFT,))
    assert now.line_of("mobilisation") == ("left 1 x 10; right to go", False)
    ended(now, "mobilisation_belt")
    assert now.line_of("mobilisation") == ("left 1 x 10; right 1 x 10", True)


def test_a_step_on_both_sides_is_done_when_both_are(tmp_path: Path) -> None:
    now = begun(tmp_path)
    ended(now, "hold_firm", sides=(Side.RIGHT,))
    assert now.line_of("hold") == ("right 1 hold, no fault; left to go", False)
    assert "hold" in open_steps(now)
    ended(now, "hold_firm", sides=(Side.LEFT,))
    assert now.line_of("hold")[1]


def test_a_bout_of_no_reps_does_not_tick_a_step(tmp_path: Path) -> None:
    now = begun(tmp_path)
    planned = now.visit._replace(plan=(*now.visit.plan, Step("raises", "activity", "heel_raises")))
    revise_visit(now.care.record, planned, by="", because="heel raises too")
    live = walked(now.bout("heel_raises"), now.clock, 5)
    live.end_set()
    live.end()
    says, done = now.line_of("raises")
    assert not done
    assert says.startswith("nothing done yet: ")


def test_the_standard_plan_is_walked_to_its_end(tmp_path: Path) -> None:
    now = begun(tmp_path)
    steps = ["said", "safety", "lunge", "mobilisation", "lunge_retest", "hold", "shifts", "home", "note"]
    assert open_steps(now) == steps
    now.says("pain 2")
    safety.reask(now.care, now.visit)
    assert now.line_of("safety") == ("no change reported", True)
    now.line("lunge l 10.2 10.3 10.1 r 4.8 4.9 4.7")
    assert open_steps(now) == ["mobilisation", "lunge_retest", "hold", "shifts", "home", "note"]
    ended(now, "mobilisation_belt")
    now.line("lunge l 10.2 10.3 10.1 r 6.8 6.9 6.7")
    ended(now, "hold_firm", sides=(Side.LEFT,))
    ended(now, "hold_firm", sides=(Side.RIGHT,))
    ended(now, "direction_shifts")
    assert open_steps(now) == ["home", "note"]
    AtHome(now).hand_out("heel_raises")
    assert open_steps(now) == ["note"]
    noting.sign(now.care, now.visit_id)
    assert open_steps(now) == []
    assert now.line_of("note") == ("signed", True)
    assert now.line_of("home") == ("1 exercise, first programme", True)
    assert now.line_of("lunge") == ("left 10.2, right 4.8", True)
    assert now.line_of("lunge_retest") == ("right +2.0, clear gain", True)
    says, done = now.line_of("mobilisation")
    assert says.startswith("right 1 x 10")
    assert done


def test_a_measure_with_one_side_in_still_waits(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2")
    assert now.line_of("lunge") == ("left in, the other side waits", False)
    assert open_steps(now)[:3] == ["said", "safety", "lunge"]


def test_a_retest_wants_the_sides_that_were_measured_before(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge r 4.8 before")
    now.line("lunge r 5.9 after")
    assert now.line_of("lunge_retest")[1]
    assert now.view.hidden == frozenset()


def test_steps_of_a_later_version_are_greyed_with_a_word_and_left_out_ones_say_so(tmp_path: Path) -> None:
    now = begun(tmp_path)
    planned = now.visit._replace(plan=(*now.visit.plan, Step("stars", "stargazing")))
    revise_visit(now.care.record, planned, by="", because="merged from a later version")
    assert now.line_of("stars") == ("not in this version", False)
    assert now.view.lines[-1].line.later
    assert now.line_of("safety") == ("not screened yet: s", False)
    assert now.line_of("note") == ("draft ready", False)
    visits.drop_step(now.care, now.visit, "shifts")
    assert now.line_of("shifts") == ("skipped today", False)
    assert "shifts" not in open_steps(now)
    visits.drop_step(now.care, now.visit, "shifts")
    assert now.line_of("shifts") == ("60 s, right", False)


def test_what_a_step_asks_for_is_said_in_a_few_words(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert now.line_of("lunge")[0] == "3 trials a side"
    assert now.line_of("mobilisation")[0] == "3 x 10, right"
    assert now.line_of("hold")[0] == "3 x 30 s a side"


def test_the_last_open_activity_is_the_one_to_drop(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.clock.move(4 * 60)
    assert [shown.line.step.id for shown in now.view.lines if shown.drop] == ["shifts"]
    visits.drop_step(now.care, now.visit, "shifts")
    assert now.view.slot.over == pytest.approx(-1)
    assert now.view.slot.drop is None
    now.clock.move(120)
    assert [shown.line.step.id for shown in now.view.lines if shown.drop] == ["hold"]


def test_minutes_of_what_is_done_by_hand_count_while_anything_is_open(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert now.view.slot.wanted == 30
    for step in ("said", "lunge", "mobilisation", "lunge_retest", "hold"):
        visits.drop_step(now.care, now.visit, step)
    assert now.view.slot.wanted == 2 + 1 + 3 + 3
    visits.drop_step(now.care, now.visit, "shifts")
    for step in ("home", "note", "safety"):
        visits.drop_step(now.care, now.visit, step)
    assert now.view.slot.wanted == 0


def test_the_home_programme_of_last_time_stands_in_the_plan_to_be_carried_over(tmp_path: Path) -> None:
    ward = AtHome(begun(tmp_path))
    assert ward.now.line_of("home") == ("none yet", False)
    ward.hand_out()
    ward.days_later(7)
    assert ward.now.line_of("home") == ("3 exercises, from 25 Nov", False)
    ward.hand_out()
    assert ward.now.line_of("home") == ("3 exercises, carried over from 25 Nov, unchanged", True)


def test_a_shell_measure_counts_as_before_when_the_plan_is_taken_up(tmp_path: Path) -> None:
    now = begun(tmp_path)
    visits.end_visit(now.care, now.visit)
    now.clock.move(24 * 3600)
    now.visit_id = visits.start_visit(now.care, now.episode, planned=False).id
    now.line("lunge l 10.2 r 4.8")
    assert now.view.lines == ()
    visits.start_visit(now.care, now.episode)
    assert now.line_of("lunge") == ("done", True)
    assert now.view.hidden == {"lunge"}


def test_a_measure_and_an_activity_that_this_copy_lacks_do_not_break_the_plan(tmp_path: Path) -> None:
    now = begun(tmp_path)
    odd = (Step("odd", "measure", "moon_phase"), Step("odder", "activity", "levitation"))
    planned = now.visit._replace(plan=(*now.visit.plan, *odd))
    revise_visit(now.care.record, planned, by="", because="merged from a later version")
    assert now.line_of("odd") == ("not known to this copy", False)
    assert now.line_of("odder") == ("not known to this copy", False)
    assert now.view.lines[-1].name == "levitation"


def test_pure_lines_need_no_record(tmp_path: Path) -> None:
    now = begun(tmp_path)
    visit = now.visit._replace(plan=(Step("a", "measure", "lunge"), Step("b", "retest", "lunge")))
    none: list[Reading] = []
    assert plan.lines(visit, none, []) == (
        PlanLine(visit.plan[0], done=False, later=False),
        PlanLine(visit.plan[1], done=False, later=False),
    )
    assert plan.awaiting_retest(visit, none) == {"lunge"}
    assert plan.hidden_measures(visit, none) == frozenset()


# the first days

FIRST = ("said", "safety", "weight", "girth", "pitting", "up", "down", "pumps", "home", "note")


def at_day(tmp_path: Path, days: int | None, grade: Grade | None = None) -> tuple[Care, SetClock, Episode]:
    """Somebody sprained so many days ago, invented."""
    care, clock = opened(tmp_path, NOW)
    injured = None if days is None else clock.now().on - timedelta(days=days)
    _, episode = new_person(care, "R.K.", "1995", EpisodeForm(Side.RIGHT, injured_on=injured, grade=grade))
    assert episode is not None
    return care, clock, episode


def planned(care: Care, episode: Episode) -> tuple[str, ...]:
    return tuple(step.id for step in visits.start_visit(care, episode).plan)


@pytest.mark.parametrize(
    ("days", "first"), [(0, True), (1, True), (2, True), (3, False), (40, False), (None, False)]
)
def test_a_visit_of_the_first_days_has_their_plan(tmp_path: Path, days: int | None, first: bool) -> None:
    care, _, episode = at_day(tmp_path, days, Grade.II)
    assert (planned(care, episode) == FIRST) is first
    care.close()


def test_what_is_not_graded_and_takes_no_weight_keeps_it(tmp_path: Path) -> None:
    care, clock, episode = at_day(tmp_path, 2)
    for value, days, first in ((0, 4, True), (1, 3, False)):
        visit = visits.start_visit(care, episode)
        subject = measuring.subject_of(care, visit)
        measuring.save(care, subject, measuring.read_line(care, subject, f"weight_bearing {value}"))
        visits.end_visit(care, visit)
        clock.move(days * 86_400)
        assert (planned(care, episode) == FIRST) is first
        visits.end_visit(care, visits.start_visit(care, episode))
    care.close()


def test_a_graded_ankle_that_takes_no_weight_has_the_standard_plan(tmp_path: Path) -> None:
    care, clock, episode = at_day(tmp_path, 2, Grade.III)
    visit = visits.start_visit(care, episode)
    subject = measuring.subject_of(care, visit)
    measuring.save(care, subject, measuring.read_line(care, subject, "weight_bearing 0"))
    visits.end_visit(care, visit)
    clock.move(4 * 86_400)
    assert "lunge" in planned(care, episode)
    care.close()


@pytest.mark.parametrize(
    ("days", "graded", "bears", "first"),
    [
        (0, True, None, True),
        (2, True, 3, True),
        (3, True, 0, False),
        (3, False, None, False),
        (9, False, 0, True),
        (9, False, 1, False),
        (None, False, 0, True),
        (None, False, None, False),
        (-1, True, None, False),  # a day that is still to come tells nothing
    ],
)
def test_the_rule_of_the_first_days(days: int | None, graded: bool, bears: float | None, first: bool) -> None:
    assert plan.is_of_first_days(days, 2, graded=graded, bears=bears) is first


def test_the_plan_of_the_first_days_is_walked_and_changed_by_the_same_acts(tmp_path: Path) -> None:
    care, clock, episode = at_day(tmp_path, 1)
    now = Begun(care, clock, episode, visits.start_visit(care, episode).id)
    now.says("pain 5 worst 8 consent y")
    for line in ("weight_bearing 1", "girth 52 54.5", "pitting 0 2"):
        now.line(line)
    ended(now, "ankle_pumps", 200)
    visits.drop_step(care, now.visit, "up")
    assert open_steps(now) == ["safety", "down", "home", "note"]
    care.close()


def test_nothing_of_the_first_days_is_stretched_or_stood_on(tmp_path: Path) -> None:
    care, _, _ = at_day(tmp_path, 1)
    known = care.knowledge
    assert (known.first_days.value, known.first_days.mark) == (2, Mark.COMMON)
    done = [known.activities[step.ref] for step in known.first_plan if step.kind == "activity"]
    assert done
    assert not any(one.loading or one.hands_on for one in done)
    measured = [known.measures[step.ref] for step in known.first_plan if step.kind == "measure"]
    assert [one.id for one in measured if one.loading] == ["weight_bearing"]  # a few steps are watched
    assert [one.id for one in measured] == ["weight_bearing", "girth", "pitting", "active_df", "active_pf"]
    assert sum(step.minutes for step in known.first_plan) == known.visit_slot.value
    care.close()
