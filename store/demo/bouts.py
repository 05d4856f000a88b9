"""Invented bouts: the pedal pressed and time let go by, as at the bout screen, so that only events are written."""

from __future__ import annotations

from collections.abc import Sequence

from store.bout.planning import Overrides
from store.care.timing import LiveBout, Mode
from store.knowledge.time import SetClock

__all__ = ["Overrides", "by_the_clock", "counted", "holds", "paced", "reaches", "shifts", "to_loss"]

HEARD_S = 5.0
"""How long a bout is left alone at most: after a longer silence it would pause, as on a laptop that slept."""

REST_S = 3.0
"""How long the invented person rests between two sets or holds."""


def wait(live: LiveBout, clock: SetClock, seconds: float) -> None:
    """Let time go by."""
    while seconds > 0:
        clock.move(min(seconds, HEARD_S))
        live.tick()
        seconds -= HEARD_S


def start(live: LiveBout, clock: SetClock) -> None:
    """Start a set, and let the countdown run out."""
    wait(live, clock, 1)
    live.press()
    wait(live, clock, live.plan.countdown_s)


def finish(live: LiveBout, clock: SetClock) -> None:
    """Let the set run to the end that the clock gives it."""
    while live.state.mode is Mode.WORKING:
        wait(live, clock, HEARD_S)


def rest(live: LiveBout, clock: SetClock, seconds: float = REST_S) -> None:
    """Rest, unless the last set is done."""
    if live.state.mode is Mode.REST:
        wait(live, clock, seconds)


def paced(live: LiveBout, clock: SetClock, pains: Sequence[int]) -> None:
    """Sets of paced reps, with the pain told after each."""
    for pain in pains:
        start(live, clock)
        finish(live, clock)
        live.pain(pain)
        rest(live, clock)
    live.end()


def by_the_clock(live: LiveBout, clock: SetClock, pains: Sequence[int], faults: Sequence[int] = ()) -> None:
    """Sets that the clock ends: oscillations, intervals, hops, timed work. Faults come first in each set."""
    for n, pain in enumerate(pains):
        start(live, clock)
        for _ in range(faults[n] if n < len(faults) else 0):
            wait(live, clock, 3)
            live.press()
        finish(live, clock)
        if live.plan.ask_pain:
            live.pain(pain)
        rest(live, clock)
    live.end()


def reaches(live: LiveBout, clock: SetClock) -> None:
    """Every reach of every set, one press each."""
    for _ in live.plan.turns:
        start(live, clock)
        while live.state.mode is Mode.WORKING:
            wait(live, clock, 2)
            live.press()
        rest(live, clock)
    live.end()


def holds(
    live: LiveBout, clock: SetClock, faults: Sequence[int], controls: Sequence[int], *, slip: bool = False
) -> None:
    """Holds of fixed time: faults spread over each, and the control graded after it; a `slip` is undone."""
    for n, count in enumerate(faults):
        start(live, clock)
        if slip and n == 0:
            wait(live, clock, 2)
            live.press()
            wait(live, clock, 1)
            live.undo()
        for _ in range(count):
            wait(live, clock, live.state.times.hold_ms / 1000 / (count + 1))
            live.press()
        finish(live, clock)
        if n < len(controls):
            live.control(controls[n])
        rest(live, clock)
    live.end()


def shifts(live: LiveBout, clock: SetClock, lost: Sequence[int]) -> None:
    """Direction shifts, of which those numbered got out of control."""
    start(live, clock)
    for n in range(1, live.plan.shifts + 1):
        wait(live, clock, live.plan.shift_s / 2)
        if n in lost:
            live.press()
        wait(live, clock, live.plan.shift_s / 2)
    live.end()


def to_loss(live: LiveBout, clock: SetClock, seconds: Sequence[float]) -> None:
    """Trials of a hold, each to its loss after so many seconds, or to the cap."""
    for trial in seconds:
        start(live, clock)
        wait(live, clock, min(trial, live.plan.cap_s))
        if live.state.mode is Mode.WORKING:
            live.press()
        rest(live, clock)
    live.end()


def counted(live: LiveBout, clock: SetClock, counts: Sequence[int]) -> None:
    """Raises in time with the beat, one press each, and the set ended after the last full one."""
    for count in counts:
        start(live, clock)
        for _ in range(count):
            wait(live, clock, 2)
            live.press()
        wait(live, clock, 1)
        live.end_set()
        rest(live, clock)
    live.end()
