"""What the clock brings about, each at its exact instant: counted from the start, so lateness never adds up."""

from __future__ import annotations

from store.bout.events import Event, Kind
from store.bout.fold import advance
from store.bout.plan import BoutPlan, to_ms
from store.bout.state import Mode, SetResult, State, advice, beat_ms, cycle_ms, interval_phase, most_pain
from store.knowledge.words import BoutKind


def due(plan: BoutPlan, state: State, at_ms: int) -> tuple[Event, ...]:
    """The automatic events due by now, to be committed and folded, in this order, before anything is shown."""
    return fallen_due(plan, state, at_ms)[0]


def fallen_due(plan: BoutPlan, state: State, at_ms: int) -> tuple[tuple[Event, ...], State]:
    """The same, and the state that they make of this one once they are committed."""
    events: list[Event] = []
    while (event := next_event(plan, state)) is not None and event.at_ms <= at_ms:
        events.append(event)
        state = advance(plan, state, event)
    return tuple(events), state


def next_due_ms(plan: BoutPlan, state: State) -> int | None:
    """When the next automatic event is due, so that the driver knows when to wake; None while nothing runs."""
    event = next_event(plan, state)
    return None if event is None else event.at_ms


def next_event(plan: BoutPlan, state: State) -> Event | None:
    """The next automatic event: a beat, or a turning."""
    turn, beat = turning(plan, state), _beat(state)
    if beat is None or (turn is not None and turn.at_ms < beat.at_ms):
        return turn
    return beat


def turning(plan: BoutPlan, state: State) -> Event | None:
    """The next automatic event that changes more than the seconds."""
    match state.mode:
        case Mode.COUNTDOWN:
            return _event(state, Kind.BEGAN, to_ms(plan.countdown_s))
        case Mode.WORKING if state.current is not None:
            return _in_work(plan, state, state.current)
        case Mode.REST:
            return _in_rest(plan, state)
    return None


def _beat(state: State) -> Event | None:
    if state.mode not in (Mode.WORKING, Mode.REST):
        return None
    ran_ms = beat_ms(state.mode, state.beats + 1)
    return _event(state, Kind.BEAT, ran_ms, s=ran_ms // 1000)


def _in_work(plan: BoutPlan, state: State, now: SetResult) -> Event | None:
    match plan.kind:
        case BoutKind.PACED | BoutKind.HOP_HOLD:
            if now.reps >= plan.target:
                return _event(state, Kind.SET_DONE, state.rep_from_ms)
            return _event(state, Kind.PACED_REP, state.rep_from_ms + cycle_ms(state.rep_phases))
        case BoutKind.COUNTED | BoutKind.REACHES:
            reached = 0 < plan.target <= now.reps
            return _event(state, Kind.SET_DONE, state.rep_from_ms) if reached else None
        case BoutKind.HOLD_TO_LOSS:
            return _event(state, Kind.HOLD_DONE, to_ms(plan.cap_s))
        case BoutKind.HOLD_FIXED | BoutKind.TIMED | BoutKind.OSCILLATIONS:
            return _event(state, Kind.HOLD_DONE, state.times.hold_ms)
        case BoutKind.SHIFTS:
            return _shift(plan, state, now)
        case BoutKind.WALK_RUN:
            if len(now.intervals) >= plan.intervals:
                return _event(state, Kind.SET_DONE, state.rep_from_ms)
            lasts_ms = to_ms(interval_phase(state, now).seconds)
            return _event(state, Kind.INTERVAL_DONE, state.rep_from_ms + lasts_ms)


def _shift(plan: BoutPlan, state: State, now: SetResult) -> Event:
    begun = len(now.shifts)
    ran_ms = begun * to_ms(plan.shift_s)
    if begun >= plan.shifts:
        return _event(state, Kind.SET_DONE, ran_ms)
    return _event(state, Kind.DIRECTION, ran_ms, direction=plan.directions_of(now.turn)[begun])


def _in_rest(plan: BoutPlan, state: State) -> Event | None:
    if not state.rest_over:
        return _event(state, Kind.REST_OVER, state.times.rest_ms)
    # A set never starts by itself into a pain that asks for a change, nor after its start was undone.
    hurts = any(n > most_pain(plan) for result in state.done[-1:] for n in result.pains[-1:])
    alone = plan.auto_next and not state.waits and not hurts and not advice(plan, state)
    return _event(state, Kind.SET_STARTED, state.times.rest_ms, auto=True) if alone else None


def _event(state: State, kind: Kind, ran_ms: int, **data: object) -> Event:
    """An event that is due once the stretch at hand has run so long."""
    return Event(state.seq + 1, kind, max(state.since_ms + ran_ms, state.floor_ms), data)
