"""Whom a word on the command line means, and which of their episodes."""

from __future__ import annotations

from store.care.care import Care
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.looked import look_lines
from store.entry.errors import shown
from store.knowledge.words import Episode, Person, Side
from store.record import episodes, people

LISTED_MOST = 20
"""People who are listed when several answer to what was typed."""


def find_person(care: Care, text: str) -> Person:
    """The person whose label is exactly this, else the one whose id starts so.

    Raises CareFault when there is none, or with a list when there are several.
    """
    if not text.strip() or not text.isprintable():
        raise CareFault("name a person by their label, or by the start of an id: `bothfeet show` lists them all")
    found = people.people_labelled(care.record, text)
    found = found or people.people_by_id_start(care.record, text, LISTED_MOST + 1)
    if not found:
        near = [visible(person.label) for person in people.find_people(care.record, text, 3)]
        hint = f"did you mean {' or '.join(near)}?" if near else "`bothfeet show` lists them all"
        raise CareFault(f"no person has the label {shown(text)}, and no id starts so: {hint}")
    if len(found) > 1:
        raise CareFault(_several(care, shown(text), found))
    return found[0]


def _several(care: Care, text: str, found: list[Person]) -> str:
    count = f"more than {LISTED_MOST}" if len(found) > LISTED_MOST else str(len(found))
    listed = "".join(
        f"\n  {person.id}  {visible(person.label)}{_told_apart(care, person)}" for person in found[:LISTED_MOST]
    )
    return (
        f"{count} people answer to {text}: name one by their id, or by as much of its start as is theirs{listed}"
    )


def _told_apart(care: Care, person: Person) -> str:
    """What tells people of one label apart: the year of birth, and their ankles."""
    born = f", born {person.born[:4]}" if person.born else ""
    return born + "".join(f", {episode.side} ankle" for episode in _episodes(care, person, None))


def _episodes(care: Care, person: Person, side: Side | None) -> list[Episode]:
    held = episodes.episodes_of_person(care.record, person.id)
    return [episode for episode in held if side is None or episode.side is side]


def open_episode(care: Care, person: Person, side: Side | None = None) -> Episode | None:
    """The person's open episode, of a side if one is named; with both ankles injured, the one opened first."""
    return next((episode for episode in _episodes(care, person, side) if episode.closed is None), None)


def shown_episodes(care: Care, person: Person, side: Side | None = None) -> list[Episode]:
    """The episodes that `show` tells of: the open ones, else the last. Raises CareFault when there is none."""
    held = _episodes(care, person, side)
    if not held:
        which = f"no episode of the {side} ankle" if side else "no episode yet"
        looks = "".join(f"; {line}" for line in look_lines(care, person.id))
        raise CareFault(f"{visible(person.label)} has {which}: open one on screen (F2){looks}")
    return [episode for episode in held if episode.closed is None] or held[-1:]
