"""Squads: made, and who belongs to them."""

from __future__ import annotations

from store.care.care import Care
from store.care.faults import CareFault
from store.care.people import clean_label
from store.knowledge.planned import Member, Squad
from store.knowledge.words import Person
from store.record import squads


def new_squad(care: Care, name: str) -> Squad:
    """Keep a new squad. Raises CareFault on a name that cannot be shown, or that another squad has."""
    name = clean_label(name)
    if squads.squad_named(care.record, name) is not None:
        raise CareFault(f"there is a squad {name} already: type another name")
    with care.together():
        return squads.SQUAD.add(care.record, Squad("", name), by=care.examiner)


def join(care: Care, squad: Squad, person: Person) -> Member:
    """Keep that a person belongs to a squad. Raises CareFault when they do already."""
    if squads.membership(care.record, squad.id, person.id) is not None:
        raise CareFault(f"{person.label} belongs to {squad.name} already")
    with care.together():
        return squads.MEMBER.add(care.record, Member("", squad.id, person.id), by=care.examiner)


def people_of(care: Care, squad: Squad) -> list[Person]:
    """Who belongs to a squad, by label."""
    return squads.people_of(care.record, squad.id)
