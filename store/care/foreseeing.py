"""What is expected of an ankle: the forecast of a measure, the lines it is held against, and whether it has come
to a stand."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from store.care.care import Care
from store.care.charted import untreated_of
from store.care.experience import prior_of
from store.care.measured import BASELINE, MeasureStanding
from store.care.standing import Standing
from store.knowledge.criteria import Stage
from store.knowledge.words import Reading
from store.reckon import forecast as reckoned
from store.reckon.criteria import Line, line_of
from store.reckon.error import error_for
from store.reckon.forecast import Band, Dates, Forecast
from store.reckon.plateau import Plateau, enough
from store.reckon.threshold import PastLine, past


class LineAhead(NamedTuple):
    """A line on the injured side's value: the word for the chart, its value, how the value of so many days ago
    stands to it, and when it is expected."""

    word: str
    line: Line
    past: PastLine | None
    dates: Dates | None
    age_days: int = 0


class Foreseen(NamedTuple):
    """What is expected of one measure. `why_none` says in a sentence why there is no forecast; it is empty where
    there is one."""

    measure: str
    on: date
    why_none: str
    forecast: Forecast | None
    lines: tuple[LineAhead, ...]
    plateau: Plateau | None

    @property
    def small_a_week(self) -> float:
        """The rate under which a course counts as flat, in the unit a week; 0 without a forecast."""
        return self.forecast.small_a_week if self.forecast else 0.0

    @property
    def estimate(self) -> Band | None:
        """The true value today."""
        return self.forecast.at(self.on) if self.forecast else None


class Curve(NamedTuple):
    """A forecast as a chart draws it: days since the injury, the band on each, and the line that matters next."""

    days: tuple[float, ...]
    bands: tuple[Band, ...]
    line: LineAhead | None
    meets_on: float | None  # the day on which the middle is expected at the line


CURVE_POINTS = 7
LEAST_DAYS, MOST_DAYS = 28, 112
"""How far a curve is drawn: past the day on which its line is expected, within these."""


def curve(told: Foreseen, coming: Stage) -> Curve | None:
    """The forecast as a chart draws it; None where there is none."""
    forecast = told.forecast
    if forecast is None:
        return None
    line = line_of_interest(told, coming)
    short = line is not None and not (line.past is not None and line.past.verdict.met)
    median = line.dates.median if line is not None and line.dates is not None and short else None
    last = forecast.last_on
    reach = (median - last).days * 1.3 if median else LEAST_DAYS
    span = round(min(max(reach, LEAST_DAYS), MOST_DAYS))
    days = [last + timedelta(days=round(span * step / (CURVE_POINTS - 1))) for step in range(CURVE_POINTS)]
    since = [float((day - forecast.start).days) for day in days]
    drawn = median is not None and median <= days[-1]
    return Curve(
        days=tuple(since),
        bands=tuple(forecast.at(day) for day in days),
        line=line,
        meets_on=float((median - forecast.start).days) if median is not None and drawn else None,
    )


def line_of_interest(told: Foreseen, coming: Stage) -> LineAhead | None:
    """The line of the stage that comes, else the nearest later one, else the last of those before."""
    order = list(Stage)
    later = [one for one in told.lines if order.index(Stage(one.word)) >= order.index(coming)]
    return next(iter(later), told.lines[-1] if told.lines else None)


def foresee(care: Care, held: Standing, measure_id: str, *, dated: bool = True) -> Foreseen:
    """What is expected of one measure of an episode, without what is blind now. Raises CareFault on an unknown
    measure. The days of its lines take half the time: without `dated` none is asked for."""
    one = held.of(measure_id)
    return _foreseen(care, held, one, _evidence(care, held, one), dated=dated)


def foresee_flat(care: Care, held: Standing, measure_id: str) -> Foreseen | None:
    """The same, undated, of a measure that was taken often and long enough to be called flat; None of any other,
    of which nothing is worked out."""
    one = held.of(measure_id)
    readings, reference = _evidence(care, held, one)
    days = [each.taken.on for each in readings]
    if not enough((max(days) - min(days)).days if days else 0, len(days)):
        return None
    return _foreseen(care, held, one, (readings, reference), dated=False)


_Evidence = tuple[tuple[Reading, ...], tuple[Reading, ...]]
"""The injured side's readings that count, and those of what it is held against."""


def _foreseen(care: Care, held: Standing, one: MeasureStanding, evidence: _Evidence, *, dated: bool) -> Foreseen:
    readings, reference = evidence
    why = reckoned.why_none(one.measure, readings, reference)
    if held.episode.closed is not None:
        why = "no forecast: this episode is closed"
    told = None
    if not why:
        told = reckoned.forecast(
            one.measure, readings, reference, held.episode.injured_on, prior=prior_of(care, one.measure)
        )
    return Foreseen(
        measure=one.measure.id,
        on=held.on,
        why_none=why,
        forecast=told,
        lines=tuple(_ahead(one, told if dated else None, held.on, *line) for line in lines_of(care, one)),
        plateau=told.plateau() if told else None,
    )


def _evidence(care: Care, held: Standing, one: MeasureStanding) -> _Evidence:
    """What a forecast rests on; the injured side is held against the baseline, else the other side."""
    measure = one.measure
    if not measure.paired:
        return untreated_of(care, held, measure, None), ()
    readings = untreated_of(care, held, measure, one.injured)
    if one.reference is not None and one.reference.kind == BASELINE:
        return readings, (one.reference.reading,)
    if one.both_injured:
        return readings, ()
    return readings, untreated_of(care, held, measure, one.injured.other)


def lines_of(care: Care, one: MeasureStanding) -> list[tuple[str, Line]]:
    """The lines on this measure's value, each with the stage that draws it: of every stage, the same line once."""
    reference = one.reference.value if one.reference is not None else None
    found: list[tuple[str, Line]] = []
    for stage, wanted in care.knowledge.criteria.items():
        for criterion in wanted.criteria:
            if criterion.measure != one.measure.id or criterion.need.kind in {"yes", "no_rise"}:
                continue
            line = line_of(criterion.need, reference, one.measure.better)
            if line is not None and line.value not in [other.value for _, other in found]:
                found.append((stage.value, line))
    return found


def _ahead(one: MeasureStanding, told: Forecast | None, today: date, word: str, line: Line) -> LineAhead:
    latest = one.subject.latest
    age_days = (today - latest.taken.on).days if latest is not None else 0
    return LineAhead(word, line, stands(one, line), told.dates(line.value, today) if told else None, age_days)


def stands(one: MeasureStanding, line: Line) -> PastLine | None:
    """How the injured side's last value stands to a line, by its error; None without a value.

    It rests on what was measured, not on the forecast: readiness is not to be had from a model.
    """
    latest = one.untreated
    if latest is None or latest.value is None:
        return None
    return past(latest.value, line.value, one.measure.better, sem_of(one, relative=line.relative))


def sem_of(one: MeasureStanding, *, relative: bool) -> float | None:
    """The error between visits of the injured side's value, or of its gap for a line drawn from the reference."""
    error = error_for(one.measure, "between", gap=relative)
    return error.sem if error else None


def next_stage(decided: Stage | None) -> Stage | None:
    """The stage after the one that was decided last; None after the last of all."""
    stages = list(Stage)
    at = stages.index(decided) + 1 if decided is not None else 0
    return stages[at] if at < len(stages) else None
