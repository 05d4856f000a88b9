"""The course of one value on its way to an end, seen through readings with a known error: forecast and band.

State (level, end), linear and Gaussian. Between two days the level moves towards the end by an exact exponential
step, with Ornstein-Uhlenbeck noise about that way; the end stands still. What is not linear (the rate, the noise,
the slow start, whether a gap stays) is a grid: a Kalman filter in each point of it, weights by likelihood, and a
mixture of normals as the answer.

Up is better here: whoever asks turns a measure where lower is better. Days count from the injury.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import erf, exp, log, sqrt
from typing import NamedTuple

from store.reckon.filter import Sighting, State, filtered, moved, normal_below, smoothed
from store.reckon.prior import DEFAULT, HORIZON_DAYS, Prior, Residual

_NEGLIGIBLE = 8.0  # a point of the grid that is e^8 times less likely than the best one moves no quantile in print
_ROUNDS = 100  # steps to a quantile at most; as a rule a dozen do
_CLOSE = 1e-11  # a quantile's probability is met so closely
_WEEK = 7


class Reference(NamedTuple):
    """Where recovery is to end, and the standard error of that."""

    value: float
    sem: float


class Path(NamedTuple):
    """One point of the grid: its weight, its course, and the states after each sighting."""

    weight: float
    constant_days: float
    ramp_days: float
    noise_var: float
    residual: str
    day: float  # of the last sighting
    keeps: tuple[float, ...]
    states: tuple[State, ...]

    def at(self, day: float) -> tuple[float, float]:
        """Mean and standard deviation of the true value on a day, not before that of the last sighting."""
        run = worn(day, self.ramp_days) - worn(self.day, self.ramp_days)
        level, _, variance, _, _ = moved(self.states[-1], exp(-run / self.constant_days), self.noise_var)
        return level, sqrt(variance)

    def pace(self, over_days: float) -> tuple[float, float]:
        """Mean and standard deviation of the change a day over the days to come, noise apart."""
        level, end, level_var, covariance, end_var = self.states[-1]
        run = worn(self.day + over_days, self.ramp_days) - worn(self.day, self.ramp_days)
        share = (1 - exp(-run / self.constant_days)) / over_days
        return share * (end - level), share * sqrt(max(end_var + level_var - 2 * covariance, 0.0))


class Outlook(NamedTuple):
    """What the sightings say of the value then and later, as a mixture over the grid."""

    paths: tuple[Path, ...]
    last_day: float

    def chance_past(self, line: float, day: float) -> float:
        """The probability that the true value is at or past a line on a day."""
        return sum(path.weight * (1 - _below(line, *path.at(day))) for path in self.paths)

    def quantiles(self, day: float, shares: Sequence[float]) -> tuple[float, ...]:
        """The values that the true one is below with these probabilities, on a day."""
        return _mixture([(path.weight, *path.at(day)) for path in self.paths], shares)

    def paces(self, over_days: float, shares: Sequence[float]) -> tuple[float, ...]:
        """Quantiles of the change a day over the days to come, in the unit."""
        return _mixture([(path.weight, *path.pace(over_days)) for path in self.paths], shares)

    def past(self) -> tuple[float, ...]:
        """The mean of the true value at each sighting, in the light of all of them."""
        means = [
            [path.weight * state[0] for state in smoothed(path.states, path.keeps, path.noise_var)]
            for path in self.paths
        ]
        return tuple(map(sum, zip(*means, strict=True)))

    def first_days(
        self, line: float, chances: Sequence[float], start: float, horizon: float = HORIZON_DAYS
    ) -> tuple[float | None, ...]:
        """For each chance the first whole day from `start` on which the true value is past the line, or None.

        Searched in steps of a week, then of a day: on a way to an end a chance does not come and go within a week.
        """
        known: dict[float, float] = {}

        def chance(day: float) -> float:
            if day not in known:
                known[day] = self.chance_past(line, day)
            return known[day]

        weeks = [*range(0, int(horizon), _WEEK), int(horizon)]
        found: list[float | None] = []
        for wanted in chances:
            week = next((week for week in weeks if chance(start + week) >= wanted), None)
            if week is None:
                found.append(None)
                continue
            days = range(max(week - _WEEK + 1, 0), week + 1)
            found.append(next(start + day for day in days if chance(start + day) >= wanted))
        return tuple(found)

    def share(self, wanted: Callable[[Path], bool]) -> float:
        """The weight of the paths that answer to something."""
        return sum(path.weight for path in self.paths if wanted(path))


def outlook(sightings: Sequence[Sighting], reference: Reference, spread: float, prior: Prior = DEFAULT) -> Outlook:
    """What the sightings, in any order, say. `spread` is the size of gaps in the unit.

    Raises ValueError without a sighting, or on an error or spread that is not above nought.
    """
    if not sightings:
        raise ValueError("a course wants at least one sighting")
    if not all(one.sem > 0 for one in sightings) or not spread > 0 or not reference.sem >= 0:
        raise ValueError("errors and the spread are above nought")
    in_order = sorted(sightings, key=lambda one: (one.day, one.value))
    scored = list(_grid(in_order, reference, spread, prior))
    top = max(score for score, _ in scored)
    kept = [(exp(score - top), path) for score, path in scored if score > top - _NEGLIGIBLE]
    total = sum(weight for weight, _ in kept)
    return Outlook(tuple(path._replace(weight=weight / total) for weight, path in kept), in_order[-1].day)


def worn(day: float, ramp_days: float) -> float:
    """Days of full pace in so many days since the injury, where the start is slow: its exact integral."""
    return day if ramp_days <= 0 or day <= 0 else day - ramp_days * (1 - exp(-day / ramp_days))


def _grid(
    sightings: Sequence[Sighting], reference: Reference, spread: float, prior: Prior
) -> Iterator[tuple[float, Path]]:
    """Every point of the grid with the log of its weight, not yet made to sum to one."""
    days = [one.day for one in sightings]
    for rate in prior.rates:
        for ramp in prior.ramps:
            keeps = _keeps(days, rate.days, ramp.value)
            for noise in prior.noises:
                noise_var = (noise.value * spread) ** 2
                for residual in prior.residuals:
                    start = _start(reference, spread, prior, residual)
                    score, states = filtered(sightings, keeps, noise_var, start)
                    score += rate.log_weight + log(ramp.weight * noise.weight * residual.weight)
                    yield (
                        score,
                        Path(0.0, rate.days, ramp.value, noise_var, residual.name, days[-1], keeps, tuple(states)),
                    )


def _start(reference: Reference, spread: float, prior: Prior, residual: Residual) -> State:
    """Before the first sighting: the level a gap under the reference, the end a residual under it."""
    shared = reference.sem**2
    return (
        reference.value - prior.gap * spread,
        reference.value - residual.middle * spread,
        shared + (prior.gap_sd * spread) ** 2,
        shared,
        shared + (residual.sd * spread) ** 2,
    )


def _keeps(days: Sequence[float], constant_days: float, ramp_days: float) -> tuple[float, ...]:
    """What share of its way to the end a level keeps from each sighting to the next; 1 before the first."""
    worn_days = [worn(day, ramp_days) for day in days]
    return (1.0, *(exp(-(later - earlier) / constant_days) for earlier, later in pairwise(worn_days)))


def _below(line: float, mean: float, sd: float) -> float:
    """The probability that a normal value is below a line."""
    return normal_below((line - mean) / sd)


def _mixture(parts: Sequence[tuple[float, float, float]], shares: Sequence[float]) -> tuple[float, ...]:
    """Quantiles of a mixture of normals (weight, mean, sd)."""
    lowest = min(mean - 9 * sd for _, mean, sd in parts)
    highest = max(mean + 9 * sd for _, mean, sd in parts)
    ready = [(weight / 2, mean, 1 / (sd * sqrt(2))) for weight, mean, sd in parts]
    return tuple(_quantile(ready, share, lowest, highest) for share in shares)


def _quantile(parts: Sequence[tuple[float, float, float]], share: float, low: float, high: float) -> float:
    """The value that a mixture is below with this probability: by false position, in which an end that stays twice
    counts half (the Illinois rule), so that it takes a dozen steps and not as many as halving.

    `parts` are half of each weight, the mean, and 1 / (sd x root 2): what the error function wants.
    """
    at_low, at_high = -share, 1 - share
    value, stayed = low, 0
    for _ in range(_ROUNDS):
        value = (low * at_high - high * at_low) / (at_high - at_low)
        off = sum([half * (1 + erf((value - mean) * steep)) for half, mean, steep in parts]) - share
        if abs(off) < _CLOSE:
            break
        if off < 0:
            low, at_low = value, off
            at_high /= 2 if stayed < 0 else 1
            stayed = -1
        else:
            high, at_high = value, off
            at_low /= 2 if stayed > 0 else 1
            stayed = 1
    return value
