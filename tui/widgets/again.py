"""A question that the same key answers: not by a second tap on it, and not while it is held."""

from __future__ import annotations

from collections.abc import Callable

from store.care.timing import Guard


class Again:
    """What was asked last on a screen. `ticks` gives seconds on a clock that only runs forward."""

    def __init__(self, ticks: Callable[[], float]) -> None:
        self._ticks = ticks
        self._guard = Guard()
        self.about = ""
        """What the question is about; empty when nothing is asked."""

    def ask(self, about: str) -> None:
        """A question about this is put now."""
        self.about = about
        self._guard, _ = self._guard.pressed(self._now_ms())

    def answered(self, about: str) -> bool:
        """Whether a key that comes now answers what was asked about this.

        One that comes less than 700 ms after the question, or after the key before it, does not: it stays asked.
        """
        if about != self.about:
            return False
        self._guard, new = self._guard.pressed(self._now_ms())
        if new:
            self.about = ""
        return new

    def confirms(self, about: str) -> bool:
        """The same; where nothing was asked about it, it is now."""
        if self.answered(about):
            return True
        self.ask(about)
        return False

    def take_back(self) -> None:
        """Something else was done: the question is put anew."""
        self.about = ""

    def _now_ms(self) -> int:
        return int(self._ticks() * 1000)
