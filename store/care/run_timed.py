"""What the timer knows of a run that was not told yet: the words of its line, to be confirmed and added to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from store.bout.plan import BoutPlan
from store.bout.state import Interval, State
from store.care.care import Care
from store.care.dates import weekday_text
from store.care.faults import CareFault
from store.care.running import WALK_RUN, RunStanding, day_of
from store.care.timing import bout_state
from store.knowledge.running import Rung
from store.knowledge.words import BoutRow
from store.record import bouts, visits

WITHIN_DAYS = 3
"""A bout that is older is no longer offered to be told: it may be told all the same."""

_WALK = "WALK"


class TimedRun(NamedTuple):
    """A finished walk-run that no session tells of: its day, and what its line says of it."""

    on: date
    words: str


def timed_run(care: Care, held: RunStanding) -> TimedRun | None:
    """The last one of these days, where it was after the session that was told last; None without one."""
    if held.plan is None or held.ladder is None:
        return None
    told = [day_of(one) for one in held.sessions if one.done_on is not None]
    for row, plan, state in _finished(care, held):
        day = row.started.on
        if day < held.plan.begins_on or (told and day <= max(told)):
            return None
        intervals = [each for one in state.done for each in one.intervals]
        if intervals:
            return TimedRun(day, " ".join(_words(held, day, plan, state, intervals)))
    return None


def _finished(care: Care, held: RunStanding) -> list[tuple[BoutRow, BoutPlan, State]]:
    """The walk-runs of these days that ended and can be read, the last first."""
    found = []
    for visit in visits.visits_of_episode(care.record, held.episode.id):
        if not 0 <= (held.on - visit.started.on).days <= WITHIN_DAYS:
            continue
        for row in bouts.bouts_of_visit(care.record, visit.id):
            if row.activity != WALK_RUN or row.ended is None:
                continue
            try:
                found.append((row, *bout_state(care, row)))
            except CareFault:  # its line in the visit says so
                continue
    return sorted(found, key=lambda one: one[0].started.at, reverse=True)


def _words(held: RunStanding, day: date, plan: BoutPlan, state: State, intervals: Sequence[Interval]) -> list[str]:
    """Day, rung, minutes run, the most pain told, and what was left out."""
    words = [] if day == held.on else [weekday_text(day).casefold()]
    rung = _rung_of(held, plan) or _planned(held, day)
    if rung is not None:
        words.append("continuous" if rung.continuous else rung.words)
    runs = [each for each in intervals if each.word != _WALK]
    minutes = round(sum(each.worked_ms for each in runs) / 60_000, 1)
    if minutes:
        words.append(f"{minutes:g} min")
    pains = [pain for one in state.done for pain in one.pains]
    if pains:
        words.append(f"pain {max(pains)}")
    whole = sum(not each.skipped for each in runs)
    wanted = plan.reps * sum(phase.word != _WALK for phase in plan.phases)
    if whole < wanted:
        amount = f"{whole} of {wanted} runs"
        early = len(intervals) < plan.intervals or intervals[-1].skipped
        words.append(f'note "stopped early, {amount}"' if early else f'note "{amount} whole"')
    return words


def _rung_of(held: RunStanding, plan: BoutPlan) -> Rung | None:
    """The rung that was timed; None where its times or rounds were others."""
    assert held.ladder is not None
    walk = sum(phase.seconds for phase in plan.phases if phase.word == _WALK)
    run = sum(phase.seconds for phase in plan.phases if phase.word != _WALK)
    asked = (plan.reps, run, walk)
    for rung in held.ladder.rungs:
        if rung.run_min is not None and (rung.rounds, rung.run_min * 60, rung.walk_min * 60) == asked:
            return rung
    return None


def _planned(held: RunStanding, day: date) -> Rung | None:
    """The rung that was planned for a day."""
    one = next((one for one in held.sessions if one.done_on is None and one.planned_on == day), None)
    return held.rung(one.rung) if one is not None else None
