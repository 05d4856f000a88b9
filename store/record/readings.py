"""Readings: added together, retracted or amended, and read for an episode, a person or a visit.

Retracted readings stand in the file and are left out of every list here but those that say so.
"""

from __future__ import annotations

from collections.abc import Sequence

from store.knowledge.words import Reading, Side
from store.record import clinical
from store.record.faults import FaultKind, RecordFault
from store.record.handle import Record
from store.record.rows import READING_COLUMNS, SIDES, reading_of, reading_values

READING = f"SELECT {READING_COLUMNS} FROM reading WHERE id = :id"
OF_PERSON = f"""SELECT {READING_COLUMNS} FROM reading
WHERE person = :person AND retracted_at IS NULL ORDER BY taken_at, id"""
OF_PERSON_MEASURE = f"""SELECT {READING_COLUMNS} FROM reading
WHERE person = :person AND measure = :measure AND retracted_at IS NULL ORDER BY taken_at, id"""
RETRACTED_OF_PERSON = f"""SELECT {READING_COLUMNS} FROM reading
WHERE person = :person AND measure = :measure AND retracted_at IS NOT NULL ORDER BY taken_at, id"""
EVERY_OF_PERSON = f"SELECT {READING_COLUMNS} FROM reading WHERE person = :person ORDER BY taken_at, id"
OF_VISIT = f"""SELECT {READING_COLUMNS} FROM reading
WHERE visit = :visit AND retracted_at IS NULL ORDER BY taken_at, id"""
OF_VISIT_MEASURE = f"""SELECT {READING_COLUMNS} FROM reading
WHERE visit = :visit AND measure = :measure AND retracted_at IS NULL ORDER BY taken_at, id"""
SIDES_OF_VISIT = """SELECT DISTINCT side, moment IS 'after' FROM reading
WHERE visit = :visit AND measure = :measure AND retracted_at IS NULL"""
OF_BOUT = f"""SELECT {READING_COLUMNS} FROM reading
WHERE bout = :bout AND retracted_at IS NULL ORDER BY taken_at, id"""
LAST_SAVED = f"""SELECT {READING_COLUMNS} FROM reading
WHERE visit = :visit AND retracted_at IS NULL AND revision = (
  SELECT revision FROM reading WHERE visit = :visit AND retracted_at IS NULL ORDER BY id DESC LIMIT 1)
ORDER BY id"""


def add_readings(record: Record, readings: Sequence[Reading], *, by: str = "") -> list[Reading]:
    """Keep readings in one transaction, under one revision; those without an id get the next.

    `by` is the first one's examiner unless given. Raises RecordFault; then none of them is kept.
    """
    if not readings:
        return []
    revision = record.new_id()
    given = [reading._replace(id=reading.id or record.new_id(), revision=revision) for reading in readings]
    rows = [reading_values(reading) for reading in given]
    clinical.add(record, "reading", rows, revision, by or given[0].examiner)
    return given


def revise_reading(record: Record, reading: Reading, *, by: str, because: str) -> Reading:
    """Amend a reading as read at its revision. Raises RecordFault when it was amended meanwhile."""
    values = reading_values(reading)
    return reading._replace(revision=clinical.amend(record, "reading", values, reading.revision, by, because))


def retract_readings(record: Record, ids: Sequence[str], *, by: str, because: str) -> list[Reading]:
    """Retract readings in one transaction: they stay in the file, marked. Raises RecordFault for an unknown id."""
    now = record.clock.now()
    retracted = []
    with record.write_tx():
        for reading_id in ids:
            found = reading(record, reading_id)
            if found is None:
                raise RecordFault(FaultKind.REFUSED, "This reading is not in the record: look again.")
            if found.retracted is None:
                found = revise_reading(record, found._replace(retracted=now), by=by, because=because)
            retracted.append(found)
    return retracted


def reading(record: Record, reading_id: str) -> Reading | None:
    """The reading with this id, retracted or not, if there is one."""
    row = record.read_one(READING, {"id": reading_id})
    return reading_of(row) if row else None


def readings_of_person(record: Record, person_id: str, measure: str | None = None) -> list[Reading]:
    """All of a person, or those of one measure, oldest first."""
    if measure is None:
        return [reading_of(row) for row in record.read(OF_PERSON, {"person": person_id})]
    return [reading_of(row) for row in record.read(OF_PERSON_MEASURE, {"person": person_id, "measure": measure})]


def every_of_person(record: Record, person_id: str) -> list[Reading]:
    """All of a person, what was taken back too, oldest first."""
    return [reading_of(row) for row in record.read(EVERY_OF_PERSON, {"person": person_id})]


def retracted_of_person(record: Record, person_id: str, measure: str) -> list[Reading]:
    """What was taken back of one measure of a person, oldest first."""
    found = record.read(RETRACTED_OF_PERSON, {"person": person_id, "measure": measure})
    return [reading_of(row) for row in found]


def readings_of_visit(record: Record, visit_id: str, measure: str | None = None) -> list[Reading]:
    """All of a visit, or those of one measure, oldest first."""
    if measure is None:
        return [reading_of(row) for row in record.read(OF_VISIT, {"visit": visit_id})]
    return [reading_of(row) for row in record.read(OF_VISIT_MEASURE, {"visit": visit_id, "measure": measure})]


def sides_of_visit(record: Record, visit_id: str, measure: str) -> tuple[set[Side | None], set[Side | None]]:
    """The sides of a measure that were read in a visit: before treatment or unmarked, and after it."""
    found = record.read(SIDES_OF_VISIT, {"visit": visit_id, "measure": measure})
    before = {SIDES[side] for side, treated in found if not treated}
    return before, {SIDES[side] for side, treated in found if treated}


def readings_of_bout(record: Record, bout_id: str) -> list[Reading]:
    """What a bout was turned into."""
    return [reading_of(row) for row in record.read(OF_BOUT, {"bout": bout_id})]


def last_saved(record: Record, visit_id: str) -> list[Reading]:
    """What was saved last in a visit, as one: what an undo takes back. Empty where nothing is left."""
    return [reading_of(row) for row in record.read(LAST_SAVED, {"visit": visit_id})]
