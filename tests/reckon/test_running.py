"""The rule of the ladder: an unknown is never clean, two clean ones lead up, a bad one down, rest is kept."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.load import load
from store.knowledge.running import Ladder
from store.reckon.running import (
    Load,
    PlannedRun,
    RunDone,
    RunVerdict,
    ahead,
    assumed,
    climb,
    crowded,
    first_continuous,
    judge,
    load_of,
    weekly_change,
)
from store.reckon.single_run import single_run

RUNNING = load().running
NINE, SOLDIERS = RUNNING.ladders["nine_rungs"], RUNNING.ladders["soldiers"]
MON = date(2026, 11, 23)
CLEAN = RunDone(MON, 1, pain_during=1, pain_morning=0, swelling=False)


def on(days: int, rung: int = 1, **other: object) -> RunDone:
    """A clean session so many days after a Monday, with what differs."""
    return CLEAN._replace(on=MON + timedelta(days=days), rung=rung, **other)  # type: ignore[arg-type]  # by name


def verdict(**other: object) -> RunVerdict:
    return judge(on(0, **other), NINE.rule).verdict  # type: ignore[arg-type]  # by name


# a session


def test_all_known_and_within_the_rule_is_clean() -> None:
    assert verdict() is RunVerdict.CLEAN
    assert verdict(pain_during=2) is RunVerdict.CLEAN  # at the bound
    assert verdict(pain_morning=2, usual=2) is RunVerdict.CLEAN  # as every morning


def test_until_the_morning_is_known_it_waits() -> None:
    one = judge(on(0, pain_morning=None), NINE.rule)
    assert one.verdict is RunVerdict.WAITING
    assert one.missing == ("next morning",)


@pytest.mark.parametrize(
    ("what", "missing"),
    [
        ({"pain_during": None}, "pain during"),
        ({"swelling": None}, "swelling"),
        ({"pain_morning": 1}, "usual morning pain"),
    ],
)
def test_what_was_not_told_is_never_clean(what: dict[str, object], missing: str) -> None:
    one = judge(on(0, **what), NINE.rule)  # type: ignore[arg-type]  # by name
    assert one.verdict is RunVerdict.UNKNOWN
    assert one.missing == (missing,)


def test_more_pain_than_a_clean_session_has_stays_on_the_rung() -> None:
    one = judge(on(0, pain_during=3), NINE.rule)
    assert (one.verdict, one.why) == (RunVerdict.HELD, ("pain 3 during, above 2",))


@pytest.mark.parametrize(
    ("what", "why", "off"),
    [
        ({"pain_during": 6}, "pain 6 during, above 5", True),
        ({"swelling": True}, "swelling", True),
        ({"pain_morning": 6, "usual": 6}, "pain 6 next morning, above 5", True),
        ({"pain_morning": 3, "usual": 1}, "pain 3 next morning, usually 1", False),
    ],
)
def test_a_bad_reaction_says_why_and_whether_days_off_follow(what: dict[str, object], why: str, off: bool) -> None:
    one = judge(on(0, **what), NINE.rule)  # type: ignore[arg-type]  # by name
    assert (one.verdict, one.why, one.days_off) == (RunVerdict.BAD, (why,), off)


def test_what_is_bad_needs_no_morning() -> None:
    assert verdict(swelling=True, pain_morning=None) is RunVerdict.BAD
    assert verdict(pain_during=7, pain_morning=None, swelling=None) is RunVerdict.BAD


# the ladder


def test_two_clean_in_a_row_lead_up_one_rung() -> None:
    assert (climb(NINE, 1, [on(0)]).rung, climb(NINE, 1, [on(0)]).clean) == (1, 1)
    assert (climb(NINE, 1, [on(0), on(2)]).rung, climb(NINE, 1, [on(0), on(2)]).clean) == (2, 0)
    assert climb(NINE, 1, [on(0), on(2, pain_during=3), on(4)]).rung == 1
    assert climb(NINE, 1, [on(0), on(2, pain_morning=None), on(4)]).rung == 1


def test_a_bad_reaction_leads_down_one_rung_and_not_below_the_first() -> None:
    assert climb(NINE, 4, [on(0, 4, swelling=True)]).rung == 3
    assert climb(NINE, 1, [on(0, 1, swelling=True)]).rung == 1
    assert climb(NINE, 4, [on(0, 2, swelling=True)]).rung == 1  # below what was too much


def test_running_ahead_of_the_plan_leads_nobody_up_faster() -> None:
    assert climb(NINE, 1, [on(0, 5), on(2, 5)]).rung == 2
    assert climb(NINE, 3, [on(0, 1), on(2, 1), on(4, 1)]).rung == 3  # and what is easier counts for nothing


def test_the_last_rung_is_stayed_on() -> None:
    now = climb(NINE, 9, [on(0, 9), on(2, 9), on(4, 9)])
    assert (now.rung, now.reached) == (9, True)
    assert not climb(NINE, 9, [on(0, 9, pain_during=3)]).reached


def test_a_day_between_and_two_off_after_too_much() -> None:
    assert climb(NINE, 1, [on(0)]).earliest == MON + timedelta(days=2)
    assert climb(NINE, 1, [on(0, swelling=True)]).earliest == MON + timedelta(days=3)
    assert climb(NINE, 1, [on(0, pain_morning=2, usual=0)]).earliest == MON + timedelta(days=2)
    assert climb(NINE, 1, []).earliest is None


def test_days_running_without_rest_are_told() -> None:
    assert [one.too_soon for one in climb(NINE, 1, [on(0), on(1), on(3)]).judged] == [False, True, False]


# the plan


def test_the_plan_of_chosen_days_rises_after_two_each() -> None:
    found = ahead(NINE, 1, [], [0, 2, 4], MON, MON + timedelta(days=11))
    assert found == [
        PlannedRun(MON + timedelta(days=day), rung)
        for day, rung in ((0, 1), (2, 1), (4, 2), (7, 2), (9, 3), (11, 3))
    ]


def test_alternate_days_are_three_a_week_of_the_calendar() -> None:
    found = [one.on for one in ahead(NINE, 1, [], [], MON, MON + timedelta(days=13))]
    assert [(day - MON).days for day in found] == [0, 2, 4, 7, 9, 11]


def test_half_an_hour_comes_with_the_seventeenth_clean_session() -> None:
    """Two on each of eight rungs come before it: five weeks and five sessions, from a Monday on."""
    found = first_continuous(NINE, 1, [], [0, 2, 4], MON)
    assert found == MON + timedelta(weeks=5, days=2)
    assert first_continuous(NINE, 9, [], [0], MON + timedelta(days=1)) == MON + timedelta(days=7)


def test_a_session_that_waits_is_taken_for_clean_in_the_plan_and_only_there() -> None:
    waits = [on(0), on(2, pain_morning=None)]
    assert climb(NINE, 1, waits).rung == 1
    assert ahead(NINE, 1, waits, [0, 2, 4], MON + timedelta(days=3), MON + timedelta(days=4))[0].rung == 2
    sore = [on(0), on(2, pain_morning=None, pain_during=4)]  # which no morning makes clean
    assert ahead(NINE, 1, sore, [0, 2, 4], MON + timedelta(days=3), MON + timedelta(days=4))[0].rung == 1
    assert assumed([on(0, swelling=True, pain_morning=None)], NINE.rule)[-1].pain_morning is None


def test_what_was_done_this_week_counts_among_its_sessions() -> None:
    done = [on(0), on(2), on(4, 2)]
    found = ahead(NINE, 1, done, [], MON + timedelta(days=5), MON + timedelta(days=8))
    assert [(one.on - MON).days for one in found] == [7]


def test_chosen_days_may_be_too_many_or_too_near() -> None:
    assert not crowded([0, 2, 4], NINE.rule)
    assert not crowded([], NINE.rule)
    assert not crowded([1], NINE.rule)
    assert crowded([0, 1], NINE.rule)
    assert crowded([0, 3, 6], NINE.rule)  # Sunday and Monday
    assert crowded([0, 2, 4, 6], NINE.rule)


# how much


def test_the_load_of_a_week_is_what_is_known_of_it() -> None:
    assert load_of([(5, 1, None), (10, 2, None), (None, None, 5.1)]) == Load(15, 2, 5.1)
    assert load_of([]) == Load()


def test_a_week_against_nothing_has_no_change() -> None:
    assert weekly_change(None, 10) is None
    assert weekly_change(0, 10) is None
    assert weekly_change(20, 27) == 35


def test_without_a_distance_before_there_is_no_check() -> None:
    assert single_run(RUNNING.single_run, MON, [on(-1)], km=5) is None
    assert single_run(RUNNING.single_run, MON, [on(-31, km=10)], km=5) is None  # a day too old
    assert single_run(RUNNING.single_run, MON, [on(0, km=10)], km=5) is None  # the day itself is not before it
    told = single_run(RUNNING.single_run, MON, [on(-30, km=5.0), on(-2, km=4.0)])
    assert told is not None
    assert (told.longest, told.share) == (5.0, None)
    assert told.most == pytest.approx(5.5)


# whatever is done

pains = st.none() | st.integers(0, 10)


@st.composite
def sessions(draw: st.DrawFn) -> list[RunDone]:
    days = draw(st.lists(st.integers(0, 60), max_size=20, unique=True))
    return [
        RunDone(
            MON + timedelta(days=day),
            draw(st.integers(1, 9)),
            draw(pains),
            draw(pains),
            draw(st.none() | st.booleans()),
            draw(pains),
        )
        for day in days
    ]


@given(sessions(), st.integers(1, 9), st.sampled_from([NINE, SOLDIERS]))
def test_a_rung_is_on_the_ladder_and_rises_by_one_at_most(done: list[RunDone], start: int, ladder: Ladder) -> None:
    in_order = sorted(done, key=lambda one: one.on)
    before = climb(ladder, start, []).rung
    for n in range(len(in_order)):
        now = climb(ladder, start, in_order[: n + 1])
        assert 1 <= now.rung <= len(ladder.rungs)
        assert now.rung <= before + 1
        assert now.rung <= before or now.judged[-1].verdict is RunVerdict.CLEAN
        before = now.rung
    assert climb(ladder, start, done) == climb(ladder, start, in_order)  # told in any order


@given(sessions())
def test_nothing_unknown_is_clean_and_knowing_more_pain_never_makes_it_so(done: list[RunDone]) -> None:
    for one in done:
        found = judge(one, NINE.rule)
        if found.verdict is RunVerdict.CLEAN:
            assert one.pain_during is not None
            assert one.pain_morning is not None
            assert one.swelling is False
            assert not found.missing
        worse = one._replace(pain_during=10, swelling=True)
        assert judge(worse, NINE.rule).verdict is RunVerdict.BAD


@given(sessions(), st.integers(1, 9), st.sets(st.integers(0, 6), max_size=4), st.integers(0, 90))
def test_a_plan_keeps_rest_days_weekdays_and_the_week(
    done: list[RunDone], start: int, weekdays: set[int], later: int
) -> None:
    first = MON + timedelta(days=later)
    found = ahead(NINE, start, done, weekdays, first, first + timedelta(days=56))
    days = [one.on for one in found]
    assert all((after - before).days >= 2 for before, after in pairwise(days))
    assert all(day >= first and (not weekdays or day.weekday() in weekdays) for day in days)
    ran = [one.on for one in done]
    weeks = Counter(day - timedelta(days=day.weekday()) for day in days)
    for week, planned in weeks.items():
        assert planned + sum(0 <= (day - week).days < 7 for day in ran) <= 3
    rungs = [one.rung for one in found]
    assert rungs == sorted(rungs)
    assert all(times <= 2 for rung, times in Counter(rungs).items() if rung < 9)
