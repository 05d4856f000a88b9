"""What a gap chart shows, in our own terms: the drawing library behind it can change and no screen will know."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

from store.knowledge.words import Side

_WEEK_STEPS = (1, 2, 4, 8, 13, 26, 52, 104)


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """A value on a day since the injury. `error` is the half-height of its error bar, None where it is unknown."""

    day: float
    value: float
    error: float | None = None


@dataclass(frozen=True, slots=True)
class Threshold:
    """A line across the chart, with what is written at its end: "jog 8"."""

    value: float
    label: str


@dataclass(frozen=True, slots=True)
class Forecast:
    """What is expected of the injured side: a middle and a band, one figure a day each."""

    days: tuple[float, ...]
    middle: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class DayMark:
    """A day written where a line is expected to be met: "21 Jan"."""

    day: float
    value: float
    text: str


@dataclass(frozen=True, slots=True)
class ChartData:
    """Both sides of one measure over the days since the injury, or the `single` values of one without sides."""

    name: str
    unit: str
    injured: Side
    left: tuple[ChartPoint, ...] = ()
    right: tuple[ChartPoint, ...] = ()
    thresholds: tuple[Threshold, ...] = ()
    forecast: Forecast | None = None
    single: tuple[ChartPoint, ...] = ()
    day_marks: tuple[DayMark, ...] = ()
    hidden: bool = False  # there are values that are not to be seen yet

    @property
    def points(self) -> tuple[ChartPoint, ...]:
        """All of them."""
        return (*self.left, *self.right, *self.single)

    @property
    def empty(self) -> bool:
        """Whether there is nothing to show."""
        return not self.points

    def of(self, side: Side | None) -> tuple[ChartPoint, ...]:
        """The points of a side; of None, those without a side."""
        return {Side.LEFT: self.left, Side.RIGHT: self.right}[side] if side else self.single


def week_of(day: float) -> int:
    """The week a day falls in: whole weeks since the injury, and one."""
    return floor(day / 7) + 1


def day_span(data: ChartData) -> tuple[float, float]:
    """First and last day of the chart: from the injury, or the baseline before it, to a little past the last."""
    days = [point.day for point in data.points]
    days += data.forecast.days if data.forecast else ()
    first, last = min([0.0, *days]), max([14.0, *days])
    return first, last + (last - first) * 0.03


def day_ticks(first: float, last: float, cells: int) -> list[tuple[float, str]]:
    """Where the day axis is marked: the injury, then weeks by their number, as many as fit into the cells."""
    room = max(cells // 8, 1)
    weeks = (last - first) / 7
    step = next((step for step in _WEEK_STEPS if weeks / step <= room), _WEEK_STEPS[-1])
    after = range(step * 7, floor(last) + 1, step * 7)
    return [(0.0, "injury"), *((float(day), f"w{week_of(day)}") for day in after)]


def value_axis(data: ChartData, rows: int) -> tuple[float, float, list[float]]:
    """Bottom, top and marks of the value axis: round figures that each fall on a row, two to four rows apart.

    Of the axes that hold everything the one that wastes the least height is taken.
    """
    low, high = _value_span(data)
    fitting: list[tuple[float, float, float, int]] = []
    for apart in (2, 3, 4):
        for step in _round_steps(high - low):
            bottom = round(floor(low / step + 1e-9) * step, 9)
            top = bottom + (rows - 1) * step / apart
            if top >= high:
                fitting.append((top - bottom, bottom, step, apart))
    span, bottom, step, apart = min(fitting)
    marks = [round(bottom + count * step, 6) for count in range((rows - 1) // apart + 1)]
    return bottom, bottom + span, marks


def _value_span(data: ChartData) -> tuple[float, float]:
    """Lowest and highest of all that is drawn; zero is taken in where it is not far off."""
    points = data.points
    low = [point.value - (point.error or 0) for point in points]
    high = [point.value + (point.error or 0) for point in points]
    lines = [line.value for line in data.thresholds]
    if data.forecast:
        low += data.forecast.low
        high += data.forecast.high
    bottom, top = min([*low, *lines]), max([*high, *lines])
    above_zero = min([point.value for point in points] + lines) >= 0
    if above_zero and bottom < top * 0.6:  # an error bar alone does not take the axis below zero
        bottom = 0.0
    return (bottom, top) if top > bottom else (bottom - 1, top + 1)


def _round_steps(span: float) -> list[float]:
    scale = 10.0 ** floor(log10(max(span, 1e-6)) - 1)
    return [scale * factor for factor in (0.5, 1, 2, 3, 5, 10, 20, 30, 50, 100)]


def numbers(data: ChartData, rows: int) -> list[str]:
    """The chart as lines of text: a day each, left and right, the last ones where there are more than rows."""
    lines = [f"{data.name}, {data.unit}" if data.unit else data.name]
    lines[0] += "".join(f"   line: {line.label}" for line in data.thresholds)
    lines[0] += "".join(f", expected {mark.text}" for mark in data.day_marks)
    days = sorted({point.day for point in data.points})
    told = [_told(data, day) for day in days]
    room = max(rows - len(lines), 1)
    if len(told) > room:
        told = [f"… {len(told) - room + 1} earlier", *told[len(told) - room + 1 :]] if room > 1 else told[-1:]
    return [*lines, *(told or ["hidden until the re-test is in" if data.hidden else "nothing measured yet"])]


def _told(data: ChartData, day: float) -> str:
    cells = [f"week {week_of(day)}, day {day:g}" if day >= 0 else f"{-day:g} days before the injury"]
    sides: tuple[Side | None, ...] = (None,) if data.single else tuple(Side)
    for side in sides:
        here = [point for point in data.of(side) if point.day == day]
        word = f"{side.value} injured" if side is data.injured else side.value if side else ""
        figures = ", ".join(_figure(point) for point in here) if here else "·"
        cells.append(f"{word} {figures}".strip())
    return "   ".join(cells)


def _figure(point: ChartPoint) -> str:
    """Rounded for the eye: a mean of three trials has no end of decimals."""
    return f"{round(point.value, 1):g}" + (f" ± {point.error:.1f}" if point.error is not None else "")
