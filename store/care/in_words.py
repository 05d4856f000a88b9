"""Values and changes as words: the same on screen, on paper and on the command line."""

from __future__ import annotations

from collections.abc import Sequence

from store.entry.entry import SideEntry
from store.entry.numbers import plain
from store.knowledge.kinds import Measure
from store.knowledge.words import Reading, Side, Status
from store.reckon.change import Change
from store.reckon.sides import value_of, written


def sides_of(measure: Measure) -> tuple[Side, ...]:
    """Left, then right; none for a single measure."""
    return (Side.LEFT, Side.RIGHT) if measure.paired else ()


def value_text(reading: Reading | None, measure: Measure) -> str:
    """A value as it is read out: `·` where nothing was measured, the word where it was not possible."""
    if reading is None:
        return "not measured"
    if reading.status is Status.UNABLE or reading.value is None:
        return "unable"
    value = written(reading.value, measure)
    return f"{value}, cap reached" if reading.status is Status.CAP else value


def change_text(change: Change, measure: Measure) -> str:
    """A change with its verdict in words."""
    if change.value is None:
        return change.warnings[0] if change.warnings else "no change in figures"
    sign = "+" if change.value > 0 else ""
    verdict = change.verdict.value if change.verdict else "no verdict"
    return f"{sign}{written(change.value, measure)}, {verdict}"


def typed_text(side: SideEntry, measure: Measure) -> str:
    """One side of an entry as it would be saved: its value, and the trials it is made of."""
    name = f"{side.side} " if side.side else ""
    if side.status is Status.UNABLE:
        return f"{name}unable"
    value = plain(round(value_of(side.trials, measure), 2))
    trials = f" from {' '.join(plain(trial) for trial in side.trials)}" if len(side.trials) > 1 else ""
    capped = ", cap reached" if side.status is Status.CAP else ""
    return f"{name}{value}{trials}{capped}"


def readings_text(readings: Sequence[Reading], measure: Measure) -> str:
    """Readings of one measure in a few words: "lunge left 10.2, right 4.8 cm"."""
    values = ", ".join(f"{reading.side or ''} {value_text(reading, measure)}".strip() for reading in readings)
    unit = "" if measure.unit == "0-10" else f" {measure.unit}"
    return f"{measure.name} {values}{unit}"
