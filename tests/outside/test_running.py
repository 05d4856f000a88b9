"""Running again, held against what was published: tables of ladders, their rules, and the check of single runs."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from store.knowledge.load import load
from store.reckon.goal import chance_ready_by, steps_to
from store.reckon.running import RunDone, climb, judge, weekly_change
from store.reckon.running import RunVerdict as Verdict
from store.reckon.single_run import single_run

RUNNING = load().running
DAY = date(2026, 11, 23)
MILE_KM = 1.609344


def run(days: int, rung: int, *, swelling: bool = False, morning: int | None = 0, during: int = 0) -> RunDone:
    return RunDone(DAY + timedelta(days=days), rung, during, morning, swelling, usual=0)


def test_the_six_phases_of_the_trial_in_soldiers() -> None:
    """Trials 2023, s13063-023-07502-x, table 1: walk, run (min) and distance (miles), phase by phase."""
    table = [(2, 3, 1.0), (2, 3, 1.5), (2, 4, 1.5), (2, 4, 2.0), (1, 4, 2.0), (0, None, 2.0)]
    rungs = RUNNING.ladders["soldiers"].rungs
    assert [(rung.walk_min, rung.run_min) for rung in rungs] == [row[:2] for row in table]
    assert [rung.km for rung in rungs] == [round(miles * MILE_KM, 1) for _, _, miles in table]


def test_each_phase_of_the_soldiers_is_done_clean_at_least_twice() -> None:
    """The same trial, its rules: at least twice; swelling, stiffness or more pain: no step up."""
    ladder = RUNNING.ladders["soldiers"]
    assert climb(ladder, 2, [run(0, 2)]).rung == 2
    assert climb(ladder, 2, [run(0, 2), run(2, 2)]).rung == 3
    assert climb(ladder, 2, [run(0, 2), run(2, 2, swelling=True)]).rung == 2


def test_runs_on_two_days_running_are_warned_of() -> None:
    """The same trial, its rules: at least one day off between runs."""
    ladder = RUNNING.ladders["soldiers"]
    assert [one.too_soon for one in climb(ladder, 1, [run(0, 1), run(1, 1)]).judged] == [False, True]


def test_the_stages_of_the_shin_stress_trial() -> None:
    """Moen and others 2012, as a page tells it: 16 min of 2:2, 20 min of 3:2, then 16 and 18 min in one."""
    rungs = RUNNING.ladders["shin_stress"].rungs
    whole = [(rung.run_min or 0, rung.walk_min, rung.rounds or 0) for rung in rungs]
    assert [(run_min + walk) * rounds for run_min, walk, rounds in whole] == [16, 16, 20, 20, 16, 18]
    assert [rung.continuous for rung in rungs] == [False] * 4 + [True] * 2


@pytest.mark.parametrize(
    ("during", "morning", "verdict"),
    [(5, 0, Verdict.HELD), (6, 0, Verdict.BAD), (2, 1, Verdict.BAD), (2, 0, Verdict.CLEAN)],
)
def test_pain_of_five_is_borne_six_is_not_and_a_worse_morning_is_too_much(
    during: int, morning: int, verdict: Verdict
) -> None:
    """The model of pain in loaded exercise (Silbernagel 2007; its numbers are recalled): to 5, gone by morning."""
    assert judge(run(0, 1, during=during, morning=morning), RUNNING.ladders["nine_rungs"].rule).verdict is verdict


@pytest.mark.parametrize(
    ("km", "ratio"), [(11.0, None), (11.1, 1.64), (13.0, 1.64), (13.1, 1.52), (20.0, 1.52), (20.1, 2.28)]
)
def test_a_single_run_against_the_longest_of_thirty_days(km: float, ratio: float | None) -> None:
    """Frandsen and others 2025, Br J Sports Med 59:1203, abstract: > 10-30 %, > 30-100 %, > 100 % longer."""
    done = [RunDone(DAY - timedelta(days=30), 9, km=10.0), RunDone(DAY - timedelta(days=31), 9, km=30.0)]
    found = single_run(RUNNING.single_run, DAY, done, km)
    assert found is not None
    assert found.longest == 10.0
    assert (found.band.figure.value if found.band else None) == ratio


@pytest.mark.parametrize(("now", "per_cent", "beyond"), [(22, 10, 0), (26, 30, 1), (27, 35, 2)])
def test_weeks_fall_into_the_classes_of_a_study_of_novices(now: float, per_cent: float, beyond: int) -> None:
    """Nielsen and others 2014, J Orthop Sports Phys Ther 44:739: up to 10, 10 to 30, and more than 30 %."""
    change = weekly_change(20, now)
    assert change == per_cent
    assert sum(change > line.figure.value for line in RUNNING.weekly) == beyond


@pytest.mark.parametrize(("goal", "start", "steps"), [(32, 10, 13), (45, 20, 9)])
def test_a_tenth_more_each_time_takes_as_many_steps(goal: float, start: float, steps: int) -> None:
    """Compound growth at 10 %: a long run from 10 to 32 km in 13 steps, a week from 20 to 45 km in 9."""
    assert steps_to(goal, start, 110) == steps
    assert start * 1.1 ** (steps - 1) < goal <= start * 1.1**steps


def test_one_luck_for_all_gives_the_upper_bound_of_frechet() -> None:
    """For events of probability p and q the chance of both is at most min(p, q) (Frechet 1951), reached so."""
    chances = [lambda _: 0.7, lambda _: 0.4]
    assert chance_ready_by(chances, DAY, DAY) == 0.4
