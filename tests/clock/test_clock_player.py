"""The real sound library on the device that it brings for tests: it takes samples at their time and plays none."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from array import array
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.care.timing import Tone
from tests.clock.players import until
from tests.terminal.driver import clean_environment
from tui.clock.player import UNTAKEN, DevicePlayer, PlayerFault
from tui.clock.tones import tone_of

NULL = ("NULL",)
pytestmark = pytest.mark.skipif(
    importlib.util.find_spec("miniaudio") is None, reason="the extra `sound` is not installed"
)


@pytest.fixture
def player() -> Iterator[DevicePlayer]:
    found = DevicePlayer(NULL)
    yield found
    found.close()


def test_a_device_takes_what_is_played(player: DevicePlayer) -> None:
    player.play(tone_of(Tone.RISING))
    until(lambda: player._next is None)
    player.play(tone_of(Tone.FALLING))
    until(lambda: player._next is None)


def test_it_hands_over_the_tone_block_by_block_and_then_silence(player: DevicePlayer) -> None:
    player.close()
    blocks = player._blocks()
    next(blocks)
    player.play(tone_of(Tone.LEVEL))
    taken = array("h")
    for _ in range(20):
        taken += blocks.send(661)
    assert taken == tone_of(Tone.LEVEL)


def test_a_new_tone_takes_the_place_of_the_one_that_sounds(player: DevicePlayer) -> None:
    player.close()
    blocks = player._blocks()
    next(blocks)
    player.play(tone_of(Tone.LEVEL))
    blocks.send(661)
    player.play(tone_of(Tone.TICK))
    assert blocks.send(661) != tone_of(Tone.TICK)[:661], "the old one fades under it"
    assert blocks.send(661) == tone_of(Tone.TICK)[661:1322]


def test_a_device_that_takes_nothing_any_more_is_a_fault(player: DevicePlayer) -> None:
    player.close()
    for _ in range(UNTAKEN):
        player.play(tone_of(Tone.TICK))
    with pytest.raises(PlayerFault, match="takes no more sound"):
        player.play(tone_of(Tone.TICK))


def test_a_computer_without_a_device_says_so_and_nothing_else(tmp_path: Path) -> None:
    """The system's own sound library would write its complaints over the screen."""
    code = "from tui.clock.player import *\ntry: open_player().close()\nexcept PlayerFault as fault: print(fault)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=clean_environment(tmp_path),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.stderr == ""
    assert done.stdout in ("", "no sound device was found\n")


def test_a_program_with_an_open_device_ends(tmp_path: Path) -> None:
    code = (
        "from time import perf_counter\n"
        "from tui.clock.loudspeaker import Loudspeaker\n"
        "from tui.clock.player import DevicePlayer\n"
        "loud = Loudspeaker(lambda: DevicePlayer(('NULL',)), perf_counter)\n"
        "while not loud.plays: pass\n"
        "print('plays')"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=clean_environment(tmp_path),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "plays\n", "")
