"""What stood before: earlier versions of a reading, and readings that were taken back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from store.care import visits as visiting
from store.care.care import Care
from store.care.dates import day_text, stamp_text
from store.care.in_words import value_text
from store.care.standing import Standing, belongs
from store.care.statements import Statement
from store.knowledge.kinds import Measure
from store.knowledge.words import Amendment, Reading
from store.reckon.sides import written
from store.record import amendments, readings


def earlier_versions(care: Care, reading: Reading, measure: Measure) -> list[Statement]:
    """What a standing reading was before each correction, the last correction first."""
    found = amendments.amendments_of(care.record, "reading", reading.id)
    return [Statement("", f"was {_was(one.was, measure)} {_until(one)}") for one in reversed(found)]


def corrections(care: Care, held: Standing, measure: Measure) -> list[Statement]:
    """Readings of this measure in this episode that were taken back, the last first.

    One of a visit in hand is not told while a re-test is to come: it would uncover what is blind.
    """
    blind = {each for each in held.blind if visiting.awaits(care, care.visit(each), measure.id)}
    taken_back = readings.retracted_of_person(care.record, held.person.id, measure.id)
    found = []
    for reading in reversed([one for one in taken_back if one.visit not in blind and belongs(one, held.episode)]):
        about = f"{reading.side or ''} {day_text(reading.taken.on)}".strip()
        says = f"taken back: it was {value_text(reading, measure)}"
        last = amendments.amendments_of(care.record, "reading", reading.id)[-1:]
        found.append(Statement(about, f"{says} {_until(last[0])}" if last else says))
    return found


def _was(row: Mapping[str, Any], measure: Measure) -> str:
    value = "unable" if row.get("value") is None else written(float(row["value"]), measure)
    return " ".join(str(part) for part in (row.get("side"), value, row.get("moment")) if part)


def _until(one: Amendment) -> str:
    by = f" by {one.by}" if one.by else ""
    return f"until {stamp_text(one.at)}: {one.because}{by}"
