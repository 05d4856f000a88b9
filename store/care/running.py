"""Where somebody stands on the way back to running: plan, rung, each session's verdict, the weeks as planned."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from store.care.care import Care
from store.care.warning import Warned, warned
from store.knowledge.criteria import Stage
from store.knowledge.running import Ladder, Rung, Running
from store.knowledge.runs import RunPlan, RunSession
from store.knowledge.time import WEEKDAYS
from store.knowledge.words import Episode, Person
from store.reckon import running as reckoned
from store.reckon.running import Climb, Judged, Load, PlannedRun, RunDone, RunVerdict, load_of
from store.reckon.single_run import SingleCheck, single_run
from store.record import decisions, runs

__all__ = [
    "WALK_RUN",
    "Judged",
    "RunStanding",
    "RunVerdict",
    "RunWeek",
    "day_of",
    "jog_decided",
    "last_day",
    "run_done",
    "running_standing",
    "weekday_numbers",
]  # fmt: skip

WEEKS_AHEAD = 6
"""Whole weeks of sessions that a plan keeps in the record, after the one in which it stands: as many as lead from
the first rung to the last."""

WALK_RUN = "walk_run"
"""The activity of these sessions."""

_WEEK = timedelta(days=7)
_NOT_SO_FAR = frozenset({Stage.WALK})


class RunWeek(NamedTuple):
    """A week of the calendar from its Monday on: its sessions, done or planned, and what they come to; `change` is
    in per cent of the week before, in minutes, None where that is not known.
    """

    monday: date
    sessions: tuple[RunSession, ...]
    load: Load
    change: float | None = None

    def on(self, weekday: int) -> RunSession | None:
        """The session of a day, 0 for Monday: what was done goes before what was planned."""
        day = self.monday + timedelta(days=weekday)
        found = [one for one in self.sessions if day_of(one) == day]
        return next((one for one in found if one.done_on), found[0] if found else None)


class RunStanding(NamedTuple):
    """All that a screen or paper shows of somebody's running. `plan` and what hangs on it are None without one, or
    where this copy does not know its ladder (`unknown_ladder`).

    `judged` are the verdicts by session; `ahead` is what the rule plans as of today, `planned` what the record
    has; `continuous_on` the first day on the last rung if every session is clean.
    """

    person: Person
    episode: Episode
    on: date
    table: Running
    plan: RunPlan | None
    ladder: Ladder | None
    sessions: tuple[RunSession, ...]
    climb: Climb | None = None
    judged: tuple[tuple[RunSession, Judged], ...] = ()
    planned: tuple[RunSession, ...] = ()
    ahead: tuple[PlannedRun, ...] = ()
    weeks: tuple[RunWeek, ...] = ()
    continuous_on: date | None = None
    check: SingleCheck | None = None
    last_check: SingleCheck | None = None
    cautions: tuple[Warned, ...] = ()
    unknown_ladder: str = ""

    @property
    def last(self) -> tuple[RunSession, Judged] | None:
        """The session that was run last in this plan, with its verdict."""
        return self.judged[-1] if self.judged else None

    @property
    def waits(self) -> bool:
        """Whether the last session waits for its next morning."""
        return self.last is not None and self.last[1].verdict is RunVerdict.WAITING

    @property
    def next(self) -> RunSession | None:
        """The next planned session, today among them."""
        return self.planned[0] if self.planned else None

    @property
    def stale(self) -> bool:
        """Whether the record's plan is no longer what the rule says today, as after one that was left out."""
        if self.episode.closed is not None:
            return False
        kept = [(one.planned_on, one.rung) for one in self.planned]
        now = [(one.on, one.rung) for one in self.ahead]
        return kept != now[: len(kept)] or (not kept and bool(now))

    def rung(self, number: int) -> Rung | None:
        """A rung of the ladder in force."""
        return self.ladder.rung(number) if self.ladder is not None else None


def day_of(one: RunSession) -> date:
    """The day on which a session was run, else the one it is planned for."""
    day = one.done_on or one.planned_on
    assert day is not None  # a rule of the record
    return day


def run_done(one: RunSession) -> RunDone:
    """A session that was run, as the rule takes it."""
    assert one.done_on is not None
    return RunDone(
        on=one.done_on,
        rung=one.rung,
        pain_during=one.pain_during,
        pain_morning=one.pain_morning,
        swelling=one.swelling,
        usual=one.pain_usual,
        minutes=one.minutes,
        km=one.distance_km,
    )


def weekday_numbers(plan: RunPlan) -> tuple[int, ...]:
    """The days of the week of a plan, 0 for Monday; none: alternate days."""
    return tuple(sorted(n for n, name in enumerate(WEEKDAYS) if name[:3] in plan.weekdays))


