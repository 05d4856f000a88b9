"""What can happen in a bout. Everything that is counted stands in an event before it is shown."""

from __future__ import annotations

from enum import StrEnum
from typing import Any, NamedTuple


class Kind(StrEnum):
    """The kinds of events, as the record spells them. What `data` holds stands beside the kind."""

    # by the pedal
    SET_STARTED = "set_started"  # the countdown starts; {"auto": true} when it started by itself
    COUNTED_REP = "counted_rep"
    FAULT = "fault"
    LOST_CONTROL = "lost_control"
    LOST = "lost"
    SKIPPED = "skipped"  # on to the next interval
    STOPPED = "stopped"
    WENT_ON = "went_on"  # {"count_in": true} when a hold is counted in again first
    # by the clock
    BEGAN = "began"  # the countdown has run out
    BEAT = "beat"  # a whole second {"s": 7}
    PACED_REP = "paced_rep"
    DIRECTION = "direction"  # the next shift {"direction": "forward"}
    INTERVAL_DONE = "interval_done"
    HOLD_DONE = "hold_done"  # the time or the cap is reached
    SET_DONE = "set_done"
    REST_OVER = "rest_over"
    # by a key
    SET_ENDED = "set_ended"
    PAUSE = "pause"  # {"pain": n} when a pain stopped it
    RESUME = "resume"  # as with the pedal
    PAIN = "pain"  # {"n": 0-10}
    CONTROL = "control"  # {"n": 0-3}
    TIMES = "times"  # any of {"phases": [{"word", "seconds"}], "hold_s", "rest_s"}
    UNDO = "undo"  # {"of": seq}
    END = "end"
    LEAVE = "leave"
    # by the machine
    GAP = "gap"  # {"ms": how long nothing was heard}
    INTERRUPTED = "interrupted"  # {"taken": true} when another window took it over


PAUSING = frozenset({Kind.STOPPED, Kind.PAUSE, Kind.LEAVE, Kind.GAP, Kind.INTERRUPTED})
GOING_ON = frozenset({Kind.WENT_ON, Kind.RESUME})


COUNT_IN = "count_in"

NO_DATA: dict[str, Any] = {}
"""Of an event that has none to tell: like all of an event, never changed in place."""


class Event(NamedTuple):
    """Something that happened, `at_ms` on the bout's own clock. `seq` rises by one with each event of a bout."""

    seq: int
    kind: Kind
    at_ms: int
    data: dict[str, Any] = NO_DATA

    @property
    def auto(self) -> bool:
        """Did a set start by itself?"""
        return self.data.get("auto") is True

    @property
    def void(self) -> bool:
        """Was it undone, yet leaves a trace: a paced rep that took its time, a set that waits after all?"""
        return self.data.get("void") is True


def event_from(seq: int, kind: str, at_ms: int, data: dict[str, Any]) -> Event:
    """An event from its kept parts. Raises ValueError with a sentence for a kind that this copy does not know."""
    try:
        return Event(seq, Kind(kind), at_ms, data)
    except ValueError as unknown:
        raise ValueError(f"This bout holds '{kind}', which this version does not know.") from unknown
