"""What the keys other than the pedal do in a bout: each gives an event, or says why it cannot now."""

from __future__ import annotations

from typing import Any, NamedTuple

from store.bout.events import Event, Kind
from store.bout.pauses import how_it_goes_on
from store.bout.plan import BoutPlan, phases_as_data
from store.bout.state import Mode, State, most_pain
from store.bout.steps import times_from
from store.bout.undo import last_undoable
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind

PHASED = (BoutKind.PACED, BoutKind.COUNTED, BoutKind.HOP_HOLD, BoutKind.WALK_RUN)
"""The kinds that go by phases."""


class NotNow(NamedTuple):
    """Why a key does nothing now, as a sentence for the person at the keyboard."""

    says: str


_ENDED = NotNow("This bout has ended.")


def pain(plan: BoutPlan, state: State, at_ms: int, n: int) -> Event | NotNow:
    """Pain 0-10: of the set under way, else of the set last done, where a second answer replaces the first."""
    del plan
    if not 0 <= n <= 10:
        return NotNow("Pain is a whole number from 0 to 10.")
    if not state.done and not state.in_set:
        return NotNow("No set has begun yet: pain is given during or after a set.")
    return _unless_ended(state, at_ms, Kind.PAIN, n=n)


def pain_stops(plan: BoutPlan, state: State, told: Event) -> Event | None:
    """The pause that a pain brings with it, or None: nothing goes on by itself through too much of it.

    `state` is the one before the pain was told. A rest is let run on: nothing is done in it.
    """
    n = told.data["n"]
    moving = state.running and state.doing in (Mode.COUNTDOWN, Mode.WORKING)
    if not moving or n < most_pain(plan) + 1:
        return None
    return Event(told.seq + 1, Kind.PAUSE, told.at_ms, {"pain": n})


def control(plan: BoutPlan, state: State, at_ms: int, n: int) -> Event | NotNow:
    """Control of the hold last done: 0 lost at once, 1 large corrections, 2 small corrections, 3 steady."""
    if not plan.holds:
        return NotNow("Control is graded after a hold, and this is none.")
    if not 0 <= n <= 3:
        return NotNow("Control is graded 0 lost at once, 1 large corrections, 2 small corrections, 3 steady.")
    if not state.done or state.in_set:
        return NotNow("Control is graded once a hold has ended.")
    return _unless_ended(state, at_ms, Kind.CONTROL, n=n)


def pause_or_resume(plan: BoutPlan, state: State, at_ms: int) -> Event | NotNow:
    """Pause what runs, or go on with what is paused."""
    if state.mode is Mode.PAUSED:
        return _unless_ended(state, at_ms, Kind.RESUME, **how_it_goes_on(plan, state))
    if state.running:
        return _unless_ended(state, at_ms, Kind.PAUSE)
    return NotNow("Nothing runs that could be paused.") if not state.ended else _ENDED


def undo(plan: BoutPlan, state: State, at_ms: int) -> Event | NotNow:
    """Undo the last thing that can be undone. An undo is not undone."""
    del plan
    last = last_undoable(state.kept)
    if last is None:
        return NotNow("There is nothing to undo in this bout.")
    return _unless_ended(state, at_ms, Kind.UNDO, of=last.seq)


def end_set(plan: BoutPlan, state: State, at_ms: int) -> Event | NotNow:
    """End this set and keep it as far as it went. Counted reps of no set number end in this way."""
    if not state.in_set:
        return NotNow(f"No {plan.unit} is under way.")
    if plan.kind is BoutKind.HOLD_TO_LOSS:
        return NotNow("Press space when the position is lost: that ends the trial.")
    return _unless_ended(state, at_ms, Kind.SET_ENDED)


def end(plan: BoutPlan, state: State, at_ms: int) -> Event | NotNow:
    """End the bout here. `state.keeps` says beforehand whether there is anything to keep."""
    del plan
    return _unless_ended(state, at_ms, Kind.END)


def undo_end(plan: BoutPlan, state: State, at_ms: int) -> Event | NotNow:
    """Undo the ending: what was under way stands paused where it was."""
    del plan
    if not state.ended:
        return NotNow("This bout has not ended.")
    return Event(state.seq + 1, Kind.UNDO, at_ms, {"of": state.kept[-1].seq})


def leave(plan: BoutPlan, state: State, at_ms: int) -> Event | NotNow:
    """Leave the bout paused, to come back to."""
    del plan
    return _unless_ended(state, at_ms, Kind.LEAVE)


def set_times(
    plan: BoutPlan,
    state: State,
    at_ms: int,
    *,
    phases: tuple[Phase, ...] | None = None,
    hold_s: float | None = None,
    rest_s: float | None = None,
) -> Event | NotNow:
    """Change times in the bout: phases from the next rep or interval (counted reps: the next set), others at once.

    `hold_s` is the time of a hold, of timed work or of a set of oscillations.
    """
    if phases is not None and plan.kind not in PHASED:
        return NotNow("Only reps and intervals have phases.")
    if hold_s is not None and plan.kind is BoutKind.HOLD_TO_LOSS:
        return NotNow("The cap belongs to the measure, and stays the same all through a test.")
    if hold_s is not None and not plan.by_time:
        return NotNow("Only a hold or a set of fixed time has such a time.")
    asked: dict[str, Any] = {"hold_s": hold_s, "rest_s": rest_s}
    asked["phases"] = None if phases is None else phases_as_data(phases)
    data = {name: value for name, value in asked.items() if value is not None}
    if not data:
        return NotNow("No time was given.")
    event = Event(state.seq + 1, Kind.TIMES, at_ms, data)
    try:
        times_from(state.times, event)
    except (ValueError, OverflowError):
        return NotNow("Phases and holds need more than 0 seconds, and a rest cannot be below 0.")
    return _ENDED if state.ended else event


def _unless_ended(state: State, at_ms: int, kind: Kind, **data: int) -> Event | NotNow:
    return _ENDED if state.ended else Event(state.seq + 1, kind, at_ms, data)
