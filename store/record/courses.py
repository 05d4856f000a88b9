"""The few readings of a person that say where every measure stands; the many others stay rows and cost little."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from store.knowledge.time import Stamp
from store.knowledge.words import Reading
from store.record.handle import Record, Row
from store.record.rows import READING_COLUMNS, reading_of

OF_COURSES = f"""SELECT measure || coalesce(side, '') || (moment IS 'after') || (taken_on < :since),
  coalesce(visit, taken_on), {READING_COLUMNS}
FROM reading WHERE person = :person AND retracted_at IS NULL AND taken_at <= :until ORDER BY taken_at, id"""
_BEFORE_COLUMNS = 2
_VISIT, _MEASURE = _BEFORE_COLUMNS + 3, _BEFORE_COLUMNS + 5

FAR = "9999"


def readings_of_courses(
    record: Record,
    person_id: str,
    since: date,
    until: Stamp | None = None,
    blind: Mapping[str, Collection[str]] | None = None,
) -> list[Reading]:
    """Of each measure and side, apart by before or after treatment and by before or since `since`, oldest first:
    the last reading of the first occasion and of the last two. An occasion is a visit, or a day without one.

    `blind` names visits and the measures whose readings in them are left out, as if not taken.
    """
    rows = record.read(
        OF_COURSES, {"person": person_id, "since": since.isoformat(), "until": until.text if until else FAR}
    )
    courses: dict[str, dict[str, Row]] = {}
    for row in rows:
        if blind and row[_MEASURE] in blind.get(row[_VISIT], ()):
            continue
        occasions = courses.setdefault(row[0], {})
        occasions.pop(row[1], None)  # its last reading counts, and stands where that was taken
        occasions[row[1]] = row
    chosen = [row for occasions in courses.values() for row in _ends(list(occasions.values()))]
    return [reading_of(row[_BEFORE_COLUMNS:]) for row in chosen]


def _ends(rows: list[Row]) -> list[Row]:
    return rows if len(rows) <= 3 else [rows[0], *rows[-2:]]
