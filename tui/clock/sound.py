"""What is heard of a bout. The bell of the terminal now; whatever can make a tone may stand in its place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from time import sleep
from typing import Protocol

from store.care.timing import LAST_S, Cue, Tone

GIVE_WAY_S = 0.0002
"""Another thread writes the bell: unless this one rests for a moment, the bell waits for it, for milliseconds."""


class Sounder(Protocol):
    """Makes cues heard. `on` switches it; what is silent is still seen."""

    on: bool

    def cue(self, cues: Sequence[Cue]) -> None:
        """The cues that are due by the clock at this moment, one or more."""
        ...

    def answer(self, cue: Cue) -> None:
        """The cue that answers a press, once what it did is on disk."""
        ...


class Bell:
    """The terminal's bell has one tone only, so it rings sparingly: a room can bear a bell that means something.

    It rings when a phase, a hold, a shift or a rest starts or ends, in the last three seconds before, for a beat
    that sets the pace, and to answer a fault, a pause and a going on. It is silent for the tens of a hold, which
    would sound like its end, and for a rep counted by the pedal, which would sound like the beat.
    """

    def __init__(self, ring: Callable[[], None], *, on: bool = True) -> None:
        self._ring = ring
        self.on = on

    def cue(self, cues: Sequence[Cue]) -> None:
        """Ring once for all that is due together."""
        if self.on and any(_rings(cue) for cue in cues):
            self._out()

    def answer(self, cue: Cue) -> None:
        """Ring for a fault, a lost control, a pause and a going on."""
        if self.on and not (cue.tone is Tone.TICK and cue.say):
            self._out()

    def _out(self) -> None:
        self._ring()
        sleep(GIVE_WAY_S)


def _rings(cue: Cue) -> bool:
    if cue.tone is not Tone.TICK:
        return True
    return cue.say.isdigit() and int(cue.say) <= LAST_S
