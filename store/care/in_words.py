"""Values as words: the same on screen, on paper and on the command line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from store.care.visible import visible as visible
from store.entry.numbers import plain, spelled
from store.knowledge.units import STEPS, YES_NO, unit_words
from store.knowledge.words import Reading, Status
from store.reckon.sides import value_of, written

if TYPE_CHECKING:
    from store.entry.entry import SideEntry
    from store.knowledge.kinds import Measure


def with_unit(number: str, measure: Measure) -> str:
    """A value with its unit in plain words; yes and no have none, and of a scale of steps the figure comes second:
    "grade 2"."""
    if measure.unit == YES_NO:
        return number
    words = unit_words(measure.unit)
    return f"{words} {number}" if measure.unit in STEPS else f"{number} {words}"


def size_with_unit(number: str, measure: Measure) -> str:
    """A difference with its unit in plain words: "2 grades", "+1 grade", "1.4 cm"."""
    if measure.unit not in STEPS:
        return with_unit(number, measure)
    return f"{number} {unit_words(measure.unit)}{'' if abs(float(number)) == 1 else 's'}"


def rough(figure: float) -> str:
    """An error in figures: two of them are as many as are known."""
    return plain(float(f"{figure:.2g}"))


def many(n: int, what: str) -> str:
    """So many of something: "1 set", "3 sets"."""
    return f"{n} {what}" if n == 1 else f"{n} {what}s"


def value_text(reading: Reading | None, measure: Measure) -> str:
    """A value as it is read out, without its unit; in words where there is none."""
    if reading is None:
        return "not measured"
    if reading.status is Status.UNABLE or reading.value is None:
        return "unable"
    value = written(reading.value, measure)
    return f"{value}, cap reached" if reading.status is Status.CAP else value


def with_unit_text(reading: Reading | None, measure: Measure) -> str:
    """A value as it is read out, with its unit in plain words."""
    words = value_text(reading, measure)
    if reading is None or reading.value is None or reading.status is Status.UNABLE:
        return words
    value, _, more = words.partition(",")
    return with_unit(value, measure) + (f",{more}" if more else "")


def typed_text(side: SideEntry, measure: Measure) -> str:
    """One side of an entry as it would be saved: its value, and the trials it is made of."""
    name = f"{side.side} " if side.side else ""
    if side.status is Status.UNABLE:
        return f"{name}unable"
    value = spelled(round(value_of(side.trials, measure), 2), measure)
    trials = f" from {' '.join(plain(trial) for trial in side.trials)}" if len(side.trials) > 1 else ""
    capped = ", cap reached" if side.status is Status.CAP else ""
    return f"{name}{value}{trials}{capped}"


def readings_text(readings: Sequence[Reading], measure: Measure) -> str:
    """Readings of one measure in a few words, the unit behind the last figure: "lunge left 10.2, right 4.8 cm"."""
    stepped = measure.unit in STEPS
    last = max((at for at, reading in enumerate(readings) if reading.value is not None), default=-1)
    told = [(with_unit_text if at == last or stepped else value_text) for at in range(len(readings))]
    values = (f"{one.side or ''} {tell(one, measure)}".strip() for tell, one in zip(told, readings, strict=True))
    return f"{measure.name} {', '.join(values)}"
