"""What is kept of a bout that ends: its readings, where it was done to a measure's own protocol, and its words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from store.bout.plan import BoutPlan
from store.bout.result import Outcome, SideTrials
from store.bout.state import SetResult
from store.care.care import Care
from store.care.dose_words import came_to, rep_words, work_words
from store.care.in_words import many
from store.care.taking import new_readings
from store.entry.entry import Entry, SideEntry
from store.entry.numbers import plain
from store.knowledge.kinds import Measure
from store.knowledge.words import BoutKind, BoutRow, Reading, Side, Status
from store.reckon.sides import value_of

NOTHING_DONE = "nothing done"
"""What is said of a bout that was ended before anything was done in it."""


class Ended(NamedTuple):
    """What came of a bout: its dose, and the readings it was turned into, in words. `kept`: was anything?"""

    says: str
    outcome: Outcome
    readings: tuple[Reading, ...]
    kept: bool


def fit_sides(came_of: Outcome, measure: Measure) -> tuple[SideTrials, ...]:
    """The sides that become readings: all trials done, or the cap reached where the best trial counts anyway."""
    if not came_of.to_protocol:
        return ()
    return tuple(side for side in came_of.sides if side.trials and (not side.missing or _settled(side, measure)))


def becomes(came_of: Outcome, measure: Measure | None) -> tuple[str, ...]:
    """What readings a bout makes if it ends now, a sentence a side, or why it makes none; none for training."""
    if measure is None:
        return ()
    if not came_of.to_protocol:
        return ("No reading: " + " ".join(came_of.why_not),)
    fit = fit_sides(came_of, measure)
    says = [_becomes(side, measure) for side in fit]
    return (*says, *(f"No reading: {side.missing}" for side in came_of.sides if side not in fit and side.missing))


def _becomes(side: SideTrials, measure: Measure) -> str:
    name = f"{measure.name} {side.side}" if side.side else measure.name
    value = f"{plain(value_of(side.trials, measure))} {measure.unit}"
    cap = ", cap reached" if side.status is Status.CAP else ""
    how = f", {measure.aggregate} of {len(side.trials)}" if len(side.trials) > 1 else ""
    return f"{name} {value}{cap}{how}: becomes a reading"


def _settled(side: SideTrials, measure: Measure) -> bool:
    return side.status is Status.CAP and measure.aggregate == "best"


def readings_from(care: Care, row: BoutRow, came_of: Outcome) -> list[Reading]:
    """The readings that an ended bout makes, not yet kept; none of a bout that only trained."""
    measure = care.knowledge.measures.get(came_of.measure)
    sides = fit_sides(came_of, measure) if measure is not None else ()
    if measure is None or not sides:
        return []
    entries = tuple(SideEntry(side.side, side.trials, side.status) for side in sides)
    return new_readings(
        care,
        row.person,
        Entry(measure, entries, row.moment),
        care.visit(row.visit) if row.visit else None,
        episode=row.episode,
        bout=row.id,
    )


def ended_text(plan: BoutPlan, came_of: Outcome, made: Sequence[Reading], *, keeps: bool) -> str:
    """One sentence on what was saved: the dose done, and whether it became a reading."""
    if not keeps:
        return f"{plan.name}: nothing was done, nothing kept"
    done = came_of.done
    amount = [many(done.sets, "hold" if plan.kind is BoutKind.HOLD_FIXED else plan.unit)]
    amount += [rep_words(done.reps, plan)] if done.reps else []
    amount += [work_words(plan, done.seconds)] if done.seconds else []
    return f"saved {plan.name}: {', '.join(amount)}" + _as_reading(plan, came_of, made)


def _as_reading(plan: BoutPlan, came_of: Outcome, made: Sequence[Reading]) -> str:
    if not plan.measure:
        return ""
    if not came_of.to_protocol:
        return ". No reading: " + " ".join(came_of.why_not)
    sides = {reading.side for reading in made}
    lacking = [side.missing for side in came_of.sides if side.side not in sides and side.missing]
    kept = "; kept as a reading" if made else ""
    return kept + (f". No reading where {' '.join(lacking)[:1].lower()}{' '.join(lacking)[1:]}" if lacking else "")


def results_text(plan: BoutPlan, results: Sequence[SetResult]) -> str:
    """What sets came to on each side, in the few words of a plan line: "right 3 x 10, pain 0 0 0"."""
    says = []
    for side in (*Side, None):
        own = [result for result in results if result.side is side]
        if any(did_something(plan, result) for result in own):
            pains = " ".join(str(n) for result in own for n in result.pains)
            words = f"{side or ''} {came_to(plan, own)}".strip()
            says.append(words + (f", pain {pains}" if pains else ""))
    return "; ".join(says) or NOTHING_DONE


def did_something(plan: BoutPlan, result: SetResult) -> bool:
    """Whether a set counts as work: a rep where reps are counted, else some time under load."""
    counts = plan.paced or plan.kind in (BoutKind.COUNTED, BoutKind.REACHES)
    return result.reps > 0 if counts else result.worked_ms > 0


def sides_worked(plan: BoutPlan, results: Sequence[SetResult]) -> frozenset[Side | None]:
    """The sides on which something was done."""
    return frozenset(result.side for result in results if did_something(plan, result))
