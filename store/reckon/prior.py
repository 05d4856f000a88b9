"""What the forecast supposes before it has seen a reading: the grid, its weights and the reason of each, in one
place.

Everything here is a share of `spread`, the size that a gap can have in the measure's unit, or a number of days,
so that a change of the unit changes nothing. The figures were set on simulated recoveries
(tests/bench/recoveries.py) with one shape and other seeds held out, and held against published courses
(tests/outside/test_published_courses.py). They are not known of people.
"""

from __future__ import annotations

from math import log
from typing import NamedTuple

SPREAD_SEMS = 8.0
"""The spread of gaps in standard errors of measurement between visits: 5.5 cm for the lunge. Derived on
simulations."""

HORIZON_DAYS = 365
"""How far a date is looked for. Beyond a year a course of weeks says nothing."""


class Rate(NamedTuple):
    """A time constant in days, and the log of its weight."""

    days: float
    log_weight: float


class Residual(NamedTuple):
    """What may stay of the gap, as a share of the spread: its middle, its standard deviation, its weight."""

    name: str
    middle: float
    sd: float
    weight: float


class Weighted(NamedTuple):
    """A value of the grid and its weight."""

    value: float
    weight: float


class Prior(NamedTuple):
    """The grid and its weights. `learned_from` counts the closed episodes of the file that it has learned from."""

    rates: tuple[Rate, ...]
    residuals: tuple[Residual, ...]
    ramps: tuple[Weighted, ...]  # days
    noises: tuple[Weighted, ...]  # shares of the spread
    gap: float  # at the first reading, as a share of the spread
    gap_sd: float
    learned_from: int = 0


def _rates(middle: float, factor: float, days: tuple[float, ...]) -> tuple[Rate, ...]:
    """Log-normal weights: one standard deviation is a factor either way."""
    return tuple(Rate(day, -0.5 * (log(day / middle) / log(factor)) ** 2) for day in days)


DEFAULT = Prior(
    # Published group courses close most of the way in two to three weeks (17 degrees to 4 in 14 days, which is a
    # constant of about 10 days; most of the change in the first 4 to 12 weeks elsewhere); people differ by more
    # than a factor of two either way.
    rates=_rates(18.0, 2.3, (4.0, 6.0, 9.0, 14.0, 21.0, 32.0, 50.0, 80.0)),
    # A gap can stay: at one year 3.2 cm (SD 2.7) of the lunge after a fixed fracture, 6 in 100 knees stall early.
    # A sprain mostly closes; the share of one in three is common practice.
    residuals=(Residual("closes", 0.0, 0.08, 0.65), Residual("stays", 0.3, 0.25, 0.35)),
    # The first days are slow: swelling and pain hold the ankle. None, a good week, a month.
    ramps=(Weighted(0.0, 0.4), Weighted(10.0, 0.3), Weighted(30.0, 0.3)),
    # How far a day may stand off its own path, measurement apart: hardly, somewhat, a flare-up.
    noises=(Weighted(0.03, 0.5), Weighted(0.09, 0.3), Weighted(0.2, 0.2)),
    gap=0.8,
    gap_sd=0.6,
)
"""The prior of the program."""
