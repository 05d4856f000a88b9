"""Tones, spoken numbers and the bell, before players that note, fail, hang or are missing."""

from __future__ import annotations

import asyncio
import sys
from array import array
from collections.abc import Callable
from pathlib import Path

import pytest

from store.care.timing import Cue, Mode, Tone
from tests.clock.desk import desk, held_disk
from tests.clock.players import Heard, until
from tui.clock.driver import Driver
from tui.clock.loudspeaker import STUCK_S
from tui.clock.player import Player, PlayerFault
from tui.clock.sound import AFTER_TONE_S, Sounds
from tui.clock.speech import Words
from tui.clock.tones import silence, tone_of

TEN = array("h", [10] * 100)


class Spoken(Words):
    """Words as if they were made."""

    def __init__(self, **words: array[int]) -> None:
        super().__init__([sys.executable, "-c", ""])
        self._made = words  # as if they were made: what makes none leaves them


class Stage:
    """Sounds before a player that notes, and a bell that counts."""

    def __init__(
        self,
        *,
        tones: bool = True,
        speech: bool = True,
        bell: bool = True,
        opens: Callable[[], Player] | None = None,
    ) -> None:
        self.player, self.rings, self.now = Heard(), 0, 0.0
        self.sounds = Sounds(
            self._ring, lambda: self.now,
            tones=tones, speech=speech, bell=bell, opens=opens or self.player.open, words=Spoken(**{"10": TEN}),
        )  # fmt: skip

    def _ring(self) -> None:
        self.rings += 1

    def ready(self) -> Stage:
        self.sounds.prepare()
        until(lambda: self.sounds._audible)
        return self

    def heard(self, count: int) -> None:
        """Wait until so many sounds were played."""
        until(lambda: len(self.player.sounds) >= count)

    def cue(self, *cues: Cue) -> None:
        """Let cues be due, and wait until what plays has taken them."""
        before = len(self.player.sounds)
        self.sounds.cue(cues)
        self.heard(before + 1)


async def test_a_phase_is_heard_as_its_tone_and_the_bell_is_silent() -> None:
    at = Stage().ready()
    for tone in (Tone.RISING, Tone.LEVEL, Tone.FALLING, Tone.END):
        at.cue(Cue(0, tone, "any"))
        assert at.player.sounds[-1] == tone_of(tone)
    assert at.rings == 0
    at.sounds.rest()


async def test_a_number_is_spoken_after_its_tick() -> None:
    at = Stage().ready()
    at.cue(Cue(0, Tone.TICK, "10"))
    assert at.player.sounds == [tone_of(Tone.TICK) + silence(AFTER_TONE_S) + TEN]


async def test_of_what_is_due_together_a_tone_counts_before_a_tick_and_one_sound_is_made() -> None:
    at = Stage().ready()
    at.cue(Cue(0, Tone.TICK, "10"), Cue(0, Tone.END, "rest"))
    assert at.player.sounds == [tone_of(Tone.END) + silence(AFTER_TONE_S) + TEN]


async def test_without_tones_numbers_are_spoken_and_the_bell_rings() -> None:
    at = Stage(tones=False).ready()
    at.cue(Cue(0, Tone.RISING, "10"))
    assert (at.player.sounds, at.rings) == ([TEN], 1)
    at.sounds.cue([Cue(0, Tone.RISING, "go")])
    assert at.rings == 2
    assert at.sounds.told == "Sound is on: spoken numbers and the bell."


async def test_without_speech_nothing_is_spoken() -> None:
    at = Stage(speech=False).ready()
    at.cue(Cue(0, Tone.TICK, "10"))
    assert at.player.sounds == [tone_of(Tone.TICK)]
    assert at.sounds.told == "Sound is on: tones."


async def test_all_off_opens_nothing_and_rings_nothing() -> None:
    at = Stage(tones=False, speech=False, bell=False)
    at.sounds.prepare()
    at.sounds.cue([Cue(0, Tone.END, "rest")])
    assert (at.player.opened, at.rings) == (0, 0)
    assert at.sounds.told == "Sound is on: nothing to be heard."


