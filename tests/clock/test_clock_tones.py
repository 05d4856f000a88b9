"""The tones as they are heard, out of a WAV file."""

from __future__ import annotations

from array import array
from itertools import pairwise
from math import pi
from pathlib import Path

import pytest

from store.care.timing import Tone
from tests.clock.waves import loudness, pitch, read, written
from tui.clock.tones import (
    HIGH_HZ,
    LOUDEST,
    LOUDNESS,
    LOW_HZ,
    MIDDLE_HZ,
    RATE,
    TICK_S,
    TONE_S,
    faded_into,
    glide,
    tone_of,
)

EDGE_S = 0.05  # a pitch is heard no nearer to either end than this


@pytest.fixture(params=list(Tone))
def tone(request: pytest.FixtureRequest) -> Tone:
    found: Tone = request.param
    return found


def heard(tone: Tone, tmp_path: Path) -> tuple[array[int], int]:
    return read(written(tone_of(tone), tmp_path / f"{tone}.wav", RATE))


@pytest.mark.parametrize(
    ("tone", "from_hz", "to_hz"),
    [(Tone.RISING, LOW_HZ, HIGH_HZ), (Tone.LEVEL, MIDDLE_HZ, MIDDLE_HZ), (Tone.FALLING, HIGH_HZ, LOW_HZ)],
)
def test_a_tone_goes_from_its_pitch_to_its_pitch(tone: Tone, from_hz: float, to_hz: float, tmp_path: Path) -> None:
    samples, rate = heard(tone, tmp_path)
    assert len(samples) / rate == pytest.approx(TONE_S, abs=0.001)
    for at_s in (EDGE_S, TONE_S / 2, TONE_S - EDGE_S):
        expected = from_hz + (to_hz - from_hz) * at_s / TONE_S
        assert pitch(samples, rate, at_s) == pytest.approx(expected, abs=15), at_s


def test_up_level_and_down_differ_by_far(tmp_path: Path) -> None:
    def rise(tone: Tone) -> float:
        samples, rate = heard(tone, tmp_path)
        return pitch(samples, rate, TONE_S - EDGE_S) - pitch(samples, rate, EDGE_S)

    assert rise(Tone.RISING) > 150
    assert abs(rise(Tone.LEVEL)) <= 10
    assert rise(Tone.FALLING) < -150


def test_a_tick_is_short_and_high(tmp_path: Path) -> None:
    samples, rate = heard(Tone.TICK, tmp_path)
    assert len(samples) / rate == pytest.approx(TICK_S, abs=0.001)
    assert pitch(samples, rate, TICK_S / 2) == pytest.approx(HIGH_HZ, abs=15)


def test_the_end_is_two_beeps_with_silence_between(tmp_path: Path) -> None:
    samples, rate = heard(Tone.END, tmp_path)
    assert loudness(samples, rate, 0.05, 0.15) > LOUDEST // 3
    assert loudness(samples, rate, 0.21, 0.27) == 0
    assert loudness(samples, rate, 0.33, 0.43) > LOUDEST // 3


def test_none_clicks_and_none_distorts(tone: Tone, tmp_path: Path) -> None:
    samples, rate = heard(tone, tmp_path)
    assert abs(samples[0]) < 20
    assert abs(samples[-1]) < 20
    # the steepest step of a wave at full loudness and the highest pitch; a click would be steeper
    steepest = 2 * pi * HIGH_HZ / rate * LOUDEST * LOUDNESS
    assert max(abs(b - a) for a, b in pairwise(samples)) <= steepest * 1.02
    assert loudness(samples, rate, 0, 0.001) < LOUDEST // 25
    assert LOUDEST // 3 < max(map(abs, samples)) < LOUDEST


def test_a_tone_that_cuts_off_another_does_not_click() -> None:
    old, new = glide(622, 622, 0.2)[1000:1600], tone_of(Tone.RISING)
    mixed = faded_into(old, new)
    assert abs(mixed[0] - old[0]) < 50, "it goes on where the old one was"
    assert mixed[len(old) :] == new[len(old) :]
    assert max(map(abs, mixed)) <= LOUDEST
