"""Listens to samples: their pitch and their clicks, read back from a WAV file as any other program would."""

from __future__ import annotations

import wave
from array import array
from cmath import exp, pi
from pathlib import Path


def written(samples: array[int], path: Path, rate: int) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(samples.tobytes())
    return path


def read(path: Path) -> tuple[array[int], int]:
    """The samples and their rate."""
    with wave.open(str(path), "rb") as file:
        found = array("h")
        found.frombytes(file.readframes(file.getnframes()))
        return found, file.getframerate()


def pitch(samples: array[int], rate: int, at_s: float, *, window_s: float = 0.04) -> float:
    """The strongest pitch around an instant, in Hz, to 5 Hz: a discrete Fourier transform under a Hann window."""
    start, length = round((at_s - window_s / 2) * rate), round(window_s * rate)
    part = [
        sample * (1 - exp(2j * pi * n / length).real) / 2
        for n, sample in enumerate(samples[start : start + length])
    ]

    def strength(hz: int) -> float:
        return abs(sum(sample * exp(-2j * pi * hz * n / rate) for n, sample in enumerate(part)))

    return max(range(200, 1205, 5), key=strength)


def loudness(samples: array[int], rate: int, from_s: float, until_s: float) -> int:
    """The loudest sample between two instants."""
    return max(abs(sample) for sample in samples[round(from_s * rate) : round(until_s * rate)])