def running_standing(care: Care, episode_id: str, plan: RunPlan | None = None) -> RunStanding:
    """Where an episode's running stands now; `plan` is the one in force where that was read already.

    Raises CareFault or RecordFault.
    """
    episode = care.episode(episode_id)
    person, today = care.person(episode.person), care.clock.now().on
    table, plan = care.knowledge.running, plan or runs.last_plan(care.record, episode_id)
    sessions = tuple(runs.sessions_of(care.record, episode_id))
    cautions = warned(care.knowledge, care.knowledge.activities[WALK_RUN], episode, person, today)
    ladder = table.ladders.get(plan.ladder) if plan is not None else None
    bare = RunStanding(person, episode, today, table, plan, ladder, sessions, cautions=cautions)
    if plan is None:
        return bare
    if ladder is None:
        return RunStanding(
            person, episode, today, table, plan, None, sessions, cautions=cautions, unknown_ladder=plan.ladder
        )
    return _worked_out(bare, plan, ladder)


def _worked_out(bare: RunStanding, plan: RunPlan, ladder: Ladder) -> RunStanding:
    today, sessions = bare.on, bare.sessions
    own = sorted((one for one in sessions if one.done_on and one.plan == plan.id), key=day_of)
    done = [run_done(one) for one in own]
    climb = reckoned.climb(ladder, plan.rung, done)
    by_day = {one.done.on: one for one in climb.judged}
    judged = tuple((one, by_day[day_of(one)]) for one in own)
    planned = tuple(one for one in sessions if one.done_on is None and day_of(one) >= today)
    first, weekdays = max(plan.begins_on, today), weekday_numbers(plan)
    ahead = tuple(reckoned.ahead(ladder, plan.rung, done, weekdays, first, last_day(plan, today)))
    every = [run_done(one) for one in sessions if one.done_on]
    top = ladder.rungs[-1].number
    ran = own[-1] if own else None
    in_one = climb.rung == top or (ran is not None and ladder.rung(ran.rung).continuous)
    return RunStanding(
        person=bare.person,
        episode=bare.episode,
        on=today,
        table=bare.table,
        plan=plan,
        ladder=ladder,
        sessions=sessions,
        climb=climb,
        judged=judged,
        planned=planned,
        ahead=ahead,
        weeks=_weeks(ladder, plan, sessions, today),
        continuous_on=reckoned.first_continuous(ladder, plan.rung, done, weekdays, first),
        check=single_run(bare.table.single_run, planned[0].planned_on or today, every)
        if in_one and planned
        else None,
        last_check=single_run(bare.table.single_run, day_of(ran), every, ran.distance_km)
        if ran is not None and ran.distance_km is not None and ladder.rung(ran.rung).continuous
        else None,
        cautions=bare.cautions,
    )


def last_day(plan: RunPlan, today: date) -> date:
    """The last day for which sessions are planned: a Sunday."""
    first = max(plan.begins_on, today)
    return first + timedelta(days=6 - first.weekday()) + WEEKS_AHEAD * _WEEK


def _weeks(ladder: Ladder, plan: RunPlan, sessions: Sequence[RunSession], today: date) -> tuple[RunWeek, ...]:
    """From the first week in which there is a session to the last. What was planned and is past without being told
    counts for nothing; nothing is held against a week in the midst of which the plan began."""
    if not sessions:
        return ()
    mondays = [day_of(one) - timedelta(days=day_of(one).weekday()) for one in sessions]
    weeks: list[RunWeek] = []
    monday = min(mondays)
    while monday <= max(mondays):
        own = tuple(one for one, each in zip(sessions, mondays, strict=True) if each == monday)
        load = load_of([_load(ladder, one) for one in own if one.done_on or day_of(one) >= today])
        whole = weeks and not weeks[-1].monday < plan.begins_on < monday
        before = weeks[-1].load.minutes if whole else None
        weeks.append(RunWeek(monday, own, load, reckoned.weekly_change(before, load.minutes)))
        monday += _WEEK
    return tuple(weeks)


def _load(ladder: Ladder, one: RunSession) -> tuple[float | None, float | None, float | None]:
    """Minutes, longest piece and km of a session: as told where it was run, else by its rung."""
    rung = ladder.rung(one.rung)
    if one.done_on is None:
        return rung.minutes, rung.longest, rung.km
    longest = one.minutes if rung.continuous and one.minutes is not None else rung.longest
    return one.minutes, longest, one.distance_km


def jog_decided(care: Care, episode_id: str) -> bool:
    """Whether the clinician decided that this ankle is ready to jog, or for more."""
    last = decisions.last_of(care.record, [episode_id]).get(episode_id)
    return last is not None and last.stage not in _NOT_SO_FAR
