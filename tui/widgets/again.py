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

    def confirms(self, about: str) -> bool:
        """Whether a key answers what was asked about this before; if not, it is asked now, or stays asked.

        A key that comes less than 700 ms after the question, or after the key before it, is no answer.
        """
        guard = self._guard if about == self.about else Guard()
        self._guard, new = guard.pressed(int(self._ticks() * 1000))
        if guard.last_ms is None or not new:
            self.about = about
            return False
        self.about = ""
        return True

    def take_back(self) -> None:
        """Something else was done: the question is put anew."""
        self.about = ""
