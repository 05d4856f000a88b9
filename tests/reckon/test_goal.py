"""The date of a goal: what one luck for all comes to, held against drawing it; the steps of the longest run."""

from __future__ import annotations

import math
import random
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.reckon.goal import Marginal, all_ready, chance_ready_by, latest_start, steps_to

TODAY = date(2026, 11, 25)


def rising(middle: float, spread: float, most: float = 1.0) -> Marginal:
    """A chance that rises to its most around a day, counted from today."""

    def chance(day: date) -> float:
        return most / (1 + math.exp(-((day - TODAY).days - middle) / spread))

    return chance


LUNGE, GIRTH, NEVER = rising(40, 8), rising(25, 5), rising(30, 6, most=0.6)


def first_day(chance: Marginal, luck: float) -> date | None:
    """The first day within a year on which it is as likely met as the luck wants."""
    days = (TODAY + timedelta(days=n) for n in range(366))
    return next((day for day in days if chance(day) >= luck), None)


def ready_on(marginals: list[Marginal], luck: float, today: date) -> date | None:
    return all_ready([first_day(chance, luck) for chance in marginals], today)


def drawn(marginals: list[Marginal], day: date, runs: int = 4000) -> float:
    """The share of courses that are ready by a day, one uniform number a course led through each marginal."""
    generator = random.Random("goal")
    ready = 0
    for _ in range(runs):
        found = ready_on(marginals, generator.random(), TODAY)
        ready += found is not None and found <= day
    return ready / runs


@pytest.mark.parametrize("days", [20, 35, 45, 60])
@pytest.mark.parametrize("marginals", [[LUNGE], [LUNGE, GIRTH], [LUNGE, GIRTH, NEVER]])
def test_the_chance_is_what_drawing_one_luck_for_all_comes_to(marginals: list[Marginal], days: int) -> None:
    day = TODAY + timedelta(days=days)
    assert chance_ready_by(marginals, day, TODAY) == pytest.approx(drawn(marginals, day), abs=0.03)


def test_the_least_likely_decides_and_what_is_not_foreseen_is_left_out() -> None:
    day = TODAY + timedelta(days=40)
    assert chance_ready_by([LUNGE, GIRTH], day, TODAY) == pytest.approx(0.5)
    assert chance_ready_by([], day, TODAY) == 1.0
    assert chance_ready_by([LUNGE], TODAY - timedelta(days=1), TODAY) == 0.0


def test_ready_is_when_the_last_one_is_and_never_where_one_never_is() -> None:
    assert ready_on([LUNGE, GIRTH], 0.5, TODAY) == TODAY + timedelta(days=40)
    assert ready_on([GIRTH, NEVER], 0.7, TODAY) is None
    assert ready_on([], 0.9, TODAY) == TODAY
    low, high = ready_on([LUNGE], 0.1, TODAY), ready_on([LUNGE], 0.9, TODAY)
    assert low is not None
    assert high is not None
    assert low < high


def test_a_chance_that_came_is_not_lost_again() -> None:
    def passing(day: date) -> float:
        return 0.8 if (day - TODAY).days == 14 else 0.2

    assert chance_ready_by([passing], TODAY + timedelta(days=30), TODAY) == 0.8


def test_the_latest_start_still_arrives_and_the_next_day_does_not() -> None:
    goal = TODAY + timedelta(days=100)
    assert latest_start(lambda day: day + timedelta(days=60), goal, TODAY) == TODAY + timedelta(days=40)
    assert latest_start(lambda day: day + timedelta(days=101), goal, TODAY) is None
    assert latest_start(lambda _: None, goal, TODAY) is None


def test_a_later_start_may_be_quicker_by_days() -> None:
    """As where a week holds so many sessions and no more."""

    def arrives(day: date) -> date:
        return day + timedelta(days=60 - (4 if day.weekday() == 0 else 0))

    goal = TODAY + timedelta(days=100)
    found = latest_start(arrives, goal, TODAY)
    assert found is not None
    assert arrives(found) <= goal
    assert all(arrives(found + timedelta(days=n)) > goal for n in range(1, 20))


def test_no_step_leads_to_where_one_is_and_none_from_nothing() -> None:
    assert steps_to(5, 5, 110) == 0
    assert steps_to(5.5, 5, 110) == 1
    with pytest.raises(ValueError, match="more than 0 km"):
        steps_to(21, 0, 110)
    with pytest.raises(ValueError, match="more than 100"):
        steps_to(21, 5, 100)


@given(st.floats(1, 60), st.floats(1, 60), st.floats(101, 200))
def test_so_many_steps_reach_it_and_one_fewer_does_not(goal: float, start: float, share: float) -> None:
    steps = steps_to(goal, start, share)
    grown = start * (share / 100) ** steps
    assert grown >= goal * (1 - 1e-6)
    assert steps == 0 or start * (share / 100) ** (steps - 1) < goal * (1 + 1e-6)


@given(st.lists(st.tuples(st.floats(5, 90), st.floats(1, 20), st.floats(0.1, 1)), max_size=4), st.integers(0, 120))
def test_more_that_is_wanted_never_makes_it_likelier(shapes: list[tuple[float, float, float]], days: int) -> None:
    day = TODAY + timedelta(days=days)
    marginals = [rising(*shape) for shape in shapes]
    chances = [chance_ready_by(marginals[:n], day, TODAY) for n in range(len(marginals) + 1)]
    assert chances == sorted(chances, reverse=True)
    assert all(0 <= chance <= 1 for chance in chances)
