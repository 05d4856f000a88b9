"""How much work a visit and a week came to: in visits and at home, planned and done."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.bout.result import Dose, outcome
from store.bout.state import opening
from store.care.care import Care
from store.care.faults import CareFault
from store.care.home import HomeStanding
from store.care.timing import bout_state, planned
from store.knowledge.words import BoutRow, Visit
from store.reckon.dose import Amount, total, week_of
from store.record import bouts, visits


@dataclass(frozen=True, slots=True)
class Doses:
    """Work planned and work done."""

    planned: Amount
    done: Amount


def of_visit(care: Care, visit: Visit) -> Doses:
    """The work of a visit: planned are the activities of its plan as they were dosed, and whatever else was timed.

    A bout that cannot be read counts as nothing.
    """
    rows = [row for row in bouts.bouts_of_visit(care.record, visit.id) if row.ended is not None]
    both = [_of_bout(care, row) for row in rows]
    done_ids = {row.activity for row in rows}
    waiting = [
        step.ref
        for step in visit.plan
        if step.kind == "activity" and not step.dropped and step.ref not in done_ids
    ]
    return Doses(
        total([*(one.planned for one in both), *(_usual(care, visit, each) for each in waiting)]),
        total(one.done for one in both),
    )


def of_week(care: Care, episode_id: str, day: date) -> Doses:
    """The work of the visits of the local week that a day lies in."""
    monday, sunday = week_of(day)
    own = visits.visits_of_episode(care.record, episode_id)
    both = [of_visit(care, visit) for visit in own if monday <= visit.started.on <= sunday]
    return Doses(total(one.planned for one in both), total(one.done for one in both))


def week_words(care: Care, held: HomeStanding) -> tuple[str, str]:
    """The work of this local week in words, at home and in visits: what was done of what is planned."""
    clinic = of_week(care, held.episode.id, held.on)
    home = Doses(held.planned_week, held.done_week)
    return (f"this week at home {_of_words(home)}", f"this week in visits {_of_words(clinic)}")


def _of_words(doses: Doses) -> str:
    done, planned = doses.done, doses.planned
    by_minutes = max(planned.load_s, done.load_s) >= 120
    unit, per = ("min", 60) if by_minutes else ("s", 1)
    pairs = (
        (done.reps, planned.reps, "reps"),
        (done.holds, planned.holds, "holds"),
        (done.load_s / per, planned.load_s / per, f"{unit} under load"),
    )
    says = [f"{did:.0f} of {wanted:.0f} {what}" for did, wanted, what in pairs if did or wanted]
    return ", ".join(says) or "nothing planned"


def _of_bout(care: Care, row: BoutRow) -> Doses:
    try:
        plan, state = bout_state(care, row)
    except CareFault:
        return Doses(Amount(), Amount())
    came_of, loads = outcome(plan, state), _loads(care, row.activity)
    return Doses(_amount(came_of.planned, loads=loads), _amount(came_of.done, loads=loads))


def _usual(care: Care, visit: Visit, activity_id: str) -> Amount:
    """The usual dose of an activity of the plan that was not timed yet."""
    activity = care.knowledge.activities.get(activity_id)
    if activity is None or visit.episode is None:
        return Amount()
    plan = planned(activity, care.episode(visit.episode).side)
    return _amount(outcome(plan, opening(plan)).planned, loads=activity.loading)


def _loads(care: Care, activity_id: str) -> bool:
    activity = care.knowledge.activities.get(activity_id)
    return activity is None or activity.loading


def _amount(dose: Dose, *, loads: bool) -> Amount:
    return Amount(dose.sets, dose.reps, dose.holds, dose.seconds if loads else 0.0)
