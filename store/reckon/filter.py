"""A Kalman filter and smoother of a level on its way to an end that stands still: plain numbers, for their speed.

Between two sightings the level keeps a share `keep` of its way to the end and loses the rest, exactly, with
noise about that way whose variance grows to `noise_var`. With next to no pull to the end it is the local level
model of the textbooks.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, exp, log, pi, sqrt
from typing import NamedTuple

_LEAST = 1e-300


class Sighting(NamedTuple):
    """One reading: its day, value and standard error, and whether the true value is this or better (a cap)."""

    day: float
    value: float
    sem: float
    at_least: bool = False


State = tuple[float, float, float, float, float]
"""Level, end, variance of the level, covariance, variance of the end."""


def moved(state: State, keep: float, noise_var: float) -> State:
    """The state a while later, without a sighting."""
    level, end, level_var, covariance, end_var = state
    move = 1 - keep
    grown = keep * keep * level_var + 2 * keep * move * covariance + move * move * end_var
    return (
        keep * level + move * end,
        end,
        grown + noise_var * (1 - keep * keep),
        keep * covariance + move * end_var,
        end_var,
    )


def seen(state: State, sighting: Sighting) -> tuple[float, State]:
    """The log likelihood of a sighting, and the state after it."""
    level, end, level_var, covariance, end_var = state
    variance = level_var + sighting.sem * sighting.sem
    off = sighting.value - level
    if sighting.at_least:
        score, step, shrink = _bounded(off, variance)
    else:
        score, step, shrink = -0.5 * (log(2 * pi * variance) + off * off / variance), off / variance, 1 / variance
    return score, (
        level + level_var * step,
        end + covariance * step,
        level_var - level_var * level_var * shrink,
        covariance - level_var * covariance * shrink,
        end_var - covariance * covariance * shrink,
    )


def filtered(
    sightings: Sequence[Sighting], keeps: Sequence[float], noise_var: float, start: State
) -> tuple[float, list[State]]:
    """The log likelihood of all sightings, and the state after each. `keeps` are the shares kept before each, 1
    before the first."""
    state, total = start, 0.0
    after = []
    for sighting, keep in zip(sightings, keeps, strict=True):
        if keep != 1:
            state = moved(state, keep, noise_var)
        score, state = seen(state, sighting)
        total += score
        after.append(state)
    return total, after


def smoothed(after: Sequence[State], keeps: Sequence[float], noise_var: float) -> list[State]:
    """The states at each sighting in the light of all of them (Rauch, Tung and Striebel), from those of the
    filter."""
    later = after[-1]
    found = [later]
    for state, keep in zip(reversed(after[:-1]), reversed(keeps[1:]), strict=True):
        later = _in_the_light_of(state, later, keep, noise_var)
        found.append(later)
    return found[::-1]


def _in_the_light_of(state: State, later: State, keep: float, noise_var: float) -> State:
    """One step back: what is known later, carried to the state before. Two by two, written out."""
    level, end, p11, p12, p22 = state
    level_to, end_to, q11, q12, q22 = moved(state, keep, noise_var)
    move = 1 - keep
    # the covariance of the state now with the state later: P F'
    a11, a12 = keep * p11 + move * p12, p12
    a21, a22 = keep * p12 + move * p22, p22
    size = q11 * q22 - q12 * q12
    g11, g12 = (a11 * q22 - a12 * q12) / size, (a12 * q11 - a11 * q12) / size
    g21, g22 = (a21 * q22 - a22 * q12) / size, (a22 * q11 - a21 * q12) / size
    level_off, end_off = later[0] - level_to, later[1] - end_to
    d11, d12, d22 = later[2] - q11, later[3] - q12, later[4] - q22
    return (
        level + g11 * level_off + g12 * end_off,
        end + g21 * level_off + g22 * end_off,
        p11 + g11 * (g11 * d11 + g12 * d12) + g12 * (g11 * d12 + g12 * d22),
        p12 + g21 * (g11 * d11 + g12 * d12) + g22 * (g11 * d12 + g12 * d22),
        p22 + g21 * (g21 * d11 + g22 * d12) + g22 * (g21 * d12 + g22 * d22),
    )


def _bounded(off: float, variance: float) -> tuple[float, float, float]:
    """A value known only to be this or more: log likelihood, step and shrink that keep its first two moments.

    The moments of a normal cut off below are closed; what is cut off is then taken for a normal again.
    """
    sd = sqrt(variance)
    z = -off / sd
    share = max(normal_below(z), _LEAST)
    hazard = exp(-0.5 * z * z) / sqrt(2 * pi) / share
    return log(share), hazard / sd, hazard * (z + hazard) / variance


def normal_below(z: float) -> float:
    """The standard normal distribution function."""
    return 0.5 * (1 + erf(z / sqrt(2)))
