"""A prior that learns from closed episodes: little from few, the right way from many."""

from __future__ import annotations

import random
from math import exp
from statistics import fmean

import pytest

from store.reckon.filter import Sighting
from store.reckon.learned import learned
from store.reckon.prior import DEFAULT, Prior
from store.reckon.recovery import Reference, outlook

SEM, SPREAD = 0.69, 5.5
REFERENCE = Reference(11.0, 0.3)


def episode(constant: float, stays: float, seed: int, *, readings: int = 8) -> tuple[list[Sighting], Reference]:
    chance = random.Random(seed)
    seen = [
        Sighting(day, 11 - stays - (5 - stays) * exp(-day / constant) + chance.gauss(0, SEM), SEM)
        for day in range(4, 4 + 5 * readings, 5)
    ]
    return seen, REFERENCE


def middle(prior: Prior) -> float:
    weights = [exp(rate.log_weight) for rate in prior.rates]
    return sum(rate.days * weight for rate, weight in zip(prior.rates, weights, strict=True)) / sum(weights)


@pytest.mark.parametrize("count", [0, 4])
def test_few_episodes_change_nothing(count: int) -> None:
    assert learned((episode(10, 0, seed) for seed in range(count)), SPREAD) == DEFAULT


def test_episodes_with_few_readings_say_nothing() -> None:
    assert learned((episode(10, 0, seed, readings=3) for seed in range(30)), SPREAD) == DEFAULT


def test_fast_people_make_it_faster_and_slow_ones_slower() -> None:
    fast = learned((episode(6, 0, seed) for seed in range(30)), SPREAD)
    slow = learned((episode(60, 0, seed) for seed in range(30)), SPREAD)
    assert middle(fast) < middle(DEFAULT) < middle(slow)
    assert fast.learned_from == 30


def test_gaps_that_stay_make_it_expect_them() -> None:
    staying = learned((episode(10, 2.5, seed) for seed in range(30)), SPREAD)
    weight = {one.name: one.weight for one in staying.residuals}
    assert weight["stays"] > {one.name: one.weight for one in DEFAULT.residuals}["stays"]
    assert sum(weight.values()) == pytest.approx(1)


def test_it_helps_the_next_of_the_same_kind() -> None:
    prior = learned((episode(50, 0, seed) for seed in range(40)), SPREAD)
    own, usual = [], []
    for seed in range(100, 130):
        seen, reference = episode(50, 0, seed)
        day = seen[2].day + 14
        true = 11 - 5 * exp(-day / 50)
        own.append(abs(outlook(seen[:3], reference, SPREAD, prior).quantiles(day, (0.5,))[0] - true))
        usual.append(abs(outlook(seen[:3], reference, SPREAD).quantiles(day, (0.5,))[0] - true))
    assert fmean(own) < fmean(usual)
