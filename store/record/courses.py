"""The few readings of a person that say where every measure stands; the many others stay rows and cost little."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date

from store.knowledge.time import Stamp
from store.knowledge.words import Moment, Reading
from store.record.handle import Record, Row
from store.record.rows import READING_COLUMNS, reading_of

OF_COURSES = f"""SELECT {READING_COLUMNS}, taken_on FROM reading
WHERE person = :person AND retracted_at IS NULL AND taken_at <= :until ORDER BY taken_at, id"""
_VISIT, _MEASURE, _MOMENT, _TAKEN_ON = 3, 5, 7, -1
_COURSE = slice(5, 7)  # measure and side
_AFTER = str(Moment.AFTER)

_Occasions = dict[str, Row]
"""The last row of each occasion, in the order in which those were taken."""

FAR = "9999"


def readings_of_courses(
    record: Record,
    person_id: str,
    since: date,
    until: Stamp | None = None,
    blind: Mapping[str, Collection[str]] | None = None,
) -> tuple[list[Reading], list[Reading]]:
    """Of each measure and side, the last reading of the first occasion and of the last two since `since`, and the
    last one taken after treatment: of those as many, where there are no others. Then the last untreated one of
    each before `since`.

    An occasion is a visit, or a day without one. `blind` names visits and the measures whose readings in them are
    left out, as if not taken.
    """
    rows = record.read(OF_COURSES, {"person": person_id, "until": until.text if until else FAR})
    first_day = since.isoformat()
    courses: dict[Row, tuple[_Occasions, _Occasions]] = defaultdict(lambda: ({}, {}))
    earlier: dict[Row, Row] = {}
    for row in rows:
        if blind and row[_MEASURE] in blind.get(row[_VISIT], ()):
            continue
        course, treated = row[_COURSE], row[_MOMENT] == _AFTER
        if row[_TAKEN_ON] >= first_day:
            occasions = courses[course][treated]
            occasion = row[_VISIT] or row[_TAKEN_ON]
            occasions.pop(occasion, None)  # its last reading counts, and stands where that was taken
            occasions[occasion] = row
        elif not treated:
            earlier[course] = row
    chosen = [row for course in courses.values() for row in _chosen(*course)]
    return [reading_of(row) for row in chosen], [reading_of(row) for row in earlier.values()]


def _chosen(untreated: _Occasions, treated: _Occasions) -> list[Row]:
    if not untreated:
        return _ends(list(treated.values()))
    return _ends(list(untreated.values())) + list(treated.values())[-1:]


def _ends(rows: list[Row]) -> list[Row]:
    return rows if len(rows) <= 3 else [rows[0], *rows[-2:]]
