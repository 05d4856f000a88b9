"""Draws a gap chart with plotext, and gives it back as rows of letters with the role of each colour.

plotext places marks, error bars, lines and axes on the grid of cells; it is told a number for each role instead of
a colour, so that the theme colours what it drew. The labels at the ends of the lines are ours: it has no place for
them.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import lru_cache
from itertools import groupby
from math import floor
from typing import TYPE_CHECKING

from rich.text import Text

from store.knowledge.words import Side
from tui.widgets.chart_data import ChartData, day_span, day_ticks, value_axis
from tui.widgets.look import Role, side_head, side_role

if TYPE_CHECKING:
    from textual_plotext import Plot

Run = tuple[str, Role]
LINE, BAND, MIDDLE, MEETS = "╌", "░", "·", "┼"
SINGLE = "●"  # a measure that has no sides
_AXIS_ROWS = 2  # the line of days and what is written under it
_AXES = frozenset("│┤├└┬┴─┼┌┐┘")
_CODES = {role: 100 + number for number, role in enumerate(Role)}
_ROLES = {code: role for role, code in _CODES.items()}


@lru_cache(8)
def draw(data: ChartData, width: int, height: int) -> tuple[tuple[Run, ...], ...]:
    """The chart as `height` rows of runs, each `width` cells. plotext is imported on the first call."""
    ends = _rows_of_lines(data, height)
    margin = max((len(label) + 1 for label in ends.values()), default=0)
    grid = _cells(_built(data, width - margin, height), width - margin, height)
    rows = []
    for row, cells in enumerate(grid):
        ink = _ink(data)
        cells += [(letter, ink) for letter in f" {ends.get(row, '')}".ljust(margin)[:margin]]
        rows.append(tuple(_runs(cells)))
    return tuple(rows)


def _built(data: ChartData, width: int, height: int) -> str:
    """What plotext makes of it, as text with escapes."""
    from textual_plotext import Plot

    plot = Plot()
    plot.theme("clear")
    plot.plotsize(width, height)
    plot._set_size(width, height)  # plotsize by itself stops at the size of the terminal
    plot.frame(False)
    plot.xaxes(True, False)
    plot.yaxes(True, False)
    first, last = day_span(data)
    bottom, top, values = value_axis(data, height - _AXIS_ROWS)
    days = day_ticks(first, last, width - 6)
    plot.xlim(first, last)
    plot.ylim(bottom, top)
    plot.yticks(values, [f"{value:g}" for value in values])
    plot.xticks([day for day, _ in days], [label for _, label in days])
    if data.forecast:
        _forecast(plot, data, width)
    _lines(plot, data, width, first, last)
    sides = (None, data.injured.other, data.injured)
    for side in sides:
        _bars(plot, data, side)
    for day_mark in data.day_marks:
        _scatter(plot, [day_mark.day], [day_mark.value], MEETS, Role.NOW)
        plot.text(day_mark.text, day_mark.day, day_mark.value - _below(data, height), color=_CODES[Role.NOW])
    for side in sides:  # over every bar: a mark is what was measured
        _marks(plot, data, side)
    return str(plot.build())


def _below(data: ChartData, height: int) -> float:
    """The height of one row of cells: a day is written a row under the line it belongs to, which has its own
    words."""
    bottom, top, _ = value_axis(data, height - _AXIS_ROWS)
    return (top - bottom) / (height - _AXIS_ROWS - 1)


def _lines(plot: Plot, data: ChartData, width: int, first: float, last: float) -> None:
    across = [first + (last - first) * step / (3 * width) for step in range(3 * width + 1)]
    for line in data.thresholds:
        _scatter(plot, across, [line.value] * len(across), LINE, _ink(data))


def _ink(data: ChartData) -> Role:
    """The colour of what concerns the value in question: the injured side's, or none where there are no sides."""
    return Role.QUIET if data.single else side_role(data.injured)


def _bars(plot: Plot, data: ChartData, side: Side | None) -> None:
    known = [point for point in data.of(side) if point.error]
    if known:
        plot.error(
            [point.day for point in known],
            [point.value for point in known],
            yerr=[2 * point.error for point in known if point.error],  # plotext takes the whole height of the bar
            color=_CODES[Role.QUIET],
        )


def _marks(plot: Plot, data: ChartData, side: Side | None) -> None:
    points = data.of(side)
    marker, role = (side_head(side), side_role(side)) if side else (SINGLE, Role.INK)
    _scatter(plot, [p.day for p in points], [p.value for p in points], marker, role)


def _forecast(plot: Plot, data: ChartData, width: int) -> None:
    """The band as quiet shading and the middle as dots, so that neither reads as a reading."""
    told = data.forecast
    assert told is not None
    first, last = told.days[0], told.days[-1]
    columns = [first + (last - first) * step / (2 * width) for step in range(2 * width + 1)]
    days: list[float] = []
    heights: list[float] = []
    for day in columns:
        low, high = _at(told.days, told.low, day), _at(told.days, told.high, day)
        days += [day] * 25
        heights += [low + (high - low) * step / 24 for step in range(25)]
    _scatter(plot, days, heights, BAND, Role.FAINT)
    dots = columns[::6]
    _scatter(plot, dots, [_at(told.days, told.middle, day) for day in dots], MIDDLE, side_role(data.injured))


def _at(days: tuple[float, ...], values: tuple[float, ...], day: float) -> float:
    """The value on a day, straight between the days that are told."""
    after = min(max(bisect_left(days, day), 1), len(days) - 1)
    before = after - 1
    if after == 0 or days[after] == days[before]:
        return values[0]
    part = (day - days[before]) / (days[after] - days[before])
    return values[before] + (values[after] - values[before]) * part


def _scatter(plot: Plot, days: list[float], values: list[float], marker: str, role: Role) -> None:
    if days:
        plot.scatter(days, values, marker=marker, color=_CODES[role])


def _cells(built: str, width: int, height: int) -> list[list[Run]]:
    """The text as a grid of letters and roles, exactly as large as asked for."""
    grid: list[list[Run]] = []
    for line in built.splitlines()[:height]:
        text = Text.from_ansi(line)
        cells: list[Run] = [(letter, Role.FAINT if letter in _AXES else Role.QUIET) for letter in text.plain]
        for span in text.spans:
            number = getattr(getattr(span.style, "color", None), "number", None)
            for at in range(span.start, span.end):
                if number in _ROLES:
                    cells[at] = (cells[at][0], _ROLES[number])
        grid.append((cells + [(" ", Role.QUIET)] * width)[:width])
    return grid + [[(" ", Role.QUIET)] * width for _ in range(height - len(grid))]


def _rows_of_lines(data: ChartData, height: int) -> dict[int, str]:
    """On which row of cells each threshold falls, with what is written at its end, the highest first."""
    bottom, top, _ = value_axis(data, height - _AXIS_ROWS)
    last = height - _AXIS_ROWS - 1
    ends: dict[int, str] = {}
    for line in sorted(data.thresholds, key=lambda line: -line.value):
        row = last - floor(round(0.5 + last * (line.value - bottom) / (top - bottom), 8))  # as plotext rounds
        ends[row] = f"{ends[row]} {line.label}" if row in ends else line.label
    return ends


def _runs(cells: list[Run]) -> list[Run]:
    """Neighbours of one role as one run."""
    return [
        ("".join(letter for letter, _ in same), role) for role, same in groupby(cells, key=lambda cell: cell[1])
    ]
