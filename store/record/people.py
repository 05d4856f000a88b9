"""People: added, amended, and found while a name is typed."""

from __future__ import annotations

from store.knowledge.words import Person
from store.record import clinical
from store.record.handle import Record
from store.record.rows import PERSON_COLUMNS, person_of, person_values
from store.record.text import fold

PERSON = f"SELECT {PERSON_COLUMNS} FROM person WHERE id = :id"
LABELLED = f"""SELECT {PERSON_COLUMNS} FROM person
WHERE label = :label COLLATE NOCASE AND label = :label COLLATE BINARY ORDER BY id"""
BY_ID_START = f"""SELECT {PERSON_COLUMNS} FROM person
WHERE id >= :start AND id < :start || 'g' ORDER BY id LIMIT :limit"""
EVERYBODY = f"SELECT {PERSON_COLUMNS} FROM person ORDER BY label COLLATE NOCASE, id LIMIT :limit"
LABELS_HOLDING = """WITH found AS (SELECT id, label, instr(fold(label), :text) AS place FROM person)
SELECT id FROM found WHERE place > 0 ORDER BY place > 1, label COLLATE NOCASE, id LIMIT :limit"""


def add_person(record: Record, person: Person, *, by: str = "") -> Person:
    """Keep a new person; one without an id gets the next. Raises RecordFault."""
    person = person._replace(id=person.id or record.new_id(), revision=record.new_id())
    clinical.add(record, "person", [person_values(person)], person.revision, by)
    return person


def revise_person(record: Record, person: Person, *, by: str, because: str) -> Person:
    """Amend a person as read at their revision. Raises RecordFault when they were amended meanwhile."""
    values = person_values(person)
    return person._replace(revision=clinical.amend(record, "person", values, person.revision, by, because))


def person(record: Record, person_id: str) -> Person | None:
    """The person with this id, if there is one."""
    row = record.read_one(PERSON, {"id": person_id})
    return person_of(row) if row else None


def find_people(record: Record, text: str, limit: int = 50) -> list[Person]:
    """People whose label holds the text, whatever its case: those it starts with first, then by label."""
    if not text.strip():
        return [person_of(row) for row in record.read(EVERYBODY, {"limit": limit})]
    found = record.read(LABELS_HOLDING, {"text": fold(text.strip()), "limit": limit})
    return [person_of(row) for (found_id,) in found for row in record.read(PERSON, {"id": found_id})]


def people_labelled(record: Record, label: str) -> list[Person]:
    """Everybody with exactly this label, oldest first."""
    return [person_of(row) for row in record.read(LABELLED, {"label": label})]


def people_by_id_start(record: Record, start: str, limit: int = 50) -> list[Person]:
    """Everybody whose id starts so."""
    return [person_of(row) for row in record.read(BY_ID_START, {"start": start.lower(), "limit": limit})]
