"""Squads: named groups of people, with or without an injury. Made, filled, thinned out, and told."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from store.care.care import Care
from store.care.caseload import CaseloadRow, bare_row, row_of
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.people import clean_words, new_person
from store.knowledge.planned import Member, Squad
from store.knowledge.words import Person
from store.record import episodes, people, squads

NAME_MOST = 40
"""Characters of the name of a squad."""

LABELS_MOST = 12
"""Of how many people of a squad the labels stand in the list of squads."""

OTHERS_MOST = 20
"""How many people outside a squad are offered while a label is typed."""


class SquadRow(NamedTuple):
    """One squad in the list; `labels` are those of its first people."""

    squad: Squad
    people: int
    labels: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        """How many belong to it, and who."""
        many = "1 person" if self.people == 1 else f"{self.people} people"
        return f"{many}: {', '.join(self.labels)}" if self.labels else many


class Joined(NamedTuple):
    """That somebody was taken into a squad, or out of it: to be told and taken back."""

    member: Member
    says: str


def every_squad(care: Care, find: str = "") -> tuple[SquadRow, ...]:
    """The squads whose name holds `find`, by name."""
    found = [one for one in squads.squads(care.record) if find.strip().casefold() in one.name.casefold()]
    return tuple(_squad_row(one, squads.people_of(care.record, one.id)) for one in found)


def _squad_row(one: Squad, there: Sequence[Person]) -> SquadRow:
    return SquadRow(one, len(there), tuple(visible(each.label) for each in there[:LABELS_MOST]))


def squad(care: Care, squad_id: str) -> Squad:
    """The squad with this id. Raises CareFault when there is none."""
    found = squads.SQUAD.get(care.record, squad_id)
    if found is None or found.retracted is not None:
        raise CareFault("this squad is no longer in the record: go back and look again")
    return found


def squads_of(care: Care, person: str) -> list[Squad]:
    """Those that a person belongs to, by name."""
    return squads.squads_of(care.record, person)


def people_of(care: Care, squad_id: str, find: str = "") -> tuple[CaseloadRow, ...]:
    """Who belongs to a squad and has `find` in the label: each with the open episode, the last one, or none."""
    return _rows(care, (one for one in squads.people_of(care.record, squad_id) if _holds(one, find)))


def size(care: Care, squad_id: str) -> int:
    """How many people belong to a squad."""
    return len(squads.people_of(care.record, squad_id))


def others(care: Care, squad_id: str, find: str) -> tuple[CaseloadRow, ...]:
    """People outside a squad who have `find` in the label; none while nothing is typed."""
    if not find.strip():
        return ()
    there = {one.id for one in squads.people_of(care.record, squad_id)}
    found = people.find_people(care.record, find, OTHERS_MOST + len(there))
    return _rows(care, [one for one in found if one.id not in there][:OTHERS_MOST])


def _holds(person: Person, find: str) -> bool:
    return find.strip().casefold() in person.label.casefold()


def _rows(care: Care, found: Iterable[Person]) -> tuple[CaseloadRow, ...]:
    return tuple(_row(care, person) for person in found)


def _row(care: Care, person: Person) -> CaseloadRow:
    known = episodes.episodes_of_person(care.record, person.id)
    standing = [one for one in known if one.closed is None] or known
    return row_of(person, standing[-1], care.clock.now().on) if standing else bare_row(person)


# acts


def make(care: Care, name: str) -> Squad:
    """A new squad. Raises CareFault on no name, one too long, or one that is there already."""
    name = clean_words(name, "the name of a squad") or ""
    if not name or len(name) > NAME_MOST:
        raise CareFault(f"type the name of the squad, at most {NAME_MOST} characters, then F2")
    if squads.squad_named(care.record, name) is not None:
        raise CareFault(f"there is a squad {name} already: enter opens it, another name makes another one")
    with care.together():
        return squads.SQUAD.add(care.record, Squad("", name), by=care.examiner)


def add(care: Care, into: Squad, person: Person) -> Joined:
    """Take a person into a squad. Raises CareFault when they belong to it already."""
    if squads.membership(care.record, into.id, person.id) is not None:
        raise CareFault(f"{visible(person.label)} belongs to {visible(into.name)} already")
    with care.together():
        member = squads.MEMBER.add(care.record, Member("", into.id, person.id), by=care.examiner)
    return Joined(member, f"{visible(person.label)} belongs to {visible(into.name)}")


def add_new(care: Care, into: Squad, label: str, born: str = "") -> Joined:
    """A new person without an episode, in a squad. Raises CareFault; then nothing is kept."""
    with care.together():
        person, _ = new_person(care, label, born)
        return add(care, into, person)


def remove(care: Care, out_of: Squad, person: Person) -> Joined:
    """Take a person out of a squad; all else that is known of them stays. Raises CareFault when not in it."""
    member = squads.membership(care.record, out_of.id, person.id)
    if member is None:
        raise CareFault(f"{visible(person.label)} does not belong to {visible(out_of.name)}")
    with care.together():
        gone = squads.MEMBER.retract(care.record, member, by=care.examiner, because="left the squad")
    return Joined(gone, f"{visible(person.label)} no longer belongs to {visible(out_of.name)}")


def take_back(care: Care, joined: Joined) -> str:
    """Undo having taken somebody in or out, and say so."""
    member = joined.member
    before = member._replace(retracted=None) if member.retracted is not None else None
    with care.together():
        squads.MEMBER.take_back(care.record, before, member, by=care.examiner)
    return f"took back: {joined.says}"
