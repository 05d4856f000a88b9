"""A pseudo-terminal with a program in it: press keys, wait for what is painted, resize, kill."""

from __future__ import annotations

import fcntl
import os
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from tests.terminal.keys import KeyCount, bytes_of
from tests.terminal.view import Eye, View

PATIENCE_S = 20.0  # a deadline, not a pause: what is waited for normally comes in milliseconds
_OSC = re.compile(rb"\x1b\][^\x07\x1b]*(\x07|\x1b\\)")

Condition = Callable[[View], bool]


class Missed(AssertionError):
    """What was waited for did not come; the message holds the last screen."""


@dataclass(frozen=True, slots=True)
class Chunk:
    """Bytes as they came out of the program, and when, on `time.perf_counter`."""

    at: float
    data: bytes


ZONE = "Europe/Oslo"
"""The zone of programs under test. The tests of this room put one in its place where it is morning (conftest)."""


def clean_environment(home: Path, **more: str) -> dict[str, str]:
    """An environment that owes nothing to who runs the tests: a fresh home, one zone, one language.

    The directories of the platform's user-data rules all lie under `home`. An empty string in `more` takes a
    variable away.
    """
    env = {
        "PATH": os.pathsep.join([str(Path(sys.executable).parent), "/usr/local/bin", "/usr/bin", "/bin"]),
        "HOME": str(home),
        "XDG_DATA_HOME": str(home / "data"),
        "XDG_CONFIG_HOME": str(home / "config"),
        "XDG_STATE_HOME": str(home / "state"),
        "XDG_CACHE_HOME": str(home / "cache"),
        "BOTHFEET_SETTINGS": str(Path(__file__).with_name("no_sound.toml")),
        "TERM": "xterm-256color",
        "COLORTERM": "truecolor",
        "TZ": ZONE,
        "LANG": "C.UTF-8",
    }
    return {name: value for name, value in {**env, **more}.items() if value}


