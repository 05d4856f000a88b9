"""Drives a bout in live time: it wakes at the bout's own instants, rings, has what is due written down, repaints.

Each timer is set for an instant counted from the bout's start, so lateness never adds up. Cues come from the plan
and need no disk; what is painted is only what is on disk.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import TypeVar

from store.care.faults import CareFault
from store.care.timing import GAP_MS, Cue, Instant, LiveBout, View
from store.knowledge.time import Clock
from tui.clock import sweeps
from tui.clock.hand import Hand
from tui.clock.sound import Sounder

T = TypeVar("T")

HEARTBEAT_S = 1.0
REPAINT_MS = 100  # for the seconds; what happens is painted when it happens
EARLY_S = 0.0015  # the loop wakes so much before a cue: the last moment is slept out exactly
LATE_MS = 500  # a cue so late would mislead whoever moves by it: it is left out
SLOW_S = 1.0  # a disk that takes longer is spoken of


def slept(before: Instant, at: Instant) -> bool:
    """Did the machine sleep in between, or the program stand still? Then the bout is about to be paused."""
    ran_s, wall_s = at.ticks - before.ticks, (at.wall.at - before.wall.at).total_seconds()
    return max(ran_s, wall_s) * 1000 > GAP_MS


class Driver:
    """The live side of one bout. `changed` is called when there may be something new to paint, in the loop.

    `failed` is called with the error of an act that could not be done or kept: what it did has not happened.
    """

    def __init__(
        self,
        bout: LiveBout,
        hand: Hand,
        clock: Clock,
        sounder: Sounder,
        *,
        changed: Callable[[], None],
        failed: Callable[[Exception], None],
    ) -> None:
        self.bout = bout
        self._hand = hand
        self._clock = clock
        self._sounder = sounder
        self._changed = changed
        self._failed = failed
        self._heard = Instant.now(clock)
        self._kept_at = self._heard.ticks - HEARTBEAT_S
        self._rung_ms = bout.ms_at(self._heard.ticks)
        self._asked: list[float] = []  # ticks at which acts were asked for that are not yet on disk
        self._stuck = False
        self._wakes: asyncio.TimerHandle | None = None
        self._repaints: asyncio.TimerHandle | None = None

    # what is seen

    def view(self) -> View:
        """The bout now, but never past what is on disk: what is due and not kept yet has not been counted."""
        now_ms, due_ms = self.bout.now_ms(), self.bout.next_due_ms()
        return self.bout.look(now_ms if due_ms is None else min(now_ms, due_ms - 1))

    @property
    def slow(self) -> bool:
        """Has something waited for the disk for more than a second?"""
        return bool(self._asked) and self._clock.ticks() - self._asked[0] > SLOW_S

    # time

    def start(self) -> None:
        """Begin to wake. Call it in the loop."""
        sweeps.hold_off()
        self.wake()
        self._repaint()

    def stop(self) -> None:
        """Wake no more. What was asked for is still written down."""
        if self._wakes is not None:
            sweeps.let_go()
        for timer in (self._wakes, self._repaints):
            if timer is not None:
                timer.cancel()
        self._wakes = self._repaints = None

    def wake(self) -> None:
        """Ring what is due; then ask for what is due to be written down; then set the next timer."""
        heard = self._heard
        self._sleep_to_cue()
        at = self._ring()
        due_ms = self.bout.next_due_ms()
        overdue = due_ms is not None and due_ms <= self.bout.ms_at(at.ticks) and self._may_keep
        if overdue or at.ticks - self._kept_at >= HEARTBEAT_S or slept(heard, at):
            self._kept_at = at.ticks
            self._ask(lambda: self.bout.tick(at), lambda _: None, at)
        self._arm()

    def _sleep_to_cue(self) -> None:
        """Sleep out the last millisecond before a cue, since the loop's own timers are no finer than one."""
        cue_ms = self.bout.next_cue_ms(self._rung_ms)
        left_s = 0.0 if cue_ms is None else self.bout.ticks_at(cue_ms) - self._clock.ticks()
        if 0 < left_s <= EARLY_S:
            time.sleep(left_s)

    @property
    def _may_keep(self) -> bool:
        """Not while an act waits, whose outcome is not known; nor, after a failure, before the next heartbeat."""
        return not self._asked and not self._stuck

    def _ring(self) -> Instant:
        at = Instant.now(self._clock)
        now_ms = self.bout.ms_at(at.ticks)
        if not slept(self._heard, at) and now_ms >= self._rung_ms:
            cues = [cue for cue in self.bout.cues(self._rung_ms, now_ms + 1) if now_ms - cue.at_ms <= LATE_MS]
            if cues:
                self._sounder.cue(cues)
        self._rung_ms = max(self._rung_ms, now_ms + 1)
        self._heard = at
        return at

    def _arm(self) -> None:
        """Set the timer for the next cue, event or heartbeat, on the loop's own clock."""
        at_ticks = [self._kept_at + HEARTBEAT_S]
        cue_ms, due_ms = self.bout.next_cue_ms(self._rung_ms), self.bout.next_due_ms()
        if cue_ms is not None:
            at_ticks.append(self.bout.ticks_at(cue_ms) - EARLY_S)
        if due_ms is not None and self._may_keep:
            at_ticks.append(self.bout.ticks_at(due_ms))
        wait_s = min(at_ticks) - self._clock.ticks()
        if self._wakes is not None:
            self._wakes.cancel()
        loop = asyncio.get_running_loop()
        self._wakes = loop.call_at(loop.time() + wait_s, self.wake)

    def _repaint(self) -> None:
        """Ten times a second, half-way between the instants at which something happens."""
        self._changed()
        wait_ms = REPAINT_MS - (self.bout.now_ms() + REPAINT_MS // 2) % REPAINT_MS
        if wait_ms < REPAINT_MS // 2:
            wait_ms += REPAINT_MS
        self._repaints = asyncio.get_running_loop().call_later(wait_ms / 1000, self._repaint)

    # acts

    def do(self, act: Callable[[LiveBout, Instant], T], then: Callable[[T], None] | None = None) -> None:
        """Have an act of a key done and written down, at the instant of this call; then hand on its result."""
        at = self._ring()
        at_ms = self.bout.ms_at(at.ticks)

        def kept(result: T) -> None:
            if self._wakes is not None and self.bout.state.since_ms == at_ms:
                self._rung_ms = min(self._rung_ms, at_ms)  # what this key began has cues of its own from here on
                self._ring()
            if then is not None:
                then(result)

        self._ask(lambda: act(self.bout, at), kept, at)

    def press(self) -> None:
        """The pedal, or space."""
        self.do(LiveBout.press, self._answer)

    def pause_or_resume(self) -> None:
        """Pause, or go on."""
        self.do(LiveBout.pause_or_resume, self._answer)

    def _answer(self, cue: Cue | None) -> None:
        if cue is not None:
            self._sounder.answer(cue)

    def _ask(self, act: Callable[[], T], then: Callable[[T], None], at: Instant) -> None:
        self._asked.append(at.ticks)

        def kept(result: T) -> None:
            self._asked.pop(0)
            self._stuck = False
            then(result)
            self._told()

        def failed(error: Exception) -> None:
            self._asked.pop(0)
            self._stuck = not isinstance(error, CareFault)  # what only came at the wrong time holds nothing up
            self._failed(error)
            self._told()

        self._hand.do(lambda _: act(), kept, failed)

    def _told(self) -> None:
        """Paint what is now on disk, and wake for what comes next; one that was stopped does neither."""
        if self._wakes is not None:
            self._changed()
            self._arm()
