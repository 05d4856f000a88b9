"""What each kind of event does to a bout. An event that does not fit where the bout stands leaves it as it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from store.bout.events import GOING_ON, PAUSING, Event, Kind
from store.bout.pauses import go_on, pause
from store.bout.plan import BoutPlan, phases_from_data, phases_run, to_ms
from store.bout.state import Interval, Mode, SetResult, Shift, State, Times, interval_phase, open_ended
from store.knowledge.words import BoutKind

Step = Callable[[BoutPlan, State, Event], State]


def step(plan: BoutPlan, state: State, event: Event) -> State:
    """The state after an event, or the very same state if the event does not fit. Undo is not known here."""
    does = _DOES.get(event.kind)
    if does is None or state.ended:
        return state
    return does(plan, state, event)


def _set_started(plan: BoutPlan, state: State, event: Event) -> State:
    if state.mode not in (Mode.READY, Mode.REST):
        return state
    if event.void:
        return state._replace(waits=True)
    turn = plan.turns[state.turn]
    fresh = SetResult(state.turn, turn.side, turn.n, paced=plan.paced)
    return state.enter(Mode.COUNTDOWN, event.at_ms, fresh)


def _began(plan: BoutPlan, state: State, event: Event) -> State:
    del plan
    if state.mode is not Mode.COUNTDOWN:
        return state
    work = state.enter(Mode.WORKING, event.at_ms, state.current)._replace(rep_phases=state.times.phases)
    if state.stood is None:
        return work
    ran_ms, beats = state.stood
    since_ms = event.at_ms - ran_ms
    return work._replace(since_ms=since_ms, beats=beats, rep_from_ms=ran_ms, floor_ms=event.at_ms)


def _beat(plan: BoutPlan, state: State, event: Event) -> State:
    del plan, event
    if state.mode not in (Mode.WORKING, Mode.REST):
        return state
    return state._replace(beats=state.beats + 1)


def _paced_rep(plan: BoutPlan, state: State, event: Event) -> State:
    now = _working(plan, state, BoutKind.PACED, BoutKind.HOP_HOLD)
    if now is None or now.reps >= plan.target:
        return state
    return state._replace(
        current=now if event.void else now._replace(reps=now.reps + 1),
        rep_from_ms=state.run_ms(event.at_ms),
        rep_phases=state.times.phases,  # changed times pace the next rep, never the one under way
    )


def _counted_rep(plan: BoutPlan, state: State, event: Event) -> State:
    now = _working(plan, state, BoutKind.COUNTED, BoutKind.REACHES)
    if now is None or (now.reps >= plan.target and not open_ended(plan)):
        return state
    return state._replace(current=now._replace(reps=now.reps + 1), rep_from_ms=state.run_ms(event.at_ms))


def _fault(plan: BoutPlan, state: State, event: Event) -> State:
    del event
    now = _working(plan, state, BoutKind.HOLD_FIXED, BoutKind.HOP_HOLD)
    if now is None:
        return state
    at_rep = (*now.fault_reps, now.reps + 1) if plan.kind is BoutKind.HOP_HOLD else ()
    return state._replace(current=now._replace(faults=now.faults + 1, fault_reps=at_rep))


def _interval_done(plan: BoutPlan, state: State, event: Event) -> State:
    now = _working(plan, state, BoutKind.WALK_RUN)
    if now is None or len(now.intervals) >= plan.intervals:
        return state
    return state._replace(
        current=_with_interval(state, now, event.at_ms, skipped=event.kind is Kind.SKIPPED),
        rep_from_ms=state.run_ms(event.at_ms),
        rep_phases=state.times.phases,  # changed times hold from the next interval on
    )


def _direction(plan: BoutPlan, state: State, event: Event) -> State:
    del event
    now = _working(plan, state, BoutKind.SHIFTS)
    if now is None or len(now.shifts) >= plan.shifts:
        return state
    way = plan.directions_of(now.turn)[len(now.shifts)]
    return state._replace(current=now._replace(shifts=(*now.shifts, Shift(way))))


def _lost_control(plan: BoutPlan, state: State, event: Event) -> State:
    del event
    now = _working(plan, state, BoutKind.SHIFTS)
    if now is None or not now.shifts or not now.shifts[-1].controlled:
        return state
    lost = now.shifts[-1]._replace(controlled=False)
    return state._replace(current=now._replace(shifts=(*now.shifts[:-1], lost)))


def _lost(plan: BoutPlan, state: State, event: Event) -> State:
    now = _working(plan, state, BoutKind.HOLD_TO_LOSS)
    if now is None:
        return state
    ran, cap = state.run_ms(event.at_ms), to_ms(plan.cap_s)
    ended = now._replace(worked_ms=min(ran, cap), cap_reached=ran >= cap, lost=ran < cap, complete=True)
    return _finished(plan, state, event.at_ms, ended)


def _hold_done(plan: BoutPlan, state: State, event: Event) -> State:
    if plan.kind is BoutKind.HOLD_TO_LOSS:
        return _lost(plan, state, event)
    now = _working(plan, state, BoutKind.HOLD_FIXED, BoutKind.TIMED, BoutKind.OSCILLATIONS)
    if now is None:
        return state
    ended = now._replace(worked_ms=state.run_ms(event.at_ms), complete=True)
    return _finished(plan, state, event.at_ms, ended)


def _set_done(plan: BoutPlan, state: State, event: Event) -> State:
    now = state.current
    if now is None or state.mode is not Mode.WORKING or plan.by_time or plan.holds:
        return state
    ended = _so_far(plan, state, now, event.at_ms)
    return _finished(plan, state, event.at_ms, ended)


def _set_ended(plan: BoutPlan, state: State, event: Event) -> State:
    now = state.current
    if now is None or not state.in_set or plan.kind is BoutKind.HOLD_TO_LOSS:
        return state
    ended = _so_far(plan, state, now, event.at_ms)
    return _finished(plan, state, event.at_ms, ended)


def _rest_over(plan: BoutPlan, state: State, event: Event) -> State:
    del plan, event
    return state._replace(rest_over=True) if state.mode is Mode.REST and not state.rest_over else state


def _pain(plan: BoutPlan, state: State, event: Event) -> State:
    del plan
    n = _whole_number(event, 10)
    if n is None:
        return state
    if state.current is not None and state.in_set:
        return state._replace(current=state.current._replace(pain_during=(*state.current.pain_during, n)))
    return _of_last(state, lambda last: last._replace(pain=n))


def _control(plan: BoutPlan, state: State, event: Event) -> State:
    n = _whole_number(event, 3)
    if n is None or not plan.holds or state.in_set:
        return state
    return _of_last(state, lambda last: last._replace(control=n))


def _times(plan: BoutPlan, state: State, event: Event) -> State:
    del plan
    try:
        asked = times_from(state.times, event)
    except (KeyError, TypeError, ValueError, OverflowError):
        return state
    return state._replace(times=asked, floor_ms=event.at_ms)


def _end(plan: BoutPlan, state: State, event: Event) -> State:
    now = state.worth_keeping
    cut = () if now is None else (_so_far(plan, state, now, event.at_ms)._replace(complete=False),)
    done = (*state.done, *cut)
    return state.enter(Mode.DONE, event.at_ms, None)._replace(done=done, ended=True)


def times_from(now: Times, event: Event) -> Times:
    """The times in force after a change. Raises KeyError, TypeError, ValueError or OverflowError if unfit."""
    data = event.data
    phases = phases_from_data(data["phases"]) if "phases" in data else now.phases
    hold_ms = to_ms(data["hold_s"]) if "hold_s" in data else now.hold_ms
    rest_ms = to_ms(data["rest_s"]) if "rest_s" in data else now.rest_ms
    if ("phases" in data and not phases_run(phases)) or ("hold_s" in data and hold_ms <= 0) or rest_ms < 0:
        raise ValueError("phases and holds must take time, and a rest cannot be below zero")
    return Times(phases, hold_ms, rest_ms)


def _finished(plan: BoutPlan, state: State, at_ms: int, ended: SetResult) -> State:
    last = state.turn >= plan.last_turn
    after = state.enter(Mode.DONE if last else Mode.REST, at_ms, None)
    return after._replace(turn=state.turn if last else state.turn + 1, done=(*state.done, ended))


def _working(plan: BoutPlan, state: State, *kinds: BoutKind) -> SetResult | None:
    """The set at hand, if the bout is of one of these kinds and at work."""
    return state.current if plan.kind in kinds and state.mode is Mode.WORKING else None


def _so_far(plan: BoutPlan, state: State, now: SetResult, at_ms: int) -> SetResult:
    """The set as it ends now, with the interval it was in as far as that went."""
    worked_ms = state.worked_ms(at_ms)
    if len(now.intervals) < plan.intervals and worked_ms > state.rep_from_ms:
        now = _with_interval(state, now, at_ms, skipped=True)
    return now._replace(worked_ms=worked_ms, complete=_whole(plan, now))


def _with_interval(state: State, now: SetResult, at_ms: int, *, skipped: bool) -> SetResult:
    lasted_ms = state.run_ms(at_ms) - state.rep_from_ms
    interval = Interval(interval_phase(state, now).word, lasted_ms, skipped)
    return now._replace(intervals=(*now.intervals, interval))


def _whole(plan: BoutPlan, now: SetResult) -> bool:
    """Was all done that was planned? A hold that reaches its time says so itself."""
    if plan.kind is BoutKind.SHIFTS:
        return len(now.shifts) == plan.shifts
    if plan.kind is BoutKind.WALK_RUN:
        return len(now.intervals) == plan.intervals and not any(each.skipped for each in now.intervals)
    return not plan.holds and not plan.by_time and now.reps >= plan.target


def _of_last(state: State, change: Callable[[SetResult], SetResult]) -> State:
    if not state.done:
        return state
    return state._replace(done=(*state.done[:-1], change(state.done[-1])))


def _whole_number(event: Event, most: int) -> int | None:
    n = event.data.get("n")
    fits = isinstance(n, int) and not isinstance(n, bool) and 0 <= n <= most
    return n if fits else None


_DOES: Mapping[Kind, Step] = {
    Kind.SET_STARTED: _set_started,
    Kind.BEGAN: _began,
    Kind.BEAT: _beat,
    Kind.PACED_REP: _paced_rep,
    Kind.COUNTED_REP: _counted_rep,
    Kind.FAULT: _fault,
    Kind.DIRECTION: _direction,
    Kind.LOST_CONTROL: _lost_control,
    Kind.LOST: _lost,
    Kind.SKIPPED: _interval_done,
    Kind.INTERVAL_DONE: _interval_done,
    Kind.HOLD_DONE: _hold_done,
    Kind.SET_DONE: _set_done,
    Kind.SET_ENDED: _set_ended,
    Kind.REST_OVER: _rest_over,
    Kind.PAIN: _pain,
    Kind.CONTROL: _control,
    Kind.TIMES: _times,
    Kind.END: _end,
    **dict.fromkeys(PAUSING, pause),
    **dict.fromkeys(GOING_ON, go_on),
}
