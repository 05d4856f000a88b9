"""What was said, measured and timed in the visits of an episode, one object each. Nothing blind is in it."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from store.bout.events import GOING_ON, PAUSING
from store.bout.plan import BoutPlan
from store.bout.result import Dose, cut_short, outcome
from store.bout.state import SetResult, State
from store.care import plan as planning
from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.pairs import Pair, pairs_of
from store.care.plan_words import activity_name, said_now, was_said
from store.care.timing import bout_state
from store.entry.said import MEASURES
from store.knowledge.words import BoutRow, Episode, Moment, Reading, Side, Visit
from store.record import bouts, readings, visits


class PastBout(NamedTuple):
    """A bout with all that its events tell. `early`: ended before all that was planned was done. `hidden`: it is
    of a measure that a blind re-test waits for, so its sets are left out. `trouble`: why it cannot be read.
    """

    row: BoutRow
    name: str
    plan: BoutPlan | None = None
    sets: tuple[SetResult, ...] = ()
    planned: Dose | None = None
    done: Dose | None = None
    early: bool = False
    pauses: int = 0
    hidden: bool = False
    trouble: str = ""

    @property
    def sides(self) -> tuple[Side | None, ...]:
        """The sides that were planned: None stands for work without a side."""
        return self.plan.sides if self.plan is not None else ()


class PastVisit(NamedTuple):
    """One visit. `said` is by the words of its line, as "home": "5/7"; `readings` are all that may be shown,
    oldest first, `pairs` the last before and after of each measure that this copy knows. `minutes` is None while
    it goes on and where nobody ended it; `week` counts from the injury, None where its day is not known.
    """

    visit: Visit
    week: int | None
    minutes: float | None
    goes_on: bool
    said: dict[str, str]
    readings: tuple[Reading, ...]
    pairs: tuple[Pair, ...]
    bouts: tuple[PastBout, ...]
    hidden: frozenset[str]
    unknown: tuple[str, ...]


def visits_that_count(care: Care, episode: Episode, most: int | None = None) -> list[Visit]:
    """Visits of an episode in which something was said, measured or timed, newest first; at most so many."""
    return visits.worked_visits(care.record, episode.id, -1 if most is None else most)


def counts(care: Care, visit: Visit) -> bool:
    """Whether anything that stands was said, measured or timed in a visit."""
    return visits.has_work(care.record, visit.id)


def visit_before(care: Care, visit: Visit) -> PastVisit | None:
    """The last visit of the same episode that counts, before this one."""
    if visit.episode is None:
        return None
    found = visits.last_worked_visit(care.record, visit.episode, visit.id)
    return past_visit(care, found, care.episode(visit.episode)) if found is not None else None


def past_visits(care: Care, episode: Episode, most: int | None = None) -> tuple[PastVisit, ...]:
    """The visits of an episode that count, newest first, each whole; at most so many."""
    return tuple(past_visit(care, visit, episode) for visit in visits_that_count(care, episode, most))


def past_visit(care: Care, visit: Visit, episode: Episode) -> PastVisit:
    """All of one visit of an episode, also of the one in hand: what is blind in it is left out."""
    current = visiting.open_visit(care, episode)
    goes_on = current is not None and current.id == visit.id
    taken = readings.readings_of_visit(care.record, visit.id)
    hidden = visiting.hidden(care, visit, taken) if goes_on else frozenset[str]()
    waiting = planning.awaiting_retest(visit, taken) if goes_on and care.blind else frozenset[str]()
    shown = tuple(one for one in taken if not is_blind(one.measure, one.moment, hidden))
    of_hidden = {word for word, measure in MEASURES.items() if measure in hidden}
    said = {word: value for word, value in said_now(visit, shown).items() if word not in of_hidden}
    worked = bouts.bouts_of_visit(care.record, visit.id)
    measured = [reading for reading in taken if not was_said(reading)]
    known = care.knowledge.measures
    return PastVisit(
        visit=visit,
        week=week_of(visit, episode),
        minutes=minutes_of(visit),
        goes_on=goes_on,
        said=said,
        readings=shown,
        pairs=pairs_of(known, (reading.measure for reading in measured), taken, hidden),
        bouts=tuple(_past_bout(care, row, waiting) for row in worked),
        hidden=hidden,
        unknown=tuple(dict.fromkeys(reading.measure for reading in measured if reading.measure not in known)),
    )


def is_blind(measure: str | None, moment: Moment | None, hidden: frozenset[str]) -> bool:
    """Whether a value is one that came before a re-test which is still to be made blind."""
    return measure in hidden and moment is not Moment.AFTER


def week_of(visit: Visit, episode: Episode) -> int | None:
    """The week since the injury, the first is 1; None where its day is not known, or lies after the visit."""
    return week_on(visit.started.on, episode)


def week_on(day: date, episode: Episode) -> int | None:
    """The same of a day."""
    days = (day - episode.injured_on).days if episode.injured_on is not None else -1
    return days // 7 + 1 if days >= 0 else None


def minutes_of(visit: Visit) -> float | None:
    """How long a visit took; None where it was not ended."""
    return None if visit.ended is None else (visit.ended.at - visit.started.at).total_seconds() / 60


# what was timed


def _past_bout(care: Care, row: BoutRow, waiting: frozenset[str]) -> PastBout:
    name = activity_name(care, row.activity)
    try:
        plan, state = bout_state(care, row)
    except CareFault as broken:
        return PastBout(row, name, trouble=str(broken))
    blind = is_blind(row.measure, row.moment, waiting)
    came_of = outcome(plan, state)
    return PastBout(
        row=row,
        name=plan.name,
        plan=plan,
        sets=() if blind else state.done,
        planned=came_of.planned,
        done=None if blind else came_of.done,
        early=row.ended is not None and cut_short(plan, state.done),
        pauses=_pauses(state),
        hidden=blind,
    )


def _pauses(state: State) -> int:
    """How often it stood still: one pause on another, as a sleep after a pause, is one."""
    paused, times = False, 0
    for event in state.kept:
        if event.kind in PAUSING:
            times += not paused
            paused = True
        elif event.kind in GOING_ON:
            paused = False
    return times
