from __future__ import annotations

import shutil
import subprocess
import sys
import wave
from array import array
from io import BytesIO
from pathlib import Path

import pytest

from tests.clock.players import until
from tests.clock.waves import written
from tests.terminal.driver import clean_environment
from tui.clock.speech import MAKER, SPOKEN, Command, Words, command_here, make, read_wav, spoken, taken, trimmed
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


def test_words_are_made_without_the_silence_around_them(tmp_path: Path) -> None:
    stream = BytesIO()
    make(says(tmp_path), ("3", "1 min"), stream)
    stream.seek(0)
    first, second, end = taken(stream), taken(stream), taken(stream)
    assert first is not None
    assert second is not None
    assert (first[0], second[0], end) == ("3", "1 min", None)
    assert len(first[1]) / RATE == pytest.approx(0.2, abs=0.03)


def test_a_command_that_fails_makes_nothing() -> None:
    stream = BytesIO()
    make(lambda _, __: [sys.executable, "-c", "raise SystemExit(1)"], ("3", "2"), stream)
    assert stream.getvalue() == b""


def test_words_are_taken_as_they_are_made_and_once_only(tmp_path: Path) -> None:
    ran = tmp_path / "ran"
    code = (
        f"import sys; open({str(ran)!r}, 'a').write('.')\n"
        "sys.stdout.buffer.write(b'3\\t2\\n' + bytes([1, 0, 2, 0]) + b'1 min\\t1\\n' + bytes([3, 0]))"
    )
    words = Words([sys.executable, "-c", code])
    assert words.of("3") is None, "not before a timer is open"
    words.prepare()
    words.prepare()
    until(lambda: words.of("1 min") is not None)
    assert (words.of("3"), words.of("1 min"), words.of("2")) == (array("h", [1, 2]), array("h", [3]), None)
    assert ran.read_text() == "."


@pytest.mark.parametrize("code", ["raise SystemExit(1)", "print('3\\t100')", "print('no')"])
def test_a_maker_that_fails_or_breaks_off_leaves_the_tones_alone(code: str) -> None:
    words = Words([sys.executable, "-c", code])
    words.prepare()
    until(lambda: not words.can_speak)
    assert words.of("3") is None


@pytest.mark.parametrize(
    "left", [b"", b"no word\n", b"3\tabc\n", b"3\t-5\n", b"3\t2\n\x00", b"3\t2\n\x00\x00\x01", b"\xff\t1\n"]
)
def test_a_maker_that_was_stopped_in_the_middle_of_a_word_ends_quietly(left: bytes) -> None:
    stream = BytesIO(b"2\t1\n\x01\x00" + left)
    assert taken(stream) == ("2", array("h", [1]))
    assert taken(stream) is None


def test_a_maker_that_is_not_there_leaves_the_tones_alone() -> None:
    words = Words(["no-such-program-here"])
    words.prepare()
    until(lambda: not words.can_speak)


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


@pytest.mark.skipif(command_here() is None, reason="there is no speech command here")
def test_the_real_maker_begins_with_the_countdown(tmp_path: Path) -> None:
    with subprocess.Popen(
        MAKER, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=clean_environment(tmp_path)
    ) as maker:
        assert maker.stdout is not None
        told = taken(maker.stdout)
        maker.kill()
    assert told is not None
    assert told[0] == "3"


def test_each_word_is_listed_once() -> None:
    assert len(SPOKEN) == len(set(SPOKEN))
