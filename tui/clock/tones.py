"""The tones of the cues, made sample by sample: mono, 16 bit, `RATE` samples a second.

The pitch says what to do before a word is understood: up to lunge, level to hold, down to come back. A tone fades
in and out, since one that starts or stops at once clicks.
"""

from __future__ import annotations

from array import array
from functools import cache
from math import cos, pi, sin

from store.care.timing import Tone

RATE = 22050
LOUDEST = 32767
LOUDNESS = 0.55  # of the loudest: below what distorts in a laptop's loudspeaker
FADE_IN_S, FADE_OUT_S = 0.008, 0.03
LOW_HZ, MIDDLE_HZ, HIGH_HZ = 440.0, 622.0, 880.0  # an octave, which most ears still hear at 70
TONE_S = 0.2  # shorter than the beat of three a second
TICK_S = 0.07
BETWEEN_S = 0.08


def glide(from_hz: float, to_hz: float, length_s: float) -> array[int]:
    """A tone whose pitch goes evenly from one to the other over its length."""
    length = round(length_s * RATE)
    made = array("h")
    turned = 0.0  # in whole turns of the wave
    for n in range(length):
        made.append(round(LOUDEST * LOUDNESS * _fade(n, length) * sin(2 * pi * turned)))
        turned += (from_hz + (to_hz - from_hz) * n / length) / RATE
    return made


def silence(length_s: float) -> array[int]:
    """Nothing, for so long."""
    return array("h", bytes(2 * round(length_s * RATE)))


@cache
def tone_of(tone: Tone) -> array[int]:
    """The samples of a cue's tone. They are shared: do not change them."""
    match tone:
        case Tone.RISING:
            return glide(LOW_HZ, HIGH_HZ, TONE_S)
        case Tone.LEVEL:
            return glide(MIDDLE_HZ, MIDDLE_HZ, TONE_S)
        case Tone.FALLING:
            return glide(HIGH_HZ, LOW_HZ, TONE_S)
        case Tone.TICK:
            return glide(HIGH_HZ, HIGH_HZ, TICK_S)
        case Tone.END:
            beep = glide(HIGH_HZ, HIGH_HZ, TONE_S)
            return beep + silence(BETWEEN_S) + beep


def faded_into(old: array[int], new: array[int]) -> array[int]:
    """The new sound with the rest of the old one dying away under it, so that the change does not click."""
    length = max(len(old), len(new))
    mixed = array("h", new) + array("h", bytes(2 * (length - len(new))))
    for n, sample in enumerate(old):
        both = mixed[n] + round(sample * (1 - n / len(old)))
        mixed[n] = max(-LOUDEST, min(LOUDEST, both))
    return mixed


def _fade(n: int, length: int) -> float:
    """How much of full loudness the n-th sample has: a raised cosine at either end."""
    ends = (n / (FADE_IN_S * RATE), (length - n) / (FADE_OUT_S * RATE), 1.0)
    return (1 - cos(pi * min(ends))) / 2
