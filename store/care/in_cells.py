"""Values and changes in a few cells, for tables."""

from __future__ import annotations

from store.care.compared import signed
from store.care.in_words import value_text
from store.care.measured import MeasureStanding, after_treatment
from store.knowledge.kinds import Measure
from store.knowledge.units import YES_NO
from store.knowledge.words import Better, Reading, Status
from store.reckon.change import Change
from store.reckon.sides import in_words, written

CAP = " cap"
"""Stands behind a value at which the cap was reached."""


def value_cell(reading: Reading | None, measure: Measure) -> str | None:
    """A value: None where nothing was measured, `unable`, `45.0 cap` where the cap was reached."""
    if reading is None:
        return None
    if reading.status is Status.CAP and reading.value is not None:
        return f"{written(reading.value, measure)}{CAP}"
    return value_text(reading, measure)


def standing_cell(reading: Reading | None, measure: Measure) -> str | None:
    """The value that stands of a side: `10.2 after` where it has only what was measured after treatment."""
    text = value_cell(reading, measure)
    return f"{text} after" if reading is not None and after_treatment(reading) else text


def change_cell(change: Change | None, measure: Measure) -> str:
    """A change as signed figures, behind `≥` or `≤` where the cap was reached; empty where there are none."""
    if change is None or change.value is None:
        return ""
    bound = "" if not change.at_least else "≥ " if change.value > 0 else "≤ "
    return f"{bound}{signed(change.value, measure)}"


def gap_cell(one: MeasureStanding) -> str:
    """A gap as a number and a word, behind `≥` where the cap was reached; empty when there is none."""
    if one.gap is None:
        return ""
    return f"{'≥ ' if one.gap_at_least else ''}{in_words(one.gap, one.measure)}"


def line_cell(line: float, measure: Measure) -> str:
    """A line on a value: as few digits as it has, to the measure's step."""
    text = written(line, measure)
    return text.rstrip("0").rstrip(".") if "." in text else text


def criterion_value(value: float | None, measure: Measure) -> str:
    """The value that a criterion is held against, with its unit where that is short; empty where there is none."""
    if value is None:
        return ""
    if measure.unit == YES_NO:
        return "yes" if value else "no"
    unit = f" {measure.unit}" if measure.unit in _SHORT_UNITS else ""
    return f"{written(value, measure)}{unit}"


def criterion_line(line: float | None, measure: Measure) -> str:
    """The line of a criterion in a few words; empty where there is none."""
    if line is None:
        return ""
    way = "at least" if measure.better is Better.HIGHER else "at most"
    return f"{way} {line_cell(line, measure)}"


_SHORT_UNITS = frozenset({"cm", "s", "%", "deg", "N"})
