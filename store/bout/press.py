"""What the pedal, or space, means where the bout stands; and that a held pedal is one press."""

from __future__ import annotations

from typing import NamedTuple

from store.bout.events import NO_DATA, Event, Kind
from store.bout.pauses import how_it_goes_on
from store.bout.plan import BoutPlan
from store.bout.state import Mode, State
from store.knowledge.words import BoutKind

HELD_MS = 700  # a held pedal repeats faster than this, and a person is slower (common practice)
LATE_MS = 700  # a press so soon after the clock ended a set was meant for the set (common practice)


class Guard(NamedTuple):
    """Tells a new press from the repeats of a held one, by the last press of either sort."""

    last_ms: int | None = None

    def pressed(self, at_ms: int, least_ms: int = HELD_MS) -> tuple[Guard, bool]:
        """The guard after a press, and whether it is a new one: no closer than this to the press before it."""
        return Guard(at_ms), self.last_ms is None or at_ms - self.last_ms >= least_ms


class Meaning(NamedTuple):
    """What a press does now: the event it makes, and its words for the foot of the screen."""

    kind: Kind
    says: str


def meaning(plan: BoutPlan, state: State) -> Meaning | None:
    """What a press means now, or None if it means nothing."""
    match state.mode:
        case Mode.READY:
            return Meaning(Kind.SET_STARTED, "start")
        case Mode.COUNTDOWN:
            return Meaning(Kind.STOPPED, "stop")
        case Mode.WORKING:
            return _in_work(plan, state)
        case Mode.REST:
            return Meaning(Kind.SET_STARTED, f"start the next {plan.unit}")
        case Mode.PAUSED:
            again = plan.kind is BoutKind.HOLD_TO_LOSS and state.doing is Mode.WORKING
            return Meaning(Kind.WENT_ON, "do this trial again" if again else "go on")
    return None


def press(plan: BoutPlan, state: State, at_ms: int) -> Event | None:
    """The event a new press makes now, or None. Take it through `guarded` unless the guard was asked already.

    Fold in what is due first. A fault or a loss that comes too late for its set must not start the next one.
    """
    means = meaning(plan, state)
    too_late = state.mode is Mode.REST and at_ms - state.since_ms < LATE_MS
    if means is None or too_late:
        return None
    data = how_it_goes_on(plan, state) if means.kind is Kind.WENT_ON else NO_DATA
    return Event(state.seq + 1, means.kind, at_ms, data)


def guarded(plan: BoutPlan, state: State, guard: Guard, at_ms: int) -> tuple[Guard, Event | None]:
    """The guard after any press, held or new, and the event if it was a new one that means something."""
    guard, new = guard.pressed(at_ms)
    return guard, press(plan, state, at_ms) if new else None


def _in_work(plan: BoutPlan, state: State) -> Meaning | None:
    match plan.kind:
        case BoutKind.PACED | BoutKind.OSCILLATIONS | BoutKind.TIMED:
            return Meaning(Kind.STOPPED, "stop")
        case BoutKind.COUNTED:
            return Meaning(Kind.COUNTED_REP, "count one")
        case BoutKind.HOLD_TO_LOSS:
            return Meaning(Kind.LOST, "lost it")
        case BoutKind.REACHES:
            return Meaning(Kind.COUNTED_REP, "reached")
        case BoutKind.WALK_RUN:
            return Meaning(Kind.SKIPPED, _skip(plan, state))
        case BoutKind.HOLD_FIXED | BoutKind.HOP_HOLD:
            return Meaning(Kind.FAULT, "one fault")
        case BoutKind.SHIFTS:
            shifts = state.current.shifts if state.current else ()
            in_control = bool(shifts) and shifts[-1].controlled
            return Meaning(Kind.LOST_CONTROL, "lost control") if in_control else None


def _skip(plan: BoutPlan, state: State) -> str:
    following = len(state.current.intervals) + 1 if state.current else 0
    if following >= plan.intervals:
        return "end the last interval"
    return f"skip to {plan.phases[following % len(plan.phases)].word.lower()}"