async def test_the_switch_silences_all_and_brings_all_back() -> None:
    at = Stage().ready()
    at.sounds.on = False
    at.sounds.cue([Cue(0, Tone.END, "rest")])
    at.sounds.answer(Cue(0, Tone.TICK))
    assert at.sounds.told == "Sound is off."
    at.sounds.on = True
    at.cue(Cue(0, Tone.LEVEL))
    assert at.player.sounds == [tone_of(Tone.LEVEL)]
    assert at.rings == 0
    assert at.sounds.told == "Sound is on: tones and spoken numbers."


async def test_nothing_is_opened_before_a_timer_is() -> None:
    at = Stage()
    at.sounds.cue([Cue(0, Tone.END)])
    assert (at.player.opened, at.rings) == (0, 1)


async def test_the_device_is_let_go_with_the_last_timer_and_taken_again_with_the_next() -> None:
    at = Stage().ready()
    at.sounds.prepare()  # the next timer opens before the last is gone
    at.sounds.rest()
    assert at.sounds._audible
    at.sounds.rest()
    assert at.player.closed.wait(20)
    at.ready()
    assert at.player.opened == 2


async def test_without_a_device_the_bell_rings_and_why_is_said() -> None:
    def none() -> Player:
        raise PlayerFault("no sound device was found")

    at = Stage(opens=none)
    at.sounds.prepare()
    until(lambda: "no sound device was found" in at.sounds.told)
    at.sounds.cue([Cue(0, Tone.END, "rest")])
    assert at.rings == 1
    assert at.sounds.told == "Sound is on: the bell; no tones, since no sound device was found."


async def test_a_player_that_fails_is_rung_for_by_the_bell_then_and_later() -> None:
    at = Stage().ready()
    at.player.broken = True
    at.sounds.cue([Cue(0, Tone.END, "rest")])
    async with asyncio.timeout(20):
        while at.rings < 1:
            await asyncio.sleep(0.001)
    at.sounds.cue([Cue(0, Tone.END, "rest")])
    assert at.rings == 2


async def test_all_tones_are_made_before_the_first_is_due() -> None:
    tone_of.cache_clear()
    Stage().ready()
    assert tone_of.cache_info().currsize == len(Tone)


# in a bout


def heard_by(at_driver: Driver, sounds: Sounds) -> None:
    at_driver._sounder = sounds


async def test_a_bout_runs_by_its_tones(tmp_path: Path) -> None:
    at, stage = await desk(tmp_path, "mobilisation_belt", sets=1, reps=1), Stage().ready()
    heard_by(at.driver, stage.sounds)
    await at.move(1)
    for n, step in enumerate([0, 1, 1, 1, 2, 2, 2]):
        if n:
            await at.move(step, step=step)
        else:
            await at.press()
        stage.heard(n + 1)
    tick, level = tone_of(Tone.TICK), tone_of(Tone.LEVEL)
    assert stage.player.sounds[:6] == [tick, tick, tick, tone_of(Tone.RISING), level, tone_of(Tone.FALLING)]
    assert stage.player.sounds[6][: len(tone_of(Tone.END))] == tone_of(Tone.END)


async def test_a_player_that_is_missing_raises_or_hangs_stops_no_bout(tmp_path: Path) -> None:
    def missing() -> Player:
        raise ImportError("no such library")

    gone, raises, hangs = Stage(opens=missing), Stage().ready(), Stage().ready()
    gone.sounds.prepare()
    raises.player.broken = True
    hangs.player.let_go.clear()
    for stage in (gone, raises, hangs):
        folder = tmp_path / str(id(stage))
        folder.mkdir()
        at = await desk(folder, "mobilisation_belt", sets=1, reps=2)
        heard_by(at.driver, stage.sounds)
        await at.start()
        assert stage is gone or stage.player.asked.wait(20)
        await at.move(6, step=0.5)
        stage.now += STUCK_S + 0.1
        await at.move(6.1, step=0.5)
        assert at.view.mode is Mode.DONE
        assert (at.view.done[0].reps, at.view.done[0].worked_ms) == (2, 12_000)
        assert at.faults == []
        assert stage.rings > 0, "the bell stands in"
        at.driver.stop()
    hangs.player.let_go.set()


async def test_cues_sound_while_the_disk_waits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at, stage = await desk(tmp_path, "mobilisation_belt"), Stage().ready()
    heard_by(at.driver, stage.sounds)
    await at.start()
    before = len(stage.player.sounds)
    with held_disk(monkeypatch) as let_go:
        at.at.clock.move(2)
        at.driver.wake()
        stage.heard(before + 1)
        let_go.set()
        await at.hand.settled()
