"""From an activity, and what is asked for this time, to the plan of a bout."""

from __future__ import annotations

from typing import NamedTuple, TypeVar

from store.bout.directions import balanced
from store.bout.plan import BoutPlan
from store.knowledge.kinds import Activity, Phase
from store.knowledge.words import BoutKind, Side

T = TypeVar("T")


class Overrides(NamedTuple):
    """What is asked for this time instead of the activity's usual dose. None leaves the usual."""

    sides: tuple[Side | None, ...] | None = None
    sets: int | None = None
    reps: int | None = None
    phases: tuple[Phase, ...] | None = None
    hold_s: float | None = None
    cap_s: float | None = None
    rest_s: float | None = None
    shift_s: float | None = None
    duration_s: float | None = None
    countdown_s: int | None = None
    auto_next: bool | None = None


def plan_for(activity: Activity, injured: Side, *, seed: int, overrides: Overrides | None = None) -> BoutPlan:
    """The plan of an activity for an ankle injured on one side; `seed` fixes the order of directions.

    Both sides: the uninjured one first, all its sets or trials, then the injured one. Raises ValueError with a
    sentence when the dose cannot run.
    """
    asked = overrides or Overrides()
    dose = activity.dose
    sides = _or(asked.sides, _sides(activity, injured))
    sets = _or(asked.sets, dose.sets)
    shift_s = _or(asked.shift_s, dose.shift_s)
    duration_s = _or(asked.duration_s, dose.hold_s or dose.reps * shift_s)
    turns = len(sides) * max(sets, 0)
    return BoutPlan(
        activity=activity.id,
        name=activity.name,
        kind=activity.kind,
        injured=injured,
        sides=sides,
        sets=sets,
        reps=_or(asked.reps, dose.reps),
        phases=_or(asked.phases, dose.phases),
        hold_s=_or(asked.hold_s, dose.hold_s),
        cap_s=_or(asked.cap_s, dose.cap_s),
        rest_s=_or(asked.rest_s, dose.rest_s),
        countdown_s=_or(asked.countdown_s, 3),
        auto_next=_or(asked.auto_next, False),
        directions=_directions(activity, turns, duration_s, shift_s, seed),
        shift_s=shift_s,
        ask_pain=activity.ask_pain,
        painless=activity.painless,
        measure=activity.measure,
        own_protocol=bool(activity.measure) and _as_the_measure_says(activity, asked),
        rate=dose.rate,
        word=dose.word,
    )


def _or(asked: T | None, usual: T) -> T:
    return usual if asked is None else asked


def _sides(activity: Activity, injured: Side) -> tuple[Side | None, ...]:
    if activity.sides == "both":
        return (injured.other, injured)
    return (None,) if activity.sides == "none" else (injured,)


def _directions(activity: Activity, turns: int, duration_s: float, shift_s: float, seed: int) -> tuple[str, ...]:
    if activity.kind is not BoutKind.SHIFTS:
        return activity.directions
    if shift_s <= 0 or not activity.directions:
        return ()
    shifts = int(duration_s // shift_s)
    # Each turn is balanced by itself, since the two feet are compared by direction.
    return tuple(way for turn in range(turns) for way in balanced(activity.directions, shifts, seed + turn))


def _as_the_measure_says(activity: Activity, asked: Overrides) -> bool:
    fixed = ("sets", "reps", "phases", "hold_s", "cap_s")
    return all(getattr(asked, name) in (None, getattr(activity.dose, name)) for name in fixed)
