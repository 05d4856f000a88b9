"""A bout's state is the fold of its events: one at a time as they happen, or all of them again from the record."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from store.bout.events import Event, Kind
from store.bout.plan import BoutPlan
from store.bout.state import State, opening
from store.bout.steps import step
from store.bout.undo import without


def advance(plan: BoutPlan, state: State, event: Event) -> State:
    """The state after one more event. One that does not fit where the bout stands changes nothing of it."""
    if event.kind is Kind.UNDO:
        after = _undone(plan, state, event)
        kept = after.kept
    else:
        after = step(plan, state, event)
        kept = state.kept if after is state else (*state.kept, event)
    return State(*after[:-3], max(state.seq, event.seq), max(state.known_ms, event.at_ms), kept)


def replay(plan: BoutPlan, events: Iterable[Event]) -> State:
    """The state after all these events, in their order."""
    return reduce(lambda state, event: advance(plan, state, event), events, opening(plan))


def _undone(plan: BoutPlan, state: State, event: Event) -> State:
    of = event.data.get("of", -1)
    if state.ended and of != state.kept[-1].seq:  # of a bout that has ended nothing but its ending is undone
        return state
    kept = without(state.kept, of, event.at_ms)
    again = reduce(lambda before, each: step(plan, before, each), kept, opening(plan))
    return again._replace(kept=kept)
