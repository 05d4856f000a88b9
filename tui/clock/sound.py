"""What is heard of a bout: tones and spoken numbers where the computer can make them, else the terminal's bell."""

from __future__ import annotations

import asyncio
from array import array
from collections.abc import Callable, Sequence
from time import sleep
from typing import Protocol

from store.care.timing import LAST_S, Cue, Tone
from tui.clock.loudspeaker import Loudspeaker
from tui.clock.player import Player, open_player
from tui.clock.speech import MAKER, Words, command_here
from tui.clock.tones import silence, tone_of

GIVE_WAY_S = 0.0002
"""Another thread writes the bell, or plays: unless this one rests for a moment, that waits, for milliseconds."""

AFTER_TONE_S = 0.03
"""Between a tone and the word that follows it."""


class Sounder(Protocol):
    """Makes cues heard. `on` switches it; what is silent is still seen."""

    on: bool

    @property
    def told(self) -> str:
        """What is heard now, in a sentence."""
        ...

    def prepare(self) -> None:
        """A timer is open: get ready to be heard. Call it in the loop; it returns at once."""
        ...

    def rest(self) -> None:
        """No timer is open any more."""
        ...

    def cue(self, cues: Sequence[Cue]) -> None:
        """The cues that are due by the clock at this moment, one or more."""
        ...

    def answer(self, cue: Cue) -> None:
        """The cue that answers a press, once what it did is on disk."""
        ...


class Bell:
    """The terminal's bell has one tone only, so it rings sparingly: a room can bear a bell that means something.

    It rings when a phase, a hold, a shift or a rest starts or ends, in the last three seconds before, for a beat
    that sets the pace, and to answer a fault, a pause and a going on. It is silent for the seconds of a hold that
    come before, which would sound like its end, and for a rep the pedal counts, which would sound like a beat.
    """

    def __init__(self, ring: Callable[[], None], *, on: bool = True) -> None:
        self._ring = ring
        self.on = on

    @property
    def told(self) -> str:
        """Whether it rings."""
        return f"The bell is {'on' if self.on else 'off'}."

    def prepare(self) -> None:
        """A bell is always ready."""

    def rest(self) -> None:
        """A bell holds nothing."""

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


def _says(cue: Cue) -> bool:
    """Is its word spoken? That of the way back in a rep is not: its tone says it, each time."""
    return cue.tone is not Tone.FALLING or cue.say == "paused"


class Sounds:
    """Tones and spoken numbers by the loudspeaker; the bell where it does not play, or tones are not wanted.

    `tones`, `speech` and `bell` are what the clinic wants at all; `on` is the switch of the timer. `ring` rings
    the terminal's bell, in the loop.
    """

    def __init__(
        self,
        ring: Callable[[], None],
        ticks: Callable[[], float],
        *,
        tones: bool = True,
        speech: bool = True,
        bell: bool = True,
        on: bool = True,
        opens: Callable[[], Player] | None = None,
        words: Words | None = None,
    ) -> None:
        self.on = on
        self._ticks = ticks
        self._tones = tones
        self._speech = speech
        self._bell = Bell(ring, on=bell)
        self._opens = opens or open_player
        self._words = words or Words(MAKER if speech and command_here() else None)
        self._loud: Loudspeaker | None = None
        self._loop: asyncio.AbstractEventLoop | None = None
        self._timers = 0  # that are open: the next may open before the last is gone

    @property
    def told(self) -> str:
        """What is heard now; where that is less than is wanted, why."""
        if not self.on:
            return "Sound is off."
        if self._audible:
            speaks = self._speech and self._words.can_speak
            heard = [word for word, so in (("tones", self._tones), ("spoken numbers", speaks)) if so]
            if not self._tones and self._bell.on:
                heard.append("the bell")
            return f"Sound is on: {' and '.join(heard) or 'nothing to be heard, by the settings'}."
        why = f"; no tones, since {self._loud.why}" if self._loud is not None else ""
        return f"Sound is on: {'the bell' if self._bell.on else 'nothing to be heard'}{why}."

    @property
    def _audible(self) -> bool:
        return self._loud is not None and self._loud.plays

    def prepare(self) -> None:
        """Open the device and make the words, in threads. A device that failed before is tried again."""
        self._loop = asyncio.get_running_loop()
        self._timers += 1
        if not (self._tones or self._speech):
            return
        if self._loud is None:
            self._loud = Loudspeaker(self._opened, self._ticks)
        if self._speech:
            self._words.prepare()

    def _opened(self) -> Player:
        """In the thread: the tones made, and the device opened. A tone made when it is due comes 10 ms late."""
        for tone in Tone:
            tone_of(tone)
        return self._opens()

    def rest(self) -> None:
        """Let the device go, in its thread."""
        self._timers = max(0, self._timers - 1)
        if self._timers == 0 and self._loud is not None:
            self._loud.close()
            self._loud = None

    def cue(self, cues: Sequence[Cue]) -> None:
        """Tones, words, or the bell, for all that is due together."""
        self._out(cues, lambda: self._bell.cue(cues))

    def answer(self, cue: Cue) -> None:
        """The same, for the answer to a press."""
        self._out((cue,), lambda: self._bell.answer(cue))

    def _out(self, cues: Sequence[Cue], rings: Callable[[], None]) -> None:
        if not self.on:
            return
        loud = self._loud if self._audible else None
        if loud is None or not self._tones:
            rings()
        if loud is not None and (samples := self._samples(cues)):
            loud.play(samples, lambda: self._lost(rings))
            sleep(GIVE_WAY_S)

    def _lost(self, rings: Callable[[], None]) -> None:
        """Ring after all for what the player failed on; called in the player's thread."""
        if self._tones and self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(rings)

    def _samples(self, cues: Sequence[Cue]) -> array[int]:
        """The tone of the weightiest cue, then the first word that is spoken."""
        made = array("h")
        if self._tones:
            first = max(cues, key=lambda cue: cue.tone is not Tone.TICK)
            made += tone_of(first.tone)
        words = (self._words.of(cue.say) for cue in cues if _says(cue)) if self._speech else ()
        word = next((each for each in words if each), None)
        if word is not None:
            made += (silence(AFTER_TONE_S) if made else array("h")) + word
        return made
