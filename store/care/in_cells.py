"""Values and changes in a few cells, for tables, and the change since the first reading in a line of words."""

from __future__ import annotations

from store.care.dates import day_text
from store.care.in_words import value_text
from store.care.measured import MeasureStanding
from store.knowledge.kinds import Measure
from store.knowledge.units import unit_words
from store.knowledge.words import Reading, Status
from store.reckon.change import Change
from store.reckon.sides import written


def value_cell(reading: Reading | None, measure: Measure) -> str | None:
    """A value: None where nothing was measured, `unable`, `45.0 cap` where the cap was reached."""
    if reading is None:
        return None
    if reading.status is Status.CAP and reading.value is not None:
        return f"{written(reading.value, measure)} cap"
    return value_text(reading, measure)


def change_cell(change: Change | None, measure: Measure) -> str:
    """A change as signed figures; empty where there are none."""
    if change is None or change.value is None:
        return ""
    sign = "+" if change.value > 0 else ""
    return f"{sign}{written(change.value, measure)}"


def since_first_text(one: MeasureStanding) -> str:
    """The change since the first reading, its verdict and the error it is held against, in a line of words."""
    if one.hidden:
        return "today's values are hidden until the re-test is in"
    first, change = one.subject.first, one.since_first
    if first is None:
        return "not measured yet" if not one.measured else f"the {one.injured} side is not measured yet"
    if change is None:
        return f"measured once, on {day_text(first.taken.on)}: a change wants a second visit"
    if change.value is None:
        return change.warnings[0] if change.warnings else "no change in figures"
    size = _with_unit(change_cell(change, one.measure), one.measure)
    least = " or more" if change.at_least else ""
    verdict = change.verdict.value if change.verdict is not None else "no verdict"
    error = f" (MDC {change.mdc:.2g})" if change.mdc is not None else ""
    return f"{size}{least} since {day_text(first.taken.on)}: {verdict}{error}"


def retest_text(one: MeasureStanding) -> str:
    """What the last re-tested hands-on part did, in a line of words; empty where there is none to show."""
    retest = one.retest
    if retest is None or one.hidden:
        return ""
    day = day_text(retest.after.taken.on)
    change = retest.change
    if change.value is None:
        return f"re-test of {day}: {change.warnings[0] if change.warnings else 'no change in figures'}"
    verdict = change.verdict.value if change.verdict is not None else "no verdict"
    error = f" (MDC within a visit {change.mdc:.2g})" if change.mdc is not None else ""
    size = _with_unit(change_cell(change, one.measure), one.measure)
    return f"re-test of {day}: {size}, {verdict}{error}"


def _with_unit(size: str, measure: Measure) -> str:
    """A change on a scale of ten has no unit: it is no value of ten."""
    return size if measure.unit == "0-10" else f"{size} {unit_words(measure.unit)}"
