"""When nothing was heard for a while, since the machine slept or the program was stopped: the bout then pauses."""

from __future__ import annotations

from collections.abc import Iterable

from store.bout.events import Event, Kind
from store.bout.fold import replay
from store.bout.plan import BoutPlan
from store.bout.state import State

GAP_MS = 5000


def gap_noticed(state: State, last_ms: int, *, ran_ms: int, wall_ms: int) -> Event | None:
    """The event of a gap, or None if all is well or nothing runs.

    `last_ms` is the bout's clock at the last heartbeat; `ran_ms` and `wall_ms` are how far the running clock and
    the wall's have moved since. Ask before `due`: the bout pauses where it was, and nothing counts in between.
    """
    gap_ms = max(ran_ms, wall_ms)
    if gap_ms <= GAP_MS or not state.running:
        return None
    return Event(state.seq + 1, Kind.GAP, max(last_ms, state.known_ms), {"ms": gap_ms})


def reopened(plan: BoutPlan, events: Iterable[Event], *, taken: bool = False) -> Event | None:
    """The event to commit when a bout that was never ended is opened again, or None if it stands still already.

    It pauses the bout at the last instant that stands in its events; the driver's clock goes on from `known_ms`.
    `taken`: it was not cut short, but taken over from another window.
    """
    state = replay(plan, events)
    data = {"taken": True} if taken else {}
    return Event(state.seq + 1, Kind.INTERRUPTED, state.known_ms, data) if state.running else None
