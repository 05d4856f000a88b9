"""The forecast of one measure of an ankle: from its readings to a course, in the unit and the direction of the
measure."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from store.knowledge.kinds import Measure
from store.knowledge.words import Better, Moment, Reading, Status
from store.reckon import plateau as flat
from store.reckon.error import error_for
from store.reckon.filter import Sighting
from store.reckon.plateau import Plateau
from store.reckon.prior import DEFAULT, HORIZON_DAYS, SPREAD_SEMS, Prior
from store.reckon.recovery import Outlook, Reference, outlook

LOW, HIGH = 0.1, 0.9
"""The ends of the 80 % band."""

COUNTED_UNITS = frozenset({"reps", "count", "errors"})
SCORED_UNITS = frozenset({"0-10", "grade", "level", "points", "yes/no"})


class Band(NamedTuple):
    """A value with its 80 % band, in the unit."""

    value: float
    low80: float
    high80: float


class Dates(NamedTuple):
    """The first days on which the true value is past a line with a chance of 0.1, 0.5 and 0.9; None: not within
    the horizon."""

    low: date | None
    median: date | None
    high: date | None


class Forecast(NamedTuple):
    """What is expected of the injured side's value. `readings` are those it rests on; day 0 is `start`."""

    course: Outlook
    reference: Reference  # turned, so that up is better
    sign: int
    start: date
    readings: tuple[Reading, ...]
    gap: float  # a gap that matters to nobody, in the unit
    small_a_week: float
    learned_from: int = 0  # closed episodes of the file that the prior has learned from

    @property
    def last_on(self) -> date:
        """The day of the last reading it rests on."""
        return self.start + timedelta(days=self.course.last_day)

    def at(self, on: date) -> Band:
        """The true value on a day, not before the last reading's: then that day's."""
        low, middle, high = self.course.quantiles(self._day(on), (LOW, 0.5, HIGH))
        if self.sign < 0:
            low, high = high, low
        return Band(self.sign * middle, self.sign * low, self.sign * high)

    def chance_past(self, line: float, on: date) -> float:
        """The probability that the true value is at or past a line on a day."""
        return self.course.chance_past(self.sign * line, self._day(on))

    def dates(self, line: float, today: date) -> Dates:
        """When a line is expected to be reached, from today on, within a year."""
        start = self._day(today)
        low, median, high = (
            None if day is None else self.start + timedelta(days=day)
            for day in self.course.first_days(self.sign * line, (LOW, 0.5, HIGH), start, HORIZON_DAYS)
        )
        return Dates(low, median, high)

    def plateau(self) -> Plateau:
        """Whether it has come to a stand, in the unit a week; a positive rate is better."""
        spans = (self.readings[-1].taken.on - self.readings[0].taken.on).days
        return flat.plateau(
            self.course,
            self.reference,
            small_a_week=self.small_a_week,
            gap=self.gap,
            days=spans,
            readings=len(self.readings),
        )

    def _day(self, on: date) -> float:
        return max(float((on - self.start).days), self.course.last_day)


def why_none(measure: Measure, readings: Sequence[Reading], reference: Sequence[Reading]) -> str:
    """Why no honest forecast can be given, in a sentence; empty when one can.

    `readings` are those of the injured side that count, `reference` those that recovery is held against.
    """
    if measure.unit in COUNTED_UNITS:
        return "no forecast: a count moves in steps, and the model does not"
    if measure.ordinal or measure.unit in SCORED_UNITS:
        return "no forecast: a grade or a score is no length"
    if error_for(measure, "between") is None:
        return "no forecast: its measurement error is not known"
    usable = _usable(readings)
    if not usable:
        return "no forecast: nothing measured yet"
    if len({one.taken.on for one in usable}) < 2:
        return "no forecast yet: it wants readings on two days"
    if not _usable(reference):
        return "no forecast: there is no side or baseline to recover towards"
    return ""


def forecast(
    measure: Measure,
    readings: Sequence[Reading],
    reference: Sequence[Reading],
    injured_on: date | None,
    *,
    prior: Prior = DEFAULT,
    own_sem: float | None = None,
    small_a_week: float | None = None,
) -> Forecast:
    """The forecast of a side from its readings, in any order, towards the mean of the reference's.

    Readings after treatment and those that were unable are left out; one at the cap is a lower bound. Raises
    ValueError where `why_none` has a reason.
    """
    reason = why_none(measure, readings, reference)
    error = error_for(measure, "between", own_sem=own_sem)
    if reason or error is None:
        raise ValueError(reason)
    usable, held = _usable(readings), _usable(reference)
    start = day_nought(usable, injured_on)
    sightings, ends_at = sightings_of(measure, usable, held, start, error.sem)
    return Forecast(
        course=outlook(sightings, ends_at, SPREAD_SEMS * error.sem, prior if injured_on else without_ramp(prior)),
        reference=ends_at,
        sign=_sign(measure),
        start=start,
        readings=tuple(usable),
        gap=flat.SMALL_GAP_SEMS * error.sem,
        small_a_week=small_a_week or flat.SMALL_SEMS_A_WEEK * error.sem,
        learned_from=prior.learned_from,
    )


def day_nought(readings: Sequence[Reading], injured_on: date | None) -> date:
    """The day from which days are counted: of the injury, else of the first reading, whichever was first."""
    first = min(one.taken.on for one in readings)
    return min(injured_on or first, first)


def sightings_of(
    measure: Measure, readings: Sequence[Reading], reference: Sequence[Reading], start: date, sem: float
) -> tuple[list[Sighting], Reference]:
    """Readings as the model sees them, turned so that up is better, and the mean of what they are held against."""
    sign = _sign(measure)
    sightings = [
        Sighting(float((one.taken.on - start).days), sign * _value(one), sem, _is_bound(one)) for one in readings
    ]
    mean = math.fsum(_value(one) for one in reference) / len(reference)
    return sightings, Reference(sign * mean, sem / math.sqrt(len(reference)))


def _sign(measure: Measure) -> int:
    return 1 if measure.better is Better.HIGHER else -1


def without_ramp(prior: Prior) -> Prior:
    """The prior where the day of the injury is not known: nobody can say whether the start was slow."""
    return prior._replace(ramps=tuple(one._replace(weight=1.0) for one in prior.ramps if one.value == 0))


def _usable(readings: Sequence[Reading]) -> list[Reading]:
    """Untreated readings that have a value, oldest first."""
    kept = [one for one in readings if one.value is not None and one.moment is not Moment.AFTER]
    return sorted(kept, key=lambda one: (one.taken, one.id))


def _is_bound(reading: Reading) -> bool:
    return reading.status is Status.CAP


def _value(reading: Reading) -> float:
    if reading.value is None:
        raise ValueError("a reading that is used has a value")
    return reading.value
