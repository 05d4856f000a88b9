"""A course that has come to a stand is called flat when that is proven, and not before."""

from __future__ import annotations

import random
from collections.abc import Callable
from math import exp

import pytest

from store.reckon.filter import Sighting
from store.reckon.plateau import Plateau, plateau
from store.reckon.recovery import Reference, outlook

SEM = 0.69
REFERENCE = Reference(11.0, 0.3)


def judged(true: Callable[[float], float], last: int, *, every: int = 4, seed: int = 1) -> Plateau:
    chance = random.Random(seed)
    days = range(7, last + 1, every)
    seen = [Sighting(day, true(day) + chance.gauss(0, SEM), SEM) for day in days]
    course = outlook(seen, REFERENCE, 8 * SEM)
    return plateau(course, REFERENCE, small_a_week=0.2, gap=1.4, days=days[-1] - days[0], readings=len(days))


def short_and_still(day: float) -> float:
    return 8.0 - 3.0 * exp(-day / 6)


def closing(day: float) -> float:
    return 11.0 - 6.0 * exp(-day / 20)


def test_still_for_two_months_three_short_is_flat() -> None:
    found = [judged(short_and_still, 70, seed=seed) for seed in range(12)]
    assert all(one.flat for one in found)
    assert all(abs(one.rate_a_week) < 0.2 for one in found)


@pytest.mark.parametrize("last", [20, 30, 45, 60])
def test_what_still_closes_is_not_flat(last: int) -> None:
    assert not any(judged(closing, last, seed=seed).flat for seed in range(12))


def test_not_proven_is_not_flat() -> None:
    found = judged(short_and_still, 19)
    assert not found.flat
    assert found.upper_a_week > 0.2


def test_what_has_closed_is_not_flat() -> None:
    assert not any(judged(lambda day: 11.0 - 4.0 * exp(-day / 5), 70, seed=seed).flat for seed in range(12))


def test_few_or_close_readings_are_never_flat() -> None:
    seen = [Sighting(50 + day, 7.0, 0.01) for day in range(3)]
    course = outlook(seen, REFERENCE, 8 * SEM)
    assert not plateau(course, REFERENCE, small_a_week=100.0, gap=1.4, days=2, readings=3).flat


@pytest.mark.parametrize(("small", "gap"), [(0.0, 1.0), (0.2, 0.0), (-1.0, 1.0)])
def test_refusals(small: float, gap: float) -> None:
    course = outlook([Sighting(5, 7.0, SEM)], REFERENCE, 8 * SEM)
    with pytest.raises(ValueError, match="above nought"):
        plateau(course, REFERENCE, small_a_week=small, gap=gap, days=20, readings=5)
