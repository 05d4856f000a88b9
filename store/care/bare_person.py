"""A person as such, apart from any ankle: squads, episodes, and what was measured before there was an injury."""

from __future__ import annotations

from dataclasses import dataclass

from store.care.adding import visit_without_episode
from store.care.care import Care
from store.care.dates import day_text
from store.care.in_words import readings_text, visible
from store.care.looked import hurt_on, look_section
from store.care.people import age
from store.care.plan import goes_on
from store.care.squads import squads_of
from store.care.statements import Section, Statement
from store.knowledge.words import Episode, Person, Reading, Side, Visit
from store.record import episodes, readings, visits
from store.record.rechecks import rechecks_of


@dataclass(frozen=True, slots=True)
class PersonView:
    """All that the page of a person shows. `visit` is today's visit without an episode, where there is one."""

    person: Person
    age: int | None
    episodes: tuple[Episode, ...]
    visit: Visit | None
    sections: tuple[Section, ...]

    @property
    def last_episode(self) -> Episode | None:
        """The newest one, open or closed."""
        return self.episodes[-1] if self.episodes else None


def person_view(care: Care, person_id: str) -> PersonView:
    """The page of a person, read afresh. Raises CareFault when there is none."""
    person = care.person(person_id)
    known = tuple(episodes.episodes_of_person(care.record, person_id))
    now = care.clock.now()
    mine = [one for one in visits.visits_of_person(care.record, person_id) if one.episode is None]
    return PersonView(
        person=person,
        age=age(person.born, now.on),
        episodes=known,
        visit=next((one for one in mine if goes_on(one, now)), None),
        sections=(
            *look_section(care, person_id),
            _squads(care, person_id),
            _episodes(known),
            *_measured(care, person_id),
        ),
    )


def start_visit(care: Care, person: Person) -> Visit:
    """Today's visit of a person without an episode, made where there is none."""
    with care.together():
        return visit_without_episode(care, person)


def _squads(care: Care, person: str) -> Section:
    names = [visible(one.name) for one in squads_of(care, person)]
    return Section("squads", (Statement("", ", ".join(names) or "in no squad"),))


def _episodes(known: tuple[Episode, ...]) -> Section:
    told = tuple(
        Statement(
            f"{one.side} ankle",
            f"{visible(one.structure)}, {f'grade {one.grade}' if one.grade else 'not yet graded'}, "
            + (f"closed {day_text(one.closed.on)}" if one.closed else "open"),
        )
        for one in known
    )
    return Section("episodes", told or (Statement("", "none: no injured ankle is known here"),))


def _measured(care: Care, person: str) -> list[Section]:
    """The newest reading of each side that belongs to no episode, a line a measure; of a hurt ankle apart."""
    looks = rechecks_of(care.record, person)
    sound: Newest = {}
    hurt: Newest = {}
    for one in readings.readings_of_person(care.record, person):
        if one.episode is None:
            into = hurt if hurt_on(looks, one.side, one.taken.on) else sound
            into.setdefault(one.measure, {})[one.side] = one
    nothing = Statement("", "nothing yet: m measures; an injury is later held against it")
    found = [Section("own baseline, before any injury", _told(care, sound) or (nothing,))]
    while_hurt = _told(care, hurt)
    return [*found, Section("measured while hurt: no baseline", while_hurt)] if while_hurt else found


Newest = dict[str, dict[Side | None, Reading]]
"""Readings by measure and side."""


def _told(care: Care, newest: Newest) -> tuple[Statement, ...]:
    told = []
    for measure in care.knowledge.measures.values():
        taken = newest.get(measure.id, {})
        sides = [taken[side] for side in measure.sides if side in taken]
        if sides:
            days = " and ".join(dict.fromkeys(day_text(one.taken.on) for one in sides))
            words = readings_text(sides, measure).removeprefix(f"{measure.name} ")
            told.append(Statement(measure.name, words, f"{days}"))
    return tuple(told)
