"""A prior that has learned from a file's own closed episodes: how fast its people came back, and how many closed
the gap.

Each closed episode says by its own readings which rates and residuals it was; what many say is added to the
program's prior, which counts as much as a number of episodes itself. A few episodes change little, many change
more.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from math import exp, log

from store.reckon.filter import Sighting
from store.reckon.prior import DEFAULT, Prior, Rate, Residual
from store.reckon.recovery import Outlook, Reference, outlook

WORTH = 20.0
"""As many episodes as the program's own prior counts for."""

LEAST_READINGS = 4
"""An episode with fewer says little of its rate."""

LEAST_EPISODES = 5
"""Fewer closed episodes than this change nothing."""


def learned(
    episodes: Iterable[tuple[Sequence[Sighting], Reference]], spread: float, prior: Prior = DEFAULT
) -> Prior:
    """The prior with what closed episodes of one measure add to it. Each is its sightings and its reference."""
    told = [
        outlook(sightings, reference, spread, prior)
        for sightings, reference in episodes
        if len(sightings) >= LEAST_READINGS
    ]
    if len(told) < LEAST_EPISODES:
        return prior
    rates, residuals = _counted(told)
    return prior._replace(
        rates=_rates(prior, rates),
        residuals=_residuals(prior, residuals, len(told)),
        learned_from=len(told),
    )


def _counted(told: Sequence[Outlook]) -> tuple[Mapping[float, float], Mapping[str, float]]:
    """How many episodes stand for each rate and each residual, in parts of an episode."""
    rates: dict[float, float] = defaultdict(float)
    residuals: dict[str, float] = defaultdict(float)
    for one in told:
        for path in one.paths:
            rates[path.constant_days] += path.weight
            residuals[path.residual] += path.weight
    return rates, residuals


def _rates(prior: Prior, counts: Mapping[float, float]) -> tuple[Rate, ...]:
    whole = sum(exp(rate.log_weight) for rate in prior.rates)
    return tuple(
        Rate(rate.days, log(WORTH * exp(rate.log_weight) / whole + counts[rate.days])) for rate in prior.rates
    )


def _residuals(prior: Prior, counts: Mapping[str, float], episodes: int) -> tuple[Residual, ...]:
    return tuple(
        one._replace(weight=(WORTH * one.weight + counts[one.name]) / (WORTH + episodes))
        for one in prior.residuals
    )
