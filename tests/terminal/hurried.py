"""The installed program in a hurry, for tests: `python hurried.py RATE DAYS BOTHFEET [ARGUMENT ...]`.

The console script BOTHFEET runs as it is installed; only its time is another one. While its event loop waits for
time to pass, time passes RATE times as fast, for the loop and for the clock that the command line makes; while it
works, time passes as ever, so that a busy machine never looks like a laptop that slept. The seconds of a bout are
painted as often in true time as ever. The calendar is DAYS ahead.
"""

from __future__ import annotations

import asyncio
import runpy
import selectors
import sys
import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import tui.clock.driver
import tui.command
from store.knowledge.time import Stamp
from tui.clock.system import SystemClock


@dataclass(slots=True)
class Hurry:
    """How much faster, and how much time was gained so far."""

    rate: float
    days: int
    gained_s: float = 0.0


class HurriedSelector(selectors.DefaultSelector):
    """Waits a part of what it is told to wait, and says that the whole has passed."""

    def __init__(self, hurry: Hurry) -> None:
        super().__init__()
        self._hurry = hurry

    def select(self, timeout: float | None = None) -> list[tuple[selectors.SelectorKey, int]]:
        """Wait for a file, or for time to pass."""
        rate = self._hurry.rate
        wanted = None if timeout is None else timeout / rate
        began = time.monotonic()
        found = super().select(wanted)
        waited = time.monotonic() - began
        self._hurry.gained_s += (waited if wanted is None else min(waited, wanted)) * (rate - 1)
        return found


class HurriedLoop(asyncio.SelectorEventLoop):
    """An event loop on hurried time."""

    def __init__(self, hurry: Hurry) -> None:
        super().__init__(HurriedSelector(hurry))
        self._hurry = hurry

    def time(self) -> float:
        """Its clock."""
        return time.monotonic() + self._hurry.gained_s


class HurriedLoops(asyncio.DefaultEventLoopPolicy):
    """Makes hurried loops."""

    def __init__(self, hurry: Hurry) -> None:
        super().__init__()
        self._hurry = hurry

    def new_event_loop(self) -> asyncio.AbstractEventLoop:
        """One more of them."""
        return HurriedLoop(self._hurry)


class HurriedClock(SystemClock):
    """The computer's own clock, and what was gained."""

    def __init__(self, hurry: Hurry) -> None:
        self._hurry = hurry

    def now(self) -> Stamp:
        """The wall clock."""
        gained = timedelta(days=self._hurry.days, seconds=self._hurry.gained_s)
        return Stamp.of((datetime.now(UTC) + gained).astimezone())

    def ticks(self) -> float:
        """Seconds for durations."""
        return super().ticks() + self._hurry.gained_s


def main() -> None:
    """Run the console script on hurried time."""
    rate, days, script, *arguments = sys.argv[1:]
    hurry = Hurry(float(rate), int(days))
    asyncio.set_event_loop_policy(HurriedLoops(hurry))
    setattr(tui.command, "SystemClock", lambda: HurriedClock(hurry))  # noqa: B010 - it is no part of that module
    tui.clock.driver.REPAINT_MS = int(tui.clock.driver.REPAINT_MS * hurry.rate)
    sys.argv = [script, *arguments]
    runpy.run_path(script, run_name="__main__")


if __name__ == "__main__":
    main()
