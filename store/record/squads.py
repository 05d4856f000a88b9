"""Squads and who belongs to them."""

from __future__ import annotations

from store.knowledge.planned import Member, Squad
from store.knowledge.words import Person
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import PERSON_COLUMNS, instant, person_of, stamp_of

PEOPLE = f"""SELECT {PERSON_COLUMNS} FROM squad_member JOIN person ON person.id = squad_member.person
WHERE squad_member.squad = :squad AND squad_member.retracted_at IS NULL
ORDER BY person.label COLLATE NOCASE, person.id"""


def _squad(row: Row) -> Squad:
    return Squad(row[0], row[1], stamp_of(row[2], row[3]), row[4])


def _member(row: Row) -> Member:
    return Member(row[0], row[1], row[2], stamp_of(row[3], row[4]), row[5])


SQUAD = Shelf(
    "squad",
    "id, name, retracted_at, retracted_offset_min, revision",
    _squad,
    lambda one: {"id": one.id, "name": one.name, **instant("retracted", one.retracted, local_date=False)},
)
MEMBER = Shelf(
    "squad_member",
    "id, squad, person, retracted_at, retracted_offset_min, revision",
    _member,
    lambda one: {
        "id": one.id,
        "squad": one.squad,
        "person": one.person,
        **instant("retracted", one.retracted, local_date=False),
    },
)


SQUADS = SQUAD.select("1 ORDER BY name COLLATE NOCASE, id")
NAMED = SQUAD.select("name = :name ORDER BY id LIMIT 1")
MEMBERSHIP = MEMBER.select("squad = :squad AND person = :person ORDER BY id LIMIT 1")
OF_PERSON = SQUAD.select(
    "id IN (SELECT squad FROM squad_member WHERE person = :person AND retracted_at IS NULL) ORDER BY name, id"
)


def squads(record: Record) -> list[Squad]:
    """All that stand, by name."""
    return SQUAD.found(record, SQUADS, {})


def squad_named(record: Record, name: str) -> Squad | None:
    """The squad of exactly this name; of two, as after a merge, the older."""
    return next(iter(SQUAD.found(record, NAMED, {"name": name})), None)


def squads_of(record: Record, person_id: str) -> list[Squad]:
    """Those that a person belongs to, by name."""
    return SQUAD.found(record, OF_PERSON, {"person": person_id})


def people_of(record: Record, squad_id: str) -> list[Person]:
    """Who belongs to a squad, by label."""
    return [person_of(row) for row in record.read(PEOPLE, {"squad": squad_id})]


def membership(record: Record, squad_id: str, person_id: str) -> Member | None:
    """That a person belongs to a squad, if they do."""
    found = MEMBER.found(record, MEMBERSHIP, {"squad": squad_id, "person": person_id})
    return found[0] if found else None
