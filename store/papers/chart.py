"""The gap chart of a measure as a drawing for paper: readings with their error, the line, the forecast. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from store.care.charted import Charted
from store.care.foreseeing import Curve
from store.knowledge.units import unit_words
from store.knowledge.words import Reading, Side

WIDTH, HEIGHT = 680, 245
LEFT, RIGHT, TOP, FOOT = 52, 600, 34, 203
INK, QUIET, FAINT = "#22262b", "#5c636b", "#d2cec4"
COLOUR = {Side.LEFT: "#0067a3", Side.RIGHT: "#9a5b00", None: INK}


class _Scale:
    """Days across, values up."""

    def __init__(self, days: Sequence[float], values: Sequence[float]) -> None:
        self.last = max([*days, 7.0])
        low, high = min(values), max(values)
        room = (high - low) * 0.08 or 1.0
        self.low, self.high = low - room, high + room

    def x(self, day: float) -> float:
        return round(LEFT + (RIGHT - LEFT) * max(day, 0.0) / self.last, 1)

    def y(self, value: float) -> float:
        return round(FOOT - (FOOT - TOP) * (value - self.low) / (self.high - self.low), 1)


def chart_svg(drawn: Charted, ahead: Curve | None) -> str:
    """The chart as inline SVG; empty where nothing has a value. Sides differ by shape and word too."""
    sides = [(Side.LEFT, drawn.left), (Side.RIGHT, drawn.right), (None, drawn.single)]
    every = [one for _, taken in sides for one in taken]
    if not every:
        return ""
    bar = drawn.half_bar or 0.0
    values = [value for one in every if one.value is not None for value in (one.value - bar, one.value + bar)]
    days = [drawn.day_of(one) for one in every]
    lines = list(drawn.lines)
    if ahead is not None:
        days += ahead.days
        values += [edge for band in ahead.bands for edge in (band.low80, band.high80)]
        if ahead.line is not None:
            lines = [(ahead.line.line.value, f"{ahead.line.word} {ahead.line.line.value:.1f}")]
    scale = _Scale(days, [*values, *(value for value, _ in lines)])
    parts = [*_axes(scale, drawn), *_lines(scale, lines), *(_band(scale, ahead) if ahead is not None else ())]
    for side, taken in sides:
        parts += _side(scale, drawn, side, taken)
    parts += _legend(drawn, ahead)
    label = escape(
        f"{drawn.measure.name}, {unit_words(drawn.measure.unit)}, by weeks since the injury", quote=True
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{label}" '
        f'font-family="Liberation Sans, Arial, sans-serif" font-size="13">{"".join(parts)}</svg>'
    )


def _text(x: float, y: float, words: str, *, anchor: str = "start", fill: str = INK) -> str:
    return f'<text x="{x}" y="{y}" text-anchor="{anchor}" fill="{fill}">{escape(words)}</text>'


def _stroke(x1: float, y1: float, x2: float, y2: float, colour: str, more: str = "") -> str:
    return f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" stroke="{colour}" {more}/>'


def _axes(scale: _Scale, drawn: Charted) -> Iterable[str]:
    yield _stroke(LEFT, FOOT, RIGHT, FOOT, QUIET)
    yield _stroke(LEFT, TOP, LEFT, FOOT, QUIET)
    weeks = int(scale.last // 7)
    every = max(1, weeks // 8)
    for week in range(0, weeks + 1, every):
        x = scale.x(week * 7)
        yield _stroke(x, FOOT, x, FOOT + 4, QUIET)
        yield _text(x, FOOT + 18, str(week), anchor="middle", fill=QUIET)
    yield _text((LEFT + RIGHT) / 2, FOOT + 36, "weeks since the injury", anchor="middle", fill=QUIET)
    step = _step((scale.high - scale.low) / 5)
    tick = (int(scale.low // step) + 1) * step
    while tick < scale.high:
        y = scale.y(tick)
        yield _stroke(LEFT - 4, y, LEFT, y, QUIET)
        yield _text(LEFT - 8, y + 4, f"{tick:g}", anchor="end", fill=QUIET)
        tick = round(tick + step, 6)
    yield _text(LEFT - 40, TOP - 16, f"{drawn.measure.name}, {unit_words(drawn.measure.unit)}")


def _step(rough: float) -> float:
    """The next of 1, 2, 5 times a power of ten."""
    power = 1.0
    while power * 10 <= rough:
        power *= 10
    while power > rough:
        power /= 10
    return next(round(power * by, 9) for by in (1, 2, 5, 10) if power * by >= rough)


def _lines(scale: _Scale, lines: Iterable[tuple[float, str]]) -> Iterable[str]:
    for value, word in lines:
        y = scale.y(value)
        yield _stroke(LEFT, y, RIGHT, y, QUIET, 'stroke-width="1.5"')
        yield _text(RIGHT + 6, y + 4, word)


def _band(scale: _Scale, ahead: Curve) -> Iterable[str]:
    """The forecast: its middle dashed, its 80 % band shaded, so that neither reads as data."""
    points = list(zip(ahead.days, ahead.bands, strict=True))
    upper = [f"{scale.x(day)},{scale.y(band.high80)}" for day, band in points]
    lower = [f"{scale.x(day)},{scale.y(band.low80)}" for day, band in reversed(points)]
    yield f'<polygon points="{" ".join((*upper, *lower))}" fill="{FAINT}" fill-opacity="0.55"/>'
    middle = " ".join(f"{scale.x(day)},{scale.y(band.value)}" for day, band in points)
    yield f'<polyline points="{middle}" fill="none" stroke="{INK}" stroke-dasharray="5 4"/>'
    if ahead.meets_on is not None:
        x = scale.x(ahead.meets_on)
        yield _stroke(x, TOP, x, FOOT, QUIET, 'stroke-dasharray="1 4"')


def _side(scale: _Scale, drawn: Charted, side: Side | None, taken: Sequence[Reading]) -> Iterable[str]:
    colour = COLOUR[side]
    points = [(scale.x(drawn.day_of(one)), one.value) for one in taken if one.value is not None]
    if len(points) > 1:
        joined = " ".join(f"{x},{scale.y(value)}" for x, value in points)
        yield f'<polyline points="{joined}" fill="none" stroke="{colour}" stroke-width="1.5"/>'
    for x, value in points:
        if drawn.half_bar is not None:
            yield _stroke(x, scale.y(value - drawn.half_bar), x, scale.y(value + drawn.half_bar), colour)
        yield _mark(x, scale.y(value), side, colour)


def _mark(x: float, y: float, side: Side | None, colour: str) -> str:
    """A head that points to its side; a dot where there is none."""
    if side is None:
        return f'<circle cx="{x}" cy="{y}" r="5" fill="{colour}"/>'
    way = -1 if side is Side.LEFT else 1
    points = f"{x + 6 * way},{y} {x - 5 * way},{y - 6} {x - 5 * way},{y + 6}"
    return f'<polygon points="{points}" fill="{colour}"/>'


def _legend(drawn: Charted, ahead: Curve | None) -> Iterable[str]:
    """Left stands left; the injured side carries the word."""
    x = 210.0
    for side, taken in ((Side.LEFT, drawn.left), (Side.RIGHT, drawn.right)):
        if taken:
            word = f"{side}, injured" if side is drawn.injured else str(side)
            yield _mark(x, TOP - 20, side, COLOUR[side])
            yield _text(x + 12, TOP - 16, word, fill=COLOUR[side])
            x += 120
    if ahead is not None:
        yield _stroke(x - 4, TOP - 20, x + 22, TOP - 20, INK, 'stroke-dasharray="5 4"')
        yield _text(x + 28, TOP - 16, "forecast, 80 % band")
