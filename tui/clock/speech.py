"""Spoken numbers, by the computer's own speech command, each word made once into samples before it is wanted.

The command writes a sound file, and the player of the tones plays it: so speech starts as exactly as a tone does,
is dropped when late as a tone is, and needs no library that runs an event loop of its own. macOS has `say`,
Windows its System.Speech, Linux `espeak-ng` or `espeak` where installed; without one, numbers are not spoken.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import threading
import wave
from array import array
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO

from tui.clock.tones import RATE

Command = Callable[[str, Path], list[str]]
"""The command line that speaks a word into a WAV file."""

NUMBERS = ("3", "2", "1", "10", "5", "20", *(str(n) for n in range(4, 31) if n not in (5, 10, 20)), "40", "50")
WORDS = (
    "rest", "change sides", "ready", "done", "paused", "forward", "back", "in", "out", "back in", "back out",
    "left", "right", "straight", "one way", "other way", "inwards", "outwards", "up", "down",
    "1 min", "2 min", "3 min",
)  # fmt: skip
SPOKEN = NUMBERS + WORDS
"""What is spoken, in the order in which it is made: numbers, directions, and what begins or ends."""

_MINUTES = {f"{n} min": f"{n} minute" + ("s" if n > 1 else "") for n in range(1, 4)}
PATIENCE_S = 15  # Windows takes its time to start a shell
QUIET = 400  # of 32767: less than this at either end is silence, which is cut off
_WORD, _FILE = "BOTHFEET_WORD", "BOTHFEET_WAV"
_WINDOWS = (
    "Add-Type -AssemblyName System.Speech; "
    "$f = New-Object System.Speech.AudioFormat.SpeechAudioFormatInfo(22050, 'Sixteen', 'Mono'); "
    "$s = New-Object System.Speech.Synthesis.SpeechSynthesizer; $s.Rate = 2; "
    f"$s.SetOutputToWaveFile($env:{_FILE}, $f); $s.Speak($env:{_WORD}); $s.Dispose()"
)


def command_here(
    platform: str = sys.platform, which: Callable[[str], str | None] = shutil.which
) -> Command | None:
    """The speech command of this computer, or None where there is none."""
    names = {"darwin": ("say",), "win32": ("powershell",)}.get(platform, ("espeak-ng", "espeak"))
    found = next((path for name in names if (path := which(name))), None)
    if found is None:
        return None
    if platform == "darwin":
        return lambda word, wav: [
            found, "-r", "220", "--file-format=WAVE", f"--data-format=LEI16@{RATE}", "-o", str(wav), word
        ]  # fmt: skip
    if platform == "win32":
        return lambda _, __: [found, "-NoProfile", "-NonInteractive", "-Command", _WINDOWS]
    return lambda word, wav: [found, "-s", "190", "-w", str(wav), word]


MAKER = (sys.executable, "-P", "-m", "tui.clock.speech")
"""The process that makes the words: while a countdown runs, nothing here is busy with them."""


class Words:
    """The spoken words as samples. One that is not made, or not yet, is not spoken."""

    def __init__(self, maker: Sequence[str] | None) -> None:
        self._maker = maker
        self._made: dict[str, array[int]] = {}
        self._thread: threading.Thread | None = None

    @property
    def can_speak(self) -> bool:
        """Is there something that makes the words, and has it not failed before the first?"""
        return self._maker is not None

    def prepare(self) -> None:
        """Begin to have the words made; once in a run of the program."""
        if self._maker is None or self._thread is not None:
            return
        self._thread = threading.Thread(target=self._take, args=(self._maker,), name="takes-words", daemon=True)
        self._thread.start()

    def of(self, word: str) -> array[int] | None:
        """The samples of a word, or None. They are shared: do not change them."""
        return self._made.get(word)

    def _take(self, maker: Sequence[str]) -> None:
        """Take word by word what the process writes, until it ends."""
        with suppress(OSError):
            process = subprocess.Popen(
                maker, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
            )
            with process:
                assert process.stdout is not None
                while (told := taken(process.stdout)) is not None:
                    word, samples = told
                    self._made[word] = samples
        if not self._made:
            self._maker = None


def taken(stream: IO[bytes]) -> tuple[str, array[int]] | None:
    """The next word with its samples, as `make` wrote them; None at the end, or where the maker was stopped in the
    middle of one.
    """
    word, _, length = stream.readline().decode("utf-8", "replace").rstrip("\n").partition("\t")
    if not (length.isascii() and length.isdigit()):
        return None
    samples = array("h")
    found = stream.read(int(length) * samples.itemsize)
    if len(found) != int(length) * samples.itemsize:
        return None
    samples.frombytes(found)
    return word, samples


def make(command: Command, words: Sequence[str], stream: IO[bytes]) -> None:
    """Speak word by word and write each: a line of the word and how many samples, then those.

    One that fails ends it: a command that fails for one word fails for all.
    """
    with TemporaryDirectory(prefix="bothfeet-", ignore_cleanup_errors=True) as folder:
        for word in words:
            try:
                samples = spoken(command, _MINUTES.get(word, word), Path(folder) / "word.wav")
            except (OSError, subprocess.SubprocessError, wave.Error, EOFError, ValueError):
                return
            stream.write(f"{word}\t{len(samples)}\n".encode() + samples.tobytes())
            stream.flush()


def main() -> None:
    """Make all words on standard output, and let everything else on the computer go first."""
    if hasattr(os, "nice"):
        os.nice(10)
    command = command_here()
    if command is not None:
        make(command, SPOKEN, sys.stdout.buffer)


def spoken(command: Command, word: str, wav: Path) -> array[int]:
    """A word spoken into samples. Raises OSError, SubprocessError, wave.Error or ValueError where that fails."""
    subprocess.run(
        command(word, wav),
        env={**os.environ, _WORD: word, _FILE: str(wav)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        timeout=PATIENCE_S,
        check=True,
    )
    return trimmed(read_wav(wav))


def read_wav(path: Path) -> array[int]:
    """The samples of a mono file of 16 bit, at `RATE`. Raises wave.Error or ValueError for any other kind."""
    with wave.open(str(path), "rb") as file:
        if (file.getnchannels(), file.getsampwidth()) != (1, 2):
            raise ValueError("a word is mono, of 16 bit")
        rate, found = file.getframerate(), array("h")
        found.frombytes(file.readframes(file.getnframes()))
    if sys.byteorder == "big":
        found.byteswap()
    if rate == RATE:
        return found
    return array("h", (found[n * rate // RATE] for n in range(len(found) * RATE // rate)))


def trimmed(samples: array[int]) -> array[int]:
    """Without the silence before and after, which would make the word late and the next one wait."""
    loud = [n for n, sample in enumerate(samples) if abs(sample) > QUIET]
    return samples[loud[0] : loud[-1] + 1] if loud else array("h")


if __name__ == "__main__":
    main()