class Terminal:
    """A program in a pseudo-terminal, which ends with it. Use as a context manager.

    `argv[0]` should be an absolute path, so that a virtual environment is kept. `size` is columns, rows.
    """

    def __init__(
        self,
        argv: Sequence[str | Path],
        *,
        home: Path,
        size: tuple[int, int] = (80, 24),
        env: Mapping[str, str] | None = None,
        cwd: Path | None = None,
    ) -> None:
        home.mkdir(parents=True, exist_ok=True)
        self.keys = KeyCount()
        self.chunks: list[Chunk] = []
        self.raw = bytearray()  # every byte the program wrote
        self._eye = Eye(*size)
        self._seen = 0  # chunks the eye has taken in: drawing them costs time, so only when somebody looks
        self._ended = False
        self._master, slave = os.openpty()
        _set_size(slave, size)
        self.started = time.perf_counter()
        try:
            self._process = subprocess.Popen(
                [str(part) for part in argv],
                stdin=slave,
                stdout=slave,
                stderr=slave,
                cwd=cwd or home,
                env=clean_environment(home, **(env or {})),
                start_new_session=True,
                preexec_fn=_take_terminal,
            )
        finally:
            os.close(slave)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def pid(self) -> int:
        """The process under test."""
        return self._process.pid

    def view(self) -> View:
        """The screen now, after taking in what has already come."""
        while self._pump(0.0):
            pass
        return self._look().view()

    def press(self, *names: str) -> None:
        """Press keys by name (`f2`, `esc`, `ctrl+p`, `space`, or one character), each by itself."""
        for name in names:
            self.keys.add_key(name)
            self._send(bytes_of(name))

    def type(self, text: str) -> None:
        """Type text."""
        self.keys.add_text(text)
        self._send(text.encode())

    def paste(self, text: str) -> None:
        """Paste text as a terminal in bracketed-paste mode does. Not counted as keys."""
        self._send(b"\x1b[200~" + text.encode() + b"\x1b[201~")

    def wait_for(self, *wanted: str, within: float = PATIENCE_S) -> View:
        """Wait until every text stands on the screen. Raises Missed."""
        self._until(lambda: all(self._look().holds(text) for text in wanted), within, ", ".join(map(repr, wanted)))
        return self._look().view()

    def wait_gone(self, text: str, within: float = PATIENCE_S) -> View:
        """Wait until the text no longer stands on the screen. Raises Missed."""
        self._until(lambda: not self._look().holds(text), within, f"{text!r} to go")
        return self._look().view()

    def wait_until(self, holds: Condition, within: float = PATIENCE_S, what: str = "a condition") -> View:
        """Wait until a condition holds of the screen. Raises Missed."""
        self._until(lambda: holds(self._look().view()), within, what)
        return self._look().view()

    def wait_shown(self, holds: Condition, within: float = PATIENCE_S, what: str = "a condition") -> View:
        """Wait for what stands for a moment only: each chunk is looked at by itself, however late. Raises Missed.

        The view is the one that held; the screen may have gone on since, which the next call takes in.
        """
        found: list[View] = []

        def came() -> bool:
            while not found:
                view = self._eye.view()
                if holds(view):
                    found.append(view)
                elif self._seen == len(self.chunks):
                    break
                else:
                    self._eye.feed(self.chunks[self._seen].data)
                    self._seen += 1
            return bool(found)

        self._until(came, within, what)
        return found[0]

    def wait_raw(self, pattern: bytes, since: int = 0, within: float = PATIENCE_S) -> float:
        """Wait until a pattern of bytes comes out after the first `since` ones; when it was whole. Raises Missed.

        Nothing is drawn meanwhile, so that the instant is the terminal's and not this driver's.
        """
        wanted = re.compile(pattern)
        ends: list[int] = []

        def came() -> bool:
            match = wanted.search(self.raw, since)
            ends.extend([match.end()] if match else [])
            return match is not None

        self._until(came, within, repr(pattern))
        return self._when(ends[0])

    def wait_bells(self, count: int, within: float = PATIENCE_S) -> list[float]:
        """Wait for so many bells since the start; when each came. Raises Missed."""
        self._until(lambda: len(self.bells()) >= count, within, f"{count} bells")
        return self.bells()[:count]

    def wait_exit(self, within: float = PATIENCE_S) -> int:
        """Wait for the end of the program; its status, or minus the signal that ended it. Raises Missed."""
        self._until(lambda: self._process.poll() is not None, within, "the program to end")
        while self._pump(0.05):
            pass
        return self._process.wait()

    def watch(self, seconds: float) -> None:
        """Take in what comes for so long: for counting what a program does by itself, never for waiting."""
        end = time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0 and not self._ended:
            self._pump(left)

    def settle(self, quiet_s: float = 0.15) -> None:
        """Take in what comes until nothing has come for so long."""
        while self._pump(quiet_s):
            pass

    def resize(self, columns: int, rows: int) -> None:
        """Give the terminal another size; the kernel tells the program."""
        self._look().resize(columns, rows)
        _set_size(self._master, (columns, rows))

    def kill(self, number: int = signal.SIGKILL) -> None:
        """Send the program a signal, unless it has ended."""
        if self._process.poll() is None:
            os.kill(self._process.pid, number)

    def hang_up(self) -> None:
        """Take the terminal away, as a closed window does. Nothing can be read after it."""
        if self._master >= 0:
            os.close(self._master)
            self._master = -1
        self._ended = True

    def bells(self) -> list[float]:
        """When each bell came; a bell byte that only ends an operating-system command is none."""
        return [c.at for c in self.chunks for _ in range(_OSC.sub(b"", c.data).count(b"\x07"))]

    def close(self) -> None:
        """End the program if it has not ended, and free the terminal."""
        self.kill(signal.SIGKILL)
        self._process.wait()
        self.hang_up()

    def _look(self) -> Eye:
        for chunk in self.chunks[self._seen :]:
            self._eye.feed(chunk.data)
        self._seen = len(self.chunks)
        return self._eye

    def _when(self, written: int) -> float:
        """When that many bytes had been written."""
        for chunk in self.chunks:
            written -= len(chunk.data)
            if written <= 0:
                return chunk.at
        raise LookupError("not written yet")

    def _until(self, holds: Callable[[], bool], within: float, what: str) -> None:
        end = time.perf_counter() + within
        while not holds():
            left = end - time.perf_counter()
            if left <= 0 or (self._ended and self._process.poll() is not None):
                if holds():
                    return
                state = "has ended" if self._process.poll() is not None else f"did not show it in {within:g} s"
                raise Missed(f"waited for {what}; the program {state}. Last screen:\n{self._look().view().text}")
            self._pump(min(left, 0.05))

    def _pump(self, patience: float) -> bool:
        """Take in one chunk if it comes in time."""
        if self._ended:
            time.sleep(min(patience, 0.005))  # the terminal is gone; only the program's end is still to come
            return False
        ready, _, _ = select.select([self._master], [], [], patience)
        if not ready:
            return False
        try:
            data = os.read(self._master, 65536)
        except OSError:  # Linux says so when the last holder of the other end is gone
            data = b""
        if not data:
            self._ended = True
            return False
        self.chunks.append(Chunk(time.perf_counter(), data))
        self.raw += data
        return True

    def _send(self, data: bytes) -> None:
        while data:
            _, ready, _ = select.select([], [self._master], [], PATIENCE_S)
            if not ready:
                raise Missed("the program reads no keys")
            data = data[os.write(self._master, data[:1024]) :]
            self._pump(0.0)


def _take_terminal() -> None:
    """In the child: make the pseudo-terminal its own, so that a hang-up, a resize and ctrl+c reach it.

    A run of tests that was started in the background is deaf to ctrl+c, and what it starts would be so too.
    """
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _set_size(fd: int, size: tuple[int, int]) -> None:
    columns, rows = size
    fcntl.ioctl(fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
