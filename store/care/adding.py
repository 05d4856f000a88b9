"""One line from a shell: whose it is, which visit it belongs to, and keeping it."""

from __future__ import annotations

from dataclasses import dataclass

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.measuring import Preview, Subject, preview, read_line, save
from store.care.standing import standing
from store.entry.said import is_said, parse_said
from store.knowledge.words import Episode, Person, VisitKind
from store.record import episodes, people, visits


@dataclass(frozen=True, slots=True)
class Doubts:
    """What wants a yes before it is kept, as sentences; empty when nothing does."""

    says: tuple[str, ...]


def find_person(care: Care, text: str) -> Person:
    """The person whose label is exactly this, else the one whose id starts so.

    Raises CareFault when there is none, or with a list when there are several.
    """
    found = people.people_labelled(care.record, text) or people.people_by_id_start(care.record, text, 20)
    if not found:
        raise CareFault(f"no person has the label {text}, and no id starts so: `bothfeet show` lists them all")
    if len(found) > 1:
        listed = "".join(f"\n  {person.id}  {person.label}{_sides(care, person)}" for person in found)
        raise CareFault(f"{len(found)} people answer to {text}: name one by the start of an id{listed}")
    return found[0]


def _sides(care: Care, person: Person) -> str:
    held = episodes.episodes_of_person(care.record, person.id)
    return "".join(f", {episode.side} ankle" for episode in held)


def open_episode(care: Care, person: Person) -> Episode | None:
    """The person's open episode; with both ankles injured, the one opened first."""
    held = episodes.episodes_of_person(care.record, person.id)
    return next((episode for episode in held if episode.closed is None), None)


def shown_episode(care: Care, person: Person) -> Episode:
    """The episode that `show` tells of: the open one, else the last. Raises CareFault when there is none."""
    held = episodes.episodes_of_person(care.record, person.id)
    chosen = open_episode(care, person) or (held[-1] if held else None)
    if chosen is None:
        raise CareFault(f"{person.label} has no episode yet: open one on screen (F2)")
    return chosen


def doubts(care: Care, person: Person, line: str) -> Doubts:
    """What a line would want a yes for. Raises EntryError on one that cannot be read; nothing is kept."""
    if is_said(line):
        return Doubts(parse_said(line, care.knowledge.find_measure).asks)
    shown = _preview(care, person, line)
    swapped = ("the injured side comes out clearly better: are left and right swapped?",) if shown.swapped else ()
    return Doubts((*shown.asks, *swapped))


def _preview(care: Care, person: Person, line: str) -> Preview:
    episode = open_episode(care, person)
    visit = visiting.open_visit(care, episode) if episode else None
    subject = Subject(person, visit, standing(care, episode.id) if episode else None)
    return preview(care, subject, read_line(care, subject, line))


def add_line(care: Care, person: Person, line: str) -> str:
    """Keep a line in today's visit of the open episode, made where there is none; say what was saved.

    A visit made here has no plan to walk, so nothing in it waits blind. Raises EntryError or RecordFault.
    """
    doubts(care, person, line)  # a line that cannot be read must not leave an empty visit behind
    with care.together():
        episode = open_episode(care, person)
        visit = visiting.start_visit(care, episode, planned=False) if episode else None
        if is_said(line):
            visit = visit or visits.add_visit(
                care.record,
                visiting.new_visit(care, person.id, None, VisitKind.CLINIC, ()),
            )
            return f"saved {visiting.said(care, visit, line).said}"
        subject = Subject(person, visit, standing(care, episode.id) if episode else None)
        entry = read_line(care, subject, line)
        told = preview(care, subject, entry)
        saved = save(care, subject, entry)
        return "; ".join((saved.says, *told.says))
