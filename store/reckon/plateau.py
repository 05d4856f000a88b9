"""Whether a recovery has come to a stand while a gap remains: proven flat, or not proven."""

from __future__ import annotations

from typing import NamedTuple

from store.reckon.recovery import Outlook, Reference

UPPER = 0.80
"""The present rate is flat when its upper bound at this level is below the small rate: common practice."""

SHORT_OF_REFERENCE = 0.90
"""How sure it must be that a gap remains."""

SMALL_GAP_SEMS = 2.0
"""A gap that remains is larger than this many standard errors: 1.4 cm of the lunge, what most healthy people have.
Derived."""

SMALL_SEMS_A_WEEK = 0.29
"""The small rate where a measure names none, in standard errors a week: 0.2 cm of the lunge's 0.69. Derived."""

OVER_DAYS = 28.0
"""The present rate is what the next four weeks bring, a week: less takes a flare-up for a pace."""

LEAST_DAYS = 14.0
"""Nothing is called flat on less than two weeks of readings: common practice."""

LEAST_READINGS = 4


class Plateau(NamedTuple):
    """The present rate in the unit a week, its upper 80 % bound, and whether that is flat while a gap remains.

    `days` is how long the readings it rests on reach back. "Not proven" is not flat.
    """

    rate_a_week: float
    upper_a_week: float
    flat: bool
    days: float
    readings: int


def enough(days: float, readings: int) -> bool:
    """Whether so many readings, over so many days, can prove a course flat at all."""
    return days >= LEAST_DAYS and readings >= LEAST_READINGS


def plateau(
    outlook: Outlook, reference: Reference, *, small_a_week: float, gap: float, days: float, readings: int
) -> Plateau:
    """Judge the present rate of an outlook whose readings span so many days; `gap` is what may remain and
    matters to nobody.

    Raises ValueError on a small rate or gap that is not above nought.
    """
    if not (small_a_week > 0 and gap > 0):
        raise ValueError("a small rate and a small gap are above nought")
    middle, upper = (7 * each for each in outlook.paces(OVER_DAYS, (0.5, UPPER)))
    remains = 1 - outlook.chance_past(reference.value - gap, outlook.last_day) >= SHORT_OF_REFERENCE
    return Plateau(middle, upper, enough(days, readings) and remains and upper < small_a_week, days, readings)
