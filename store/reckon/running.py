"""Climbing a ladder of walking and running: what each session came to, the rung now, the sessions to come.

A session is clean only when pain during it, swelling and the next morning are all known and within the rule; what
is not known is never clean. Days are those of the calendar. Sources of the figures: store/knowledge/running.toml.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from datetime import date, timedelta
from enum import StrEnum
from typing import NamedTuple

from store.knowledge.running import Ladder, Rule

HORIZON_DAYS = 365
"""How far ahead a first day is looked for."""

_DAY = timedelta(days=1)


class RunVerdict(StrEnum):
    """What a session came to. Waiting: the next morning is not known; unknown: something else is not."""

    CLEAN = "clean"
    HELD = "not clean"
    BAD = "bad reaction"
    WAITING = "waiting"
    UNKNOWN = "not known"


class RunDone(NamedTuple):
    """A session that was run. Pains 0 to 10: during it, next morning, and in the mornings before (`usual`);
    minutes run; None is not known.
    """

    on: date
    rung: int
    pain_during: int | None = None
    pain_morning: int | None = None
    swelling: bool | None = None
    usual: int | None = None
    minutes: float | None = None
    km: float | None = None


class Judged(NamedTuple):
    """A session with its verdict. `why` are the reasons in a few words, `missing` what is not known; `days_off`:
    it was so much that days without running follow; `too_soon`: days of rest since the one before were too few.
    """

    done: RunDone
    verdict: RunVerdict
    why: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    days_off: bool = False
    too_soon: bool = False


class Climb(NamedTuple):
    """Where somebody stands on a ladder: the rung, clean sessions in a row on it, and from which day the next one
    may be. None: no session bounds it. `reached`: the last rung was run clean.
    """

    rung: int
    clean: int
    earliest: date | None
    judged: tuple[Judged, ...]
    reached: bool = False


class PlannedRun(NamedTuple):
    """A session to come: its day and rung, if every one before it is clean."""

    on: date
    rung: int


# what a session came to


def judge(done: RunDone, rule: Rule) -> Judged:
    """The verdict of one session by the rule."""
    much = _too_much(done, rule)
    rise = _morning_rise(done)
    missing = _missing(done)
    if much or rise:
        return Judged(done, RunVerdict.BAD, (*much, *rise), missing, days_off=bool(much))
    above = done.pain_during is not None and done.pain_during > rule.most_pain.value
    why = (f"pain {done.pain_during} during, above {rule.most_pain.value:g}",) if above else ()
    if done.pain_morning is None:
        return Judged(done, RunVerdict.WAITING, why, missing)
    if missing:
        return Judged(done, RunVerdict.UNKNOWN, why, missing)
    return Judged(done, RunVerdict.HELD if above else RunVerdict.CLEAN, why)


def _too_much(done: RunDone, rule: Rule) -> tuple[str, ...]:
    """Swelling, or pain during or next morning above the bound: what wants days off."""
    bound = rule.bad_pain.value
    found = []
    if done.pain_during is not None and done.pain_during > bound:
        found.append(f"pain {done.pain_during} during, above {bound:g}")
    if done.pain_morning is not None and done.pain_morning > bound:
        found.append(f"pain {done.pain_morning} next morning, above {bound:g}")
    return (*found, *(("swelling",) if done.swelling else ()))


def _morning_rise(done: RunDone) -> tuple[str, ...]:
    if done.pain_morning is None or done.usual is None or done.pain_morning <= done.usual:
        return ()
    return (f"pain {done.pain_morning} next morning, usually {done.usual}",)


def _missing(done: RunDone) -> tuple[str, ...]:
    """What is not known of a session. A morning without pain is no rise, whatever is usual."""
    found = [] if done.pain_during is not None else ["pain during"]
    found += [] if done.swelling is not None else ["swelling"]
    if done.pain_morning is None:
        found.append("next morning")
    elif done.pain_morning > 0 and done.usual is None:
        found.append("usual morning pain")
    return tuple(found)


# where that leads


def climb(ladder: Ladder, start: int, sessions: Collection[RunDone]) -> Climb:
    """The rung after these sessions, from the one that was begun on. Their order is that of their days.

    So many clean ones in a row on the rung lead up; a bad reaction leads down; all else stays and counts anew. One
    below the rung counts for nothing, one above it as one on it: nobody is led up faster by running ahead.
    """
    rule = ladder.rule
    rung, clean, reached = ladder.rung(start).number, 0, False
    earliest: date | None = None
    judged: list[Judged] = []
    for done in sorted(sessions, key=lambda one: one.on):
        one = judge(done, rule)
        rest = rule.rest_days.value
        soon = bool(judged) and (done.on - judged[-1].done.on).days <= rest
        judged.append(Judged(done, one.verdict, one.why, one.missing, one.days_off, soon))
        free = done.on + (1 + max(int(rest), int(rule.days_off.value) if one.days_off else 0)) * _DAY
        earliest = max(earliest or free, free)
        if one.verdict is RunVerdict.BAD:
            down = int(rule.rungs_down.value)
            rung, clean = (max(min(rung, done.rung) - down, 1) if down else rung), 0
        elif one.verdict is not RunVerdict.CLEAN:
            clean = 0
        elif done.rung >= rung:
            reached = reached or rung == len(ladder.rungs)
            rung, clean = _up(ladder, rung, clean)
    return Climb(rung, clean, earliest, tuple(judged), reached)


def _up(ladder: Ladder, rung: int, clean: int) -> tuple[int, int]:
    """Rung and clean sessions on it after one more."""
    if clean + 1 < ladder.rule.clean_to_rise.value:
        return rung, clean + 1
    top = len(ladder.rungs)
    return (rung + 1, 0) if rung < top else (top, clean + 1)


def assumed(sessions: Collection[RunDone], rule: Rule) -> list[RunDone]:
    """The sessions, the last one with a good morning where that is not known yet: so a plan takes it."""
    found = sorted(sessions, key=lambda one: one.on)
    if found and judge(found[-1], rule).verdict is RunVerdict.WAITING:
        found[-1] = found[-1]._replace(pain_morning=0)
    return found


def ahead(
    ladder: Ladder,
    start: int,
    sessions: Collection[RunDone],
    weekdays: Collection[int],
    first: date,
    last: date,
) -> list[PlannedRun]:
    """The sessions from one day to another if every one is clean, the one that waits among them.

    `weekdays` are 0 for Monday to 6; none: every day that rest allows. In a week of the calendar there are at most
    as many as the rule has, what was done in it among them.
    """
    return list(_ahead(ladder, start, sessions, weekdays, first, last))


def _ahead(
    ladder: Ladder,
    start: int,
    sessions: Collection[RunDone],
    weekdays: Collection[int],
    first: date,
    last: date,
) -> Iterator[PlannedRun]:
    rule = ladder.rule
    known = assumed(sessions, rule)
    now = climb(ladder, start, known)
    rung, clean, free = now.rung, now.clean, now.earliest or first
    in_week = Counter(_monday(one.on) for one in known)
    done_on = {one.on for one in known}
    for each in range((last - first).days + 1):
        day = first + each * _DAY
        if day < free or day in done_on or (weekdays and day.weekday() not in weekdays):
            continue
        if in_week[_monday(day)] >= rule.a_week.value:
            continue
        yield PlannedRun(day, rung)
        in_week[_monday(day)] += 1
        rung, clean = _up(ladder, rung, clean)
        free = day + (1 + int(rule.rest_days.value)) * _DAY


def first_continuous(
    ladder: Ladder, start: int, sessions: Collection[RunDone], weekdays: Collection[int], first: date
) -> date | None:
    """The first day on the last rung if every session is clean; None where that is over a year away."""
    top = len(ladder.rungs)
    last = first + HORIZON_DAYS * _DAY
    return next(
        (one.on for one in _ahead(ladder, start, sessions, weekdays, first, last) if one.rung == top), None
    )


def _monday(day: date) -> date:
    return day - day.weekday() * _DAY


def crowded(weekdays: Collection[int], rule: Rule) -> bool:
    """Whether chosen days of the week leave too few days of rest between two of them, or are too many."""
    days = sorted(set(weekdays))
    gaps = [later - day for day, later in zip(days, [*days[1:], days[0] + 7], strict=True)] if days else []
    return len(days) > rule.a_week.value or any(gap <= rule.rest_days.value for gap in gaps)


# how much that is


class Load(NamedTuple):
    """The running of a week: minutes, the longest piece without a break, km; None where nothing of it is known."""

    minutes: float | None = None
    longest: float | None = None
    km: float | None = None


def load_of(runs: Sequence[tuple[float | None, float | None, float | None]]) -> Load:
    """The load of runs, each given as minutes, longest piece and km."""
    minutes, longest, km = ([run[n] for run in runs if run[n] is not None] for n in range(3))
    return Load(
        sum(each for each in minutes if each is not None) if minutes else None,
        max(each for each in longest if each is not None) if longest else None,
        sum(each for each in km if each is not None) if km else None,
    )


def weekly_change(before: float | None, now: float | None) -> float | None:
    """How much more than the week before, in per cent; None where there was nothing to compare with."""
    if before is None or now is None or before <= 0:
        return None
    return round(100 * (now - before) / before, 6)
