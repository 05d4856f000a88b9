"""What plays samples on the computer's own sound device: miniaudio, from the extra `sound`.

It is one small library, kept up with Python's releases, that needs no system package and talks to each platform's
own sound system. The device stays open while a timer is open: to open one takes longer than a cue may be late. The
library is imported here only, when a player is opened.
"""

from __future__ import annotations

import ctypes
import sys
from array import array
from collections.abc import Generator
from typing import Any, Protocol

from tui.clock.tones import RATE, faded_into

BLOCK_MS = 30  # how much the device takes at once: a tone starts so much late at most, and always about as much
UNTAKEN = 3  # so many sounds in turn that the device did not take: it is gone
_BACKENDS = {"win32": ("WASAPI", "DSOUND", "WINMM"), "darwin": ("COREAUDIO",), "linux": ("PULSEAUDIO", "ALSA")}
_NOTHING = array("h")


class PlayerFault(Exception):
    """No sound can be made, in a clause that says why."""


class Player(Protocol):
    """Plays one sound at a time, of `RATE` samples a second; a new one takes the place of what still sounds."""

    def play(self, samples: array[int]) -> None:
        """Begin to play, and return at once. Raises PlayerFault where the device takes no more sound."""
        ...

    def close(self) -> None:
        """Let the device go."""
        ...


def open_player() -> Player:
    """The player of this computer. Raises PlayerFault where there is no library or no device."""
    return DevicePlayer(_BACKENDS.get(sys.platform, ("PULSEAUDIO", "SNDIO", "OSS")))


class DevicePlayer:
    """An open sound device that is fed from a thread of its own. Backends are named as the library names them."""

    def __init__(self, backends: tuple[str, ...]) -> None:
        try:
            import miniaudio
        except ImportError as missing:
            raise PlayerFault("the extra `sound` is not installed") from missing
        _hush()
        self._next: array[int] | None = None
        self._untaken = 0
        try:
            self._device = miniaudio.PlaybackDevice(
                output_format=miniaudio.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=RATE,
                buffersize_msec=BLOCK_MS,
                backends=[miniaudio.Backend[name] for name in backends],
                app_name="bothfeet",
            )
            blocks = self._blocks()
            next(blocks)
            self._device.start(blocks)
        except miniaudio.MiniaudioError as none:
            raise PlayerFault("no sound device was found") from none

    def play(self, samples: array[int]) -> None:
        """Begin to play with the next block that the device takes."""
        self._untaken = self._untaken + 1 if self._next is not None else 0
        if self._untaken >= UNTAKEN:
            raise PlayerFault("the sound device takes no more sound")
        self._next = samples

    def close(self) -> None:
        """Let the device go."""
        self._device.close()

    def _blocks(self) -> Generator[array[int], int, None]:
        """Block by block what the device asks for, in frames; a short block is filled up with silence."""
        left = _NOTHING
        frames = yield _NOTHING
        while True:
            new, self._next = self._next, None
            if new is not None:
                left = faded_into(left[:frames], new) if left else new
            block, left = left[:frames], left[frames:]
            frames = yield block


_quiet: Any = None


def _hush() -> None:
    """Keep Linux's sound library from writing its complaints over the screen: it writes to standard error."""
    global _quiet
    if sys.platform != "linux" or _quiet is not None:
        return
    said = ctypes.CFUNCTYPE(None, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p)
    try:
        library = ctypes.CDLL("libasound.so.2")
        handler = said(lambda *_: None)
        library.snd_lib_error_set_handler(handler)
    except (OSError, AttributeError):
        return
    _quiet = handler  # the library calls it for as long as the program runs
