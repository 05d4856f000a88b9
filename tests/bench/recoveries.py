"""Simulated recoveries: what a lunge might do after a sprain, in five shapes, read with its usual error.

The shapes and their ranges are invented; they test the arithmetic of a forecast and prove nothing about people.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import exp, sqrt

from store.reckon.filter import Sighting
from store.reckon.prior import SPREAD_SEMS
from store.reckon.recovery import Reference, outlook

SEM = 0.69
"""Of the lunge between visits, in cm."""

AHEAD = 14
"""Days ahead of the last reading."""

AFTER = (3, 5, 8)
"""A forecast is made after so many visits."""

SHAPES = ("exponential", "straight", "plateau", "s-shaped", "flare-up")
HELD_OUT = "s-shaped"
"""The shape that no figure of the prior was set on."""

TUNED_ON = range(1000, 1030)
"""The seeds that figures of the prior were set on."""

Curve = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Case:
    """One simulated person: the true course, and both sides' readings, a day and a value each."""

    shape: str
    true: Curve
    injured: tuple[tuple[int, float], ...]
    uninjured: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Miss:
    """How far a forecast, a straight line and the last value were off, and the band's doing, in cm."""

    shape: str
    visits: int
    ours: float
    line: float
    last: float
    inside: bool
    width: float
    score: float  # interval score of an 80 % band: width, and ten times what lies outside (Gneiting and Raftery)


def cases(seeds: range, shapes: tuple[str, ...] = SHAPES) -> Iterator[Case]:
    """A slow and a fast person of every shape for every seed."""
    for shape in shapes:
        for fast in (True, False):
            for seed in seeds:
                yield _case(shape, fast, random.Random(f"{shape} {fast} {seed}"))


def misses(case: Case) -> Iterator[Miss]:
    """The forecasts of one person, 14 days past the third, fifth and eighth visit."""
    for visits in AFTER:
        seen = case.injured[:visits]
        day = seen[-1][0] + AHEAD
        true = case.true(day)
        held = case.uninjured[:visits]
        low, middle, high = outlook(
            [Sighting(on, value, SEM) for on, value in seen],
            Reference(sum(held) / visits, SEM / sqrt(visits)),
            SPREAD_SEMS * SEM,
        ).quantiles(day, (0.1, 0.5, 0.9))
        yield Miss(
            shape=case.shape,
            visits=visits,
            ours=abs(middle - true),
            line=abs(straight_line(seen, day) - true),
            last=abs(seen[-1][1] - true),
            inside=low <= true <= high,
            width=high - low,
            score=high - low + 10 * max(0.0, low - true) + 10 * max(0.0, true - high),
        )


def straight_line(seen: tuple[tuple[int, float], ...], day: float) -> float:
    """The least squares line through the readings, on a day."""
    middle = sum(on for on, _ in seen) / len(seen)
    mean = sum(value for _, value in seen) / len(seen)
    spread = sum((on - middle) ** 2 for on, _ in seen)
    slope = sum((on - middle) * (value - mean) for on, value in seen) / spread
    return mean + slope * (day - middle)


def _case(shape: str, fast: bool, chance: random.Random) -> Case:
    reference = min(15.0, max(8.0, chance.gauss(11.5, 2)))
    gap = min(chance.uniform(3, 7.5), reference - 1)
    short = _SHORT[shape](gap, fast, chance)

    def true(day: float) -> float:
        return reference - short(day)

    days: list[int] = []
    day = chance.uniform(2, 7)
    for _ in range(max(AFTER)):
        days.append(round(day))
        day += chance.uniform(2, 7)
    return Case(
        shape=shape,
        true=true,
        injured=tuple((on, true(on) + chance.gauss(0, SEM)) for on in days),
        uninjured=tuple(reference + chance.gauss(0, SEM) for _ in days),
    )


def _constant(fast: bool, chance: random.Random) -> float:
    return chance.uniform(7, 14) if fast else chance.uniform(20, 40)


def _relaxing(gap: float, stays: float, constant: float) -> Curve:
    return lambda day: stays + (gap - stays) * exp(-day / constant)


def _exponential(gap: float, fast: bool, chance: random.Random) -> Curve:
    return _relaxing(gap, chance.uniform(0, 0.1) * gap, _constant(fast, chance))


def _straight(gap: float, fast: bool, chance: random.Random) -> Curve:
    takes = chance.uniform(21, 42) if fast else chance.uniform(60, 110)
    return lambda day: gap * max(0.0, 1 - day / takes)


def _plateau(gap: float, fast: bool, chance: random.Random) -> Curve:
    return _relaxing(gap, chance.uniform(0.25, 0.6) * gap, _constant(fast, chance))


def _s_shaped(gap: float, fast: bool, chance: random.Random) -> Curve:
    middle = chance.uniform(10, 18) if fast else chance.uniform(28, 45)
    width = middle / chance.uniform(2.5, 4.5)
    at_start = 1 / (1 + exp(middle / width))
    return lambda day: gap * (1 - (1 / (1 + exp((middle - day) / width)) - at_start) / (1 - at_start))


def _flare_up(gap: float, fast: bool, chance: random.Random) -> Curve:
    quiet = _exponential(gap, fast, chance)
    on, drop, back = chance.uniform(8, 40), chance.uniform(0.25, 0.6) * gap, chance.uniform(5, 14)
    return lambda day: quiet(day) + (drop * exp(-(day - on) / back) if day >= on else 0.0)


_SHORT: dict[str, Callable[[float, bool, random.Random], Curve]] = {
    "exponential": _exponential,
    "straight": _straight,
    "plateau": _plateau,
    "s-shaped": _s_shaped,
    "flare-up": _flare_up,
}
