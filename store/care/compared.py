"""What two values make of each other, in words: a change with its verdict, a gap with its reference."""

from __future__ import annotations

from collections.abc import Iterable

from store.care.dates import day_text, short_day
from store.care.in_words import rough, size_with_unit, with_unit_text
from store.care.measured import UNINJURED, MeasureStanding
from store.knowledge.kinds import Measure
from store.reckon.change import Change
from store.reckon.sides import in_words, written

HIDDEN = "today's values are hidden until the re-test is in"
"""What is said in place of figures while a blind re-test waits."""


def but(warnings: Iterable[str]) -> str:
    """What was not alike, behind what is compared all the same; empty where all was."""
    said = "; ".join(warnings)
    return f", but {said}" if said else ""


# a change


def signed(value: float, measure: Measure) -> str:
    """A change in figures, to the measure's step, with its sign; nought has none."""
    size = written(value, measure)
    return f"+{size}" if float(size) > 0 else size


def no_figures(change: Change) -> str:
    """Why a change has no figures."""
    return change.warnings[0] if change.warnings else "no change in figures"


def verdict_text(change: Change) -> str:
    """The verdict in words."""
    return change.verdict.value if change.verdict is not None else "no verdict"


def change_text(change: Change, measure: Measure) -> str:
    """A change with its verdict and what was not alike: "+2.5, clear gain, but only 2 trials of 3: ..."."""
    if change.value is None:
        return no_figures(change)
    return f"{amount(change, measure)}, {verdict_text(change)}{but(change.warnings)}"


def amount(change: Change, measure: Measure) -> str:
    """The figures of a change that has some: "+2.5", or "+1.7 or more" where the cap was reached."""
    if change.value is None:
        raise ValueError("this change has no figures")
    return f"{signed(change.value, measure)}{' or more' if change.at_least else ''}"


def since_first_text(one: MeasureStanding) -> str:
    """The change since the first reading, its verdict and the error it is held against, in a line of words."""
    if one.hidden:
        return HIDDEN
    first, change = one.subject.first, one.since_first
    if first is None:
        return "not measured yet" if not one.measured else f"the {one.injured} side is not measured yet"
    if change is None:
        return f"measured once, on {day_text(first.taken.on)}: a change wants a second visit"
    if change.value is None:
        return no_figures(change)
    error = f" (MDC {rough(change.mdc)})" if change.mdc is not None else ""
    latest = one.subject.latest
    same_year = latest is not None and latest.taken.on.year == first.taken.on.year
    day = (short_day if same_year else day_text)(first.taken.on)
    since = f"{_with_unit(change, one.measure)} since {day}"
    return f"{since}: {verdict_text(change)}{error}{but(change.warnings)}"


def retest_text(one: MeasureStanding) -> str:
    """What the last re-tested hands-on part did, in a line of words; empty where there is none to show."""
    retest = one.retest
    if retest is None or one.hidden:
        return ""
    change, said = retest.change, f"re-test {day_text(retest.after.taken.on)}"
    if change.value is None:
        return f"{said}: {no_figures(change)}"
    error = f" (MDC in a visit {rough(change.mdc)})" if change.mdc is not None else ""
    return f"{said}: {_with_unit(change, one.measure)}, {verdict_text(change)}{error}{but(change.warnings)}"


def _with_unit(change: Change, measure: Measure) -> str:
    """A change on a scale of ten has no unit: it is no value of ten."""
    size = signed(change.value or 0.0, measure)
    sized = size if measure.unit == "0-10" else size_with_unit(size, measure)
    return f"{sized}{' or more' if change.at_least else ''}"


# a gap


def gap_text(one: MeasureStanding) -> str:
    """The gap of a measure that has one: its size, against what, and what was not alike."""
    if one.gap is None:
        raise ValueError("this measure has no gap")
    size, _, word = in_words(one.gap, one.measure).partition(" ")
    least = "at least " if one.gap_at_least else ""
    told = f"{least}{size_with_unit(size, one.measure)} {word} against" if word else "equal to"
    return f"{told} {against(one)}{but(one.gap_warnings)}"


def against(one: MeasureStanding) -> str:
    """The reference of a gap by its name: a baseline with its value and its day."""
    reference = one.reference
    if reference is None or reference.kind == UNINJURED:
        return "the uninjured side"
    value, day = with_unit_text(reference.reading, one.measure), day_text(reference.reading.taken.on)
    return f"its own baseline, {value} of {day}"
