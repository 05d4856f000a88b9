"""A typed figure as a number in the measure's unit: decimal point or comma, a unit behind it, limits kept."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from store.entry.words import Word
from store.knowledge.units import YES_NO

if TYPE_CHECKING:
    from store.knowledge.kinds import Measure

_NUMBER = re.compile(r"(-?(?:[0-9]+(?:[.,][0-9]*)?|\.[0-9]+))([^0-9.,;]\S*)?")

_SECONDS = dict.fromkeys(("s", "sec", "secs", "second", "seconds"), Decimal(1))
_DEGREES = dict.fromkeys(("deg", "°", "º", "degree", "degrees"), Decimal(1))
_TIMES = dict.fromkeys(("rep", "reps", "x"), Decimal(1))
UNITS: Mapping[str, Mapping[str, Decimal]] = {
    "cm": {"cm": Decimal(1), "mm": Decimal("0.1")},
    "s": _SECONDS,
    "deg": _DEGREES,
    "reps": _TIMES,
    "count": _TIMES,
    "errors": dict.fromkeys(("error", "errors"), Decimal(1)),
    "N": {"n": Decimal(1), "kgf": Decimal("9.80665"), "lbf": Decimal("4.4482216")},
    "points": dict.fromkeys(("point", "points"), Decimal(1)),
    "yes/no": {},
    "0-10": {"/10": Decimal(1)},
    "%": {"%": Decimal(1)},
}
"""Per unit of a measure: the units that may be typed (small letters), and what one of them is in the measure's."""

ANSWERS: Mapping[str, Decimal] = {"yes": Decimal(1), "no": Decimal(0)}
"""Yes and no as they are kept."""

ANSWERS_IN_SHORT: Mapping[str, str] = {"y": "yes", "n": "no"}
"""Yes and no by one key, where nothing else can be meant: n is a unit as well."""

MOST_DIGITS = 24
"""Characters of a figure: all that a float can hold in the size of any measure."""

_BARE = frozenset({"0-10", "grade", "level"})
"""Units that are not written behind a figure of a range."""

_SIGNS = "-+−.,;"
_NO_NUMBERS = frozenset({"nan", "inf", "infinity"})
_KNOWN = frozenset(unit for units in UNITS.values() for unit in units)


class Figure(NamedTuple):
    """A number as typed, with the unit typed behind it (small letters, or empty)."""

    number: Decimal
    unit: str
    word: Word


def looks_like_number(word: Word) -> bool:
    """Whether a word is meant as a figure, rightly written or not."""
    first = word.text[:1]
    return not word.quoted and (first in _SIGNS or first.isnumeric() or word.key in _NO_NUMBERS)


def is_unit(word: Word) -> bool:
    """Whether a word is a unit standing by itself behind its figure."""
    return not word.quoted and _bare(word.text).casefold() in _KNOWN


def with_unit(figure: Figure, unit: Word) -> Figure:
    """The figure with the unit that stands behind it. Raises EntryError when it has one."""
    if figure.unit:
        raise unit.error(f"{figure.word.text} has a unit: leave one of the two out")
    whole = Word(f"{figure.word.text} {unit.text}", figure.word.start, unit.end)
    return figure._replace(unit=_bare(unit.text).casefold(), word=whole)


def figure_of(word: Word) -> Figure:
    """The figure a word stands for. Raises EntryError with what to type instead."""
    text = _bare(word.text.replace("−", "-"))
    if any(char.isnumeric() and not char.isascii() for char in text):
        raise word.error("write figures with the digits 0 to 9")
    match = _NUMBER.fullmatch(text)
    if not match and set(text) <= set("0123456789.,;"):
        raise word.error("not one number: put a space between values, and one point or comma in each")
    unit = (match[2] or "").casefold() if match else ""
    if not match or not (unit in _KNOWN or unit.isalpha() or not unit):
        raise word.error("not a number: type a figure such as 8 or 8.4")
    return Figure(Decimal(match[1].replace(",", ".")), unit, word)


def in_unit(figure: Figure, measure: Measure) -> float:
    """The figure in the measure's unit, within its hard limits. Raises EntryError."""
    units = UNITS.get(measure.unit, {})
    if figure.unit and figure.unit not in units:
        raise figure.word.error(f"{measure.name} is in {_fit(measure)}, not in {figure.unit}")
    value = float(figure.number * units.get(figure.unit, Decimal(1))) + 0.0
    if measure.cap is not None and value > max(measure.high, measure.cap):
        raise figure.word.error(f"the test stops at {limit(measure.cap, measure)}: type cap")
    if measure.unit == YES_NO and value not in (0, 1):
        raise figure.word.error(f"{measure.name} is answered by yes or no")
    if not measure.low <= value <= measure.high:
        raise figure.word.error(_beyond(figure, value, measure))
    if len(plain(value)) > MOST_DIGITS:
        raise figure.word.error(f"too many digits: the step is {plain(measure.step)}")
    return value


def _beyond(figure: Figure, value: float, measure: Measure) -> str:
    """That a value is outside the hard limits, with what grades mean, or a tenth of it where that is usual."""
    says = f"{measure.name} goes from {limits(measure.low, measure.high, measure)}"
    grades = grades_of(measure)
    if grades:
        return f"{says}: {'; '.join(f'{grade} {means}' for grade, means in grades)}"
    tenth = float(Decimal(plain(value)) / 10)
    steps = tenth / measure.step
    usual = measure.usual_low <= tenth <= measure.usual_high
    meant = usual and not figure.unit and abs(steps - round(steps)) < 1e-6
    return f"{says}: did you mean {plain(tenth)}?" if meant else says


_GRADE = re.compile(r"(\d): (.+?)(?=\. |\.$)")


def grades_of(measure: Measure) -> list[tuple[str, str]]:
    """What each grade means, as the steps of a graded measure say it; none where they do not."""
    return [found for step in measure.steps for found in _GRADE.findall(step)] if measure.ordinal else []


def fits(unit: str, measure: Measure) -> bool:
    """Whether a unit, or none, may be typed for a measure."""
    return not unit or unit in UNITS.get(measure.unit, {measure.unit: 1})


def converts(unit: str, measure: Measure) -> bool:
    """Whether a typed unit is another than the measure's own."""
    return UNITS.get(measure.unit, {}).get(unit, 1) != 1


def limits(low: float, high: float, measure: Measure) -> str:
    """A range in words: '0 to 30 cm'."""
    if measure.unit == YES_NO:
        return "yes or no"
    return f"{plain(low)} to {limit(high, measure)}"


def limit(value: float, measure: Measure) -> str:
    """A value with its unit: '30 cm'."""
    return plain(value) if measure.unit in _BARE else f"{plain(value)} {measure.unit}"


def spelled(value: float, measure: Measure) -> str:
    """A value as it is typed: yes or no, else plain digits."""
    if measure.unit == YES_NO:
        return "yes" if value else "no"
    return plain(value)


def plain(value: float) -> str:
    """A number in plain digits, as few as give it back whole: 4.5, 10, 0.0000001."""
    text = repr(value)
    if text.strip("-.0123456789"):  # a power of ten
        text = format(Decimal(text), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _fit(measure: Measure) -> str:
    """The units that may be typed for a measure, in words."""
    if measure.unit == YES_NO:
        return "yes or no"
    if measure.unit == "0-10":
        return "figures from 0 to 10"
    return " or ".join(list(UNITS.get(measure.unit, {measure.unit: 1}))[:2])


def _bare(text: str) -> str:
    """A word without the comma or semicolon that parts it from the next in a list."""
    return text.rstrip(",;") if len(text) > 1 else text
