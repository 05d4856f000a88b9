"""A screen whose questions are answered by a key each: the repeats of one that is held are no answers."""

from __future__ import annotations

from store.care.timing import Guard
from tui.widgets.keyed_screen import KeyedScreen

REPEATS_MS = 120
"""Repeats of a held key come sooner after one another, at about 33 ms, and a finger later (common practice)."""
HELD = "Held keys are not answers: y or n once for each question."


class Answering(KeyedScreen[None]):
    """Mixed into a screen that takes y and n."""

    _answer_key = ""
    _answer_guard = Guard()

    def is_held(self, key: str) -> bool:
        """Whether an answer is a repeat of the last one, by a key that is held; that is said then.

        What was typed ahead of it was meant for the questions behind this one, and is dropped.
        """
        guard = self._answer_guard if key == self._answer_key else Guard()
        self._answer_key = key
        self._answer_guard, new = guard.pressed(int(self.shell.clock.ticks() * 1000), REPEATS_MS)
        if not new:
            self.say(HELD)
            self.shell.drop_keys()
        return not new
