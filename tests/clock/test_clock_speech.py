from __future__ import annotations

import shutil
import sys
import wave
from array import array
from pathlib import Path

import pytest

from tests.clock.players import until
from tests.clock.waves import written
from tui.clock.speech import SPOKEN, Command, Words, command_here, read_wav, spoken, trimmed
from tui.clock.tones import RATE, glide, silence

BEEP = glide(440, 440, 0.2)


def says(tmp_path: Path) -> Command:
    """A command that speaks any word as a beep with silence around it."""
    beep = written(silence(0.1) + BEEP + silence(0.3), tmp_path / "beep.wav", RATE)
    return lambda _, wav: [sys.executable, "-c", f"import shutil; shutil.copyfile({str(beep)!r}, {str(wav)!r})"]


@pytest.mark.parametrize(
    ("platform", "there", "starts"),
    [
        ("darwin", {"say"}, ["say", "-r"]),
        ("win32", {"powershell"}, ["powershell", "-NoProfile"]),
        ("linux", {"espeak-ng", "espeak"}, ["espeak-ng", "-s"]),
        ("linux", {"espeak"}, ["espeak", "-s"]),
    ],
)
def test_each_platform_has_its_own_command(platform: str, there: set[str], starts: list[str]) -> None:
    command = command_here(platform, lambda name: name if name in there else None)
    assert command is not None
    assert command("10", Path("word.wav"))[:2] == starts


def test_a_computer_without_one_speaks_nothing() -> None:
    assert command_here("linux", lambda _: None) is None
    words = Words(None)
    words.prepare()
    assert words.of("10") is None
    assert not words.can_speak


def test_words_are_made_once_without_the_silence_around_them(tmp_path: Path) -> None:
    words = Words(says(tmp_path), ("3", "1 min"))
    assert words.of("3") is None, "not before a timer is open"
    words.prepare()
    words.prepare()
    until(lambda: words.of("1 min") is not None)
    word = words.of("3")
    assert word is not None
    assert len(word) / RATE == pytest.approx(0.2, abs=0.03)


def test_a_command_that_fails_leaves_the_tones_alone() -> None:
    words = Words(lambda _, __: [sys.executable, "-c", "raise SystemExit(1)"], ("3", "2"))
    words.prepare()
    until(lambda: not words.can_speak)
    assert words.of("3") is None


def test_another_rate_is_brought_to_ours_and_keeps_its_length(tmp_path: Path) -> None:
    found = read_wav(written(array("h", range(1600)), tmp_path / "word.wav", 16000))
    assert len(found) / RATE == pytest.approx(0.1, abs=0.001)
    assert found[:2] == array("h", [0, 0])
    assert found[-1] == pytest.approx(1599, abs=2)


def test_stereo_is_refused(tmp_path: Path) -> None:
    with wave.open(str(tmp_path / "two.wav"), "wb") as file:
        file.setparams((2, 2, RATE, 0, "NONE", ""))
    with pytest.raises(ValueError, match="mono"):
        read_wav(tmp_path / "two.wav")


def test_silence_alone_is_no_word() -> None:
    assert trimmed(silence(0.2)) == array("h")


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_the_real_command_speaks_numbers_apart(tmp_path: Path) -> None:
    command = command_here("linux")
    assert command is not None
    five, ten = (spoken(command, word, tmp_path / "word.wav") for word in ("5", "10"))
    assert five != ten
    assert all(0.1 < len(word) / RATE < 1.0 for word in (five, ten)), "short enough for a count of a second"


def test_each_word_is_listed_once() -> None:
    assert len(SPOKEN) == len(set(SPOKEN))
