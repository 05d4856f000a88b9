"""The score of the program's own forecasts: each is kept as shown, and held against the reading that came."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import timedelta
from math import sqrt
from typing import NamedTuple

from store.care.care import Care
from store.care.foreseeing import Foreseen, foresee
from store.care.standing import standing
from store.knowledge.planned import ForecastMade
from store.knowledge.words import Moment, Reading, Status, Visit
from store.reckon.error import error_for
from store.record import forecasts, readings

AHEAD_DAYS = 14
"""For so many days ahead a forecast is kept: two weeks, as it was tried out on simulated recoveries."""

NEAR_DAYS = 3
"""A reading so many days off the day of a forecast is held against it."""

DIGITS = 6
"""Decimals that are kept: far more than are shown, and alike on every machine."""

Z80 = 1.2816
"""Half the width of an 80 % band in standard deviations."""


class Score(NamedTuple):
    """Of so many forecasts that a reading came for, how many fell inside their 80 % band."""

    made: int
    inside: int

    @property
    def words(self) -> str:
        """The score in a sentence; empty while there is nothing to tell."""
        if not self.made:
            return ""
        return f"of {self.made} made here, {self.inside} fell inside; about {round(0.8 * self.made)} should"


def keep_forecasts(care: Care, visit: Visit, measures: Collection[str] | None = None) -> list[ForecastMade]:
    """Keep what is forecast of an episode's measures at the end of a visit: what was measured in it only.

    All of them, or none where one cannot be kept. `measures` names those that are of interest, else all are.
    """
    if visit.episode is None or (measures is not None and not measures):
        return []
    measured = {one.measure for one in readings.readings_of_visit(care.record, visit.id)}
    if measures is not None and measured.isdisjoint(measures):
        return []
    measured = measured if measures is None else measured.intersection(measures)
    held = standing(care, visit.episode)
    kept: list[ForecastMade] = []
    for one in held.measures:
        if one.measure.id not in measured or one.hidden:
            continue
        told = foresee(care, held, one.measure.id, dated=False)
        made = _made(care, visit, told)
        kept += [made] if made is not None else []
    with care.together():
        return [forecasts.FORECAST.add(care.record, made, by=care.examiner) for made in kept]


def _made(care: Care, visit: Visit, told: Foreseen) -> ForecastMade | None:
    forecast, flat = told.forecast, told.plateau
    measure = care.knowledge.measures[told.measure]
    error = error_for(measure, "between")
    if forecast is None or flat is None or error is None or visit.episode is None:
        return None
    on = told.on + timedelta(days=AHEAD_DAYS)
    band = forecast.at(on)
    wider = sqrt(((band.high80 - band.low80) / 2) ** 2 + (Z80 * error.sem) ** 2)
    return ForecastMade(
        id="",
        person=visit.person,
        episode=visit.episode,
        visit=visit.id,
        measure=measure.id,
        side=forecast.readings[-1].side,
        made=care.clock.now(),
        for_on=on,
        value=round(band.value, DIGITS),
        low80=round(band.low80, DIGITS),
        high80=round(band.high80, DIGITS),
        reading_low80=round(band.value - wider, DIGITS),
        reading_high80=round(band.value + wider, DIGITS),
        flat=flat.flat,
        rate_a_week=round(flat.rate_a_week, DIGITS),
        over_days=int(flat.days),
    )


def score(care: Care, measure_id: str) -> Score:
    """How the file's forecasts of a measure did so far."""
    made = [one for one in forecasts.every_forecast(care.record) if one.measure == measure_id]
    people = {one.person for one in made}
    came = {person: readings.readings_of_person(care.record, person, measure_id) for person in people}
    return tally(made, [reading for taken in came.values() for reading in taken])


def tally(made: Iterable[ForecastMade], came: Sequence[Reading]) -> Score:
    """Hold each forecast against the untreated reading nearest its day, where one came near enough.

    A reading has an error of its own, so that it is held against the band of a reading, not of the true value.
    """
    inside = counted = 0
    for one in made:
        near = [
            reading
            for reading in came
            if reading.person == one.person
            and reading.side is one.side
            and reading.value is not None
            and reading.status is Status.MEASURED
            and reading.moment is not Moment.AFTER
            and reading.taken > one.made
            and abs((reading.taken.on - one.for_on).days) <= NEAR_DAYS
        ]
        if not near:
            continue
        nearest = min(near, key=lambda reading: abs((reading.taken.on - one.for_on).days))
        counted += 1
        inside += one.reading_low80 <= (nearest.value or 0.0) <= one.reading_high80
    return Score(counted, inside)
