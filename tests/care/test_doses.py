"""How much work: of a visit and of a week, at home and in visits, planned and done."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.care.doses import of_visit, of_week, week_words
from store.care.home_days import tell_days
from store.reckon.dose import Amount
from tests.care.begun import walked
from tests.care.home_made import AtHome, at_home


@pytest.fixture
def ward(tmp_path: Path) -> AtHome:
    return at_home(tmp_path)


def test_a_visit_plans_what_stands_in_its_plan_and_counts_what_was_done(ward: AtHome) -> None:
    now = ward.now
    before = of_visit(now.care, now.visit)
    assert before.done == Amount()
    assert before.planned.holds == 6  # 3 x 30 s on each leg
    assert before.planned.reps >= 30  # the belt, 3 x 10
    walked(now.bout("ankle_pumps"), now.clock, 23).end()
    after = of_visit(now.care, now.visit)
    assert after.planned.reps == before.planned.reps + 30  # what the plan had not, 2 x 15
    assert (after.done.sets, after.done.reps) == (1, 5)


def test_what_loads_nothing_has_no_time_under_load(ward: AtHome) -> None:
    now = ward.now
    walked(now.bout("elevation"), now.clock, 10).end()
    assert of_visit(now.care, now.visit).done.load_s == 0
    walked(now.bout("brisk_walk"), now.clock, 13).end()
    assert of_visit(now.care, now.visit).done.load_s == 10  # three seconds were the countdown


def test_a_week_counts_the_visits_of_the_local_week(ward: AtHome) -> None:
    walked(ward.now.bout("brisk_walk"), ward.now.clock, 13).end()
    today = ward.now.clock.now().on
    assert of_week(ward.now.care, ward.now.episode.id, today).done.load_s == 10
    ward.days_later(7)
    assert of_week(ward.now.care, ward.now.episode.id, ward.held.on).done.load_s == 0


def test_the_week_in_words(ward: AtHome) -> None:
    ward.hand_out("heel_raises", "hold_firm")
    ward.days_later(7)
    tell_days(ward.now.care, ward.held, "mon 2, tue 1")
    home, clinic = week_words(ward.now.care, ward.held)
    # A day of both: 36 raises and 6 holds of 30 s; one of the two counts as half of that.
    assert home == "this week at home 54 of 144 reps, 9 of 36 holds, 6 of 23 min under load"
    assert clinic.startswith("this week in visits 0 of 30 reps, 0 of 6 holds, 0 of ")
