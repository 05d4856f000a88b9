"""The console script with its sound on, on the device that the library brings for tests, which plays nothing.

Arguments: `beside` or `handed`, the script, its words. A bell is rung where it is to be measured: by the loop,
beside the sound that it hands over; or by the player's thread, when the device is given the sound.
"""

from __future__ import annotations

import os
import runpy
import sys
from array import array
from collections.abc import Callable, Sequence
from typing import Any

import tui.clock.sound
from store.care.timing import Cue
from tui.clock.player import DevicePlayer, Player
from tui.clock.sound import Sounds

TERMINAL = 1
"""The descriptor of standard output, which the application has put something else in front of."""


class Rings:
    """A player that rings when it has given the device a sound: straight to the terminal, in its own thread.

    The application's bell would go by way of the thread that paints, which is no part of what is measured.
    """

    def __init__(self) -> None:
        self._player = DevicePlayer(("NULL",))

    def play(self, samples: array[int]) -> None:
        self._player.play(samples)
        os.write(TERMINAL, b"\a")

    def close(self) -> None:
        self._player.close()


class Sounding(Sounds):
    """Tones and numbers, whatever the settings say."""

    beside = True

    def __init__(self, ring: Callable[[], None], ticks: Callable[[], float], **_: Any) -> None:  # noqa: ANN401 - the settings, unread
        def opens() -> Player:
            return DevicePlayer(("NULL",)) if self.beside else Rings()

        super().__init__(ring, ticks, opens=opens)

    def cue(self, cues: Sequence[Cue]) -> None:
        """Hand it over; and ring beside it, where that is asked for."""
        super().cue(cues)
        if self.beside and self._audible:
            self._bell.cue(cues)


def main() -> None:
    """Run the console script so."""
    where, script, *words = sys.argv[1:]
    Sounding.beside = where == "beside"
    setattr(tui.clock.sound, "Sounds", Sounding)  # noqa: B010 - put in its place
    sys.argv = [script, *words]
    runpy.run_path(script, run_name="__main__")


if __name__ == "__main__":
    main()
