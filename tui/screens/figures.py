"""From what care knows of a measure to what the table and the chart are given: texts, lengths, points."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from store.care.charted import Charted
from store.care.dates import short_day
from store.care.foreseeing import Curve
from store.care.in_cells import change_cell, gap_cell, line_cell, standing_cell
from store.care.in_words import many
from store.care.measured import MeasureStanding
from store.care.standing import Standing
from store.knowledge.units import YES_NO, unit_words
from store.knowledge.words import Better, Reading, Side
from tui.widgets.chart_data import ChartData, ChartPoint, DayMark, Forecast, Threshold
from tui.widgets.mirror import MirrorRow

HIDDEN = "hidden"


def shown_measures(held: Standing) -> list[MeasureStanding]:
    """What the table shows: the main measure first, then the others that were measured, in the table's order."""
    shown = [one for one in held.measures if one.measured or one.hidden]
    return sorted(shown, key=lambda one: one.measure.id != held.episode.main_measure)


def mirror_row(one: MeasureStanding, on: date | None = None) -> MirrorRow:
    """One measure as a row of the mirrored table. What is hidden leaves neither value, bar, gap nor change; what
    is no longer fresh on the day `on` has its age in place of its unit.
    """
    measure = one.measure
    unit = "" if measure.unit == YES_NO else unit_words(measure.unit)  # the answers say yes and no
    stale = one.days_stale(on) if on is not None and not one.hidden else 0
    unit = f"{many(stale, 'day')} ago" if stale else unit
    lower = measure.better is Better.LOWER
    if one.hidden:
        sides, single = (HIDDEN, None) if measure.paired else (None, HIDDEN)
        return MirrorRow(measure.id, measure.name, unit, sides, sides, lower_is_better=lower, single=single)
    change = one.since_first
    verdict = change.verdict if change is not None and change.value is not None else None
    text = change_cell(change, measure)
    if not measure.paired:
        single = standing_cell(one.of(None), measure)
        return MirrorRow(measure.id, measure.name, unit, single=single, verdict=verdict, change=text)
    left, right = one.of(Side.LEFT), one.of(Side.RIGHT)
    longest = max(_size(left), _size(right))
    return MirrorRow(
        id=measure.id,
        name=measure.name,
        unit=unit,
        left=standing_cell(left, measure),
        right=standing_cell(right, measure),
        left_part=_size(left) / longest if longest else 0.0,
        right_part=_size(right) / longest if longest else 0.0,
        lower_is_better=lower,
        gap=gap_cell(one),
        verdict=verdict,
        change=text,
    )


def _size(reading: Reading | None) -> float:
    return max(reading.value, 0.0) if reading is not None and reading.value is not None else 0.0


def chart_data(drawn: Charted, ahead: Curve | None = None) -> ChartData:
    """The chart of one measure, with what is expected of it where there is a forecast."""
    lines = tuple(Threshold(value, label) for value, label in drawn.lines)
    if ahead is not None and ahead.line is not None:
        line = ahead.line
        lines = (Threshold(line.line.value, f"{line.word} {line_cell(line.line.value, drawn.measure)}"),)
    return ChartData(
        name=drawn.measure.name,
        unit=unit_words(drawn.measure.unit),
        injured=drawn.injured,
        left=_points(drawn, drawn.left),
        right=_points(drawn, drawn.right),
        single=_points(drawn, drawn.single),
        thresholds=lines,
        forecast=_forecast(ahead) if ahead is not None else None,
        day_marks=_day_marks(ahead) if ahead is not None else (),
        hidden=drawn.hidden,
    )


def _forecast(ahead: Curve) -> Forecast:
    bands = ahead.bands
    return Forecast(
        days=ahead.days,
        middle=tuple(band.value for band in bands),
        low=tuple(band.low80 for band in bands),
        high=tuple(band.high80 for band in bands),
    )


def _day_marks(ahead: Curve) -> tuple[DayMark, ...]:
    """The day on which the middle is expected at the line, written where the two meet."""
    line = ahead.line
    if line is None or line.dates is None or line.dates.median is None or ahead.meets_on is None:
        return ()
    return (DayMark(ahead.meets_on, line.line.value, short_day(line.dates.median)),)


def _points(drawn: Charted, taken: Sequence[Reading]) -> tuple[ChartPoint, ...]:
    return tuple(
        ChartPoint(drawn.day_of(one), one.value, drawn.half_bar) for one in taken if one.value is not None
    )
