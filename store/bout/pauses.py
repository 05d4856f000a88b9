"""Pausing and going on: time stands still in between, and a sentence says why."""

from __future__ import annotations

from typing import Any

from store.bout.events import COUNT_IN, NO_DATA, Event, Kind
from store.bout.plan import BoutPlan
from store.bout.state import Mode, State, Stood
from store.knowledge.words import BoutKind

AGAIN = " This trial is then done again from its start."
GO_ON = "Press space to go on."


def pause(plan: BoutPlan, state: State, event: Event) -> State:
    """Stand still where the work, countdown or rest has come to."""
    left = event.kind is Kind.LEAVE
    if not state.running:
        paused_already = left and state.mode is Mode.PAUSED
        return state._replace(left=True, sentence=_why(plan, state, event)) if paused_already else state
    return state._replace(
        mode=Mode.PAUSED,
        paused_in=state.mode,
        held_ms=state.run_ms(event.at_ms),
        sentence=_why(plan, state, event),
        left=left,
    )


def go_on(plan: BoutPlan, state: State, event: Event) -> State:
    """Go on from where it stood still.

    A countdown starts afresh, and so does a trial of time to loss: interrupted, it would measure nothing. A hold
    of fixed time is counted in first, where the event says so: in older bouts it went on at once.
    """
    if state.mode is not Mode.PAUSED or state.paused_in is None:
        return state
    to_loss = plan.kind is BoutKind.HOLD_TO_LOSS and state.paused_in is Mode.WORKING
    if state.paused_in is Mode.COUNTDOWN or to_loss:
        return state.enter(Mode.COUNTDOWN, event.at_ms, state.current)._replace(stood=state.stood)
    if event.data.get(COUNT_IN) is True and _is_held(plan, state):
        stood = Stood(state.held_ms, state.beats)
        return state.enter(Mode.COUNTDOWN, event.at_ms, state.current)._replace(stood=stood)
    return state._replace(
        mode=state.paused_in,
        paused_in=None,
        since_ms=event.at_ms - state.held_ms,
        held_ms=0,
        floor_ms=event.at_ms,
        sentence="",
        left=False,
    )


def how_it_goes_on(plan: BoutPlan, state: State) -> dict[str, Any]:
    """What the event holds that lets a paused bout go on: whoever holds a position takes it up again first."""
    return {COUNT_IN: True} if _is_held(plan, state) else NO_DATA


def _is_held(plan: BoutPlan, state: State) -> bool:
    return plan.kind is BoutKind.HOLD_FIXED and state.paused_in is Mode.WORKING


def _why(plan: BoutPlan, state: State, event: Event) -> str:
    trial = plan.kind is BoutKind.HOLD_TO_LOSS and state.doing is Mode.WORKING
    return _by(event) + (AGAIN if trial else "")


def _by(event: Event) -> str:
    match event.kind:
        case Kind.PAUSE if (n := event.data.get("pain")) is not None:
            return f"Pain {n}: stopped. {GO_ON}"
        case Kind.STOPPED:
            return "Stopped. Press again to go on."
        case Kind.LEAVE:
            return f"This bout was kept paused. {GO_ON}"
        case Kind.GAP:
            gap_ms = event.data.get("ms")
            away = f" for {gap_ms // 1000} s" if isinstance(gap_ms, int) else ""
            return f"The computer stood still{away}, so the bout is paused where it was. {GO_ON}"
        case Kind.INTERRUPTED if event.data.get("taken") is True:
            return f"Taken over from another window, paused where it was. {GO_ON}"
        case Kind.INTERRUPTED:
            return f"The program stopped in the middle of this bout. It is paused where it was. {GO_ON}"
    return f"Paused. {GO_ON}"
