"""How things came to be as they stand: versions of a visit, and what was taken back in it."""

from __future__ import annotations

from store.care.care import Care
from store.knowledge.words import Reading, Visit
from store.record import amendments, readings
from store.record.rows import VISIT_COLUMNS, visit_of


def versions(care: Care, visit: Visit) -> list[Visit]:
    """The visit as it stood from its start, oldest first, and last as it stands."""
    earlier = amendments.amendments_of(care.record, "visit", visit.id)
    names = VISIT_COLUMNS.split(", ")
    return [*(visit_of(tuple(one.was[name] for name in names)) for one in earlier), visit]


def all_of_measure(care: Care, visit: Visit, measure: str) -> list[Reading]:
    """Every reading of a measure that was ever kept in a visit, also those that were taken back."""
    standing = readings.readings_of_visit(care.record, visit.id, measure)
    taken_back = readings.retracted_of_person(care.record, visit.person, measure)
    return [*standing, *(one for one in taken_back if one.visit == visit.id)]
