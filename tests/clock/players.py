"""Players that stand in for the sound device, and a wait for what another thread does."""

from __future__ import annotations

import threading
from array import array
from collections.abc import Callable

from tui.clock.player import PlayerFault

PATIENCE_S = 20.0


class Heard:
    """A player that notes what it is given. `held` stops it; `broken` makes it raise."""

    def __init__(self) -> None:
        self.sounds: list[array[int]] = []
        self.opened = 0
        self.closed = threading.Event()
        self.broken = False
        self.let_go = threading.Event()
        self.let_go.set()
        self.asked = threading.Event()

    def open(self) -> Heard:
        self.opened += 1
        self.closed.clear()
        return self

    def play(self, samples: array[int]) -> None:
        self.asked.set()
        assert self.let_go.wait(PATIENCE_S)
        if self.broken:
            raise PlayerFault("the sound device takes no more sound")
        self.sounds.append(samples)

    def close(self) -> None:
        self.closed.set()


def until(so: Callable[[], bool]) -> None:
    """Wait, without sleeping, for what another thread brings about."""
    pause, left = threading.Event(), int(PATIENCE_S * 1000)
    while not so():
        left -= 1
        assert left, "it never came"
        pause.wait(0.001)
