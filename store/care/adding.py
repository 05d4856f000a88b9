"""One line from a shell: whose it is, which visit it belongs to, and keeping it."""

from __future__ import annotations

from dataclasses import dataclass

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.measuring import Preview, Subject, preview, read_line, save
from store.care.plan import goes_on
from store.care.standing import standing
from store.entry.entry import CONDITIONS
from store.entry.said import is_said
from store.knowledge.words import Episode, Moment, Person, Side, Visit, VisitKind
from store.record import episodes, people, visits

LISTED_MOST = 20
"""People who are listed when several answer to what was typed."""

_OF_A_MEASURE = {*Moment, *CONDITIONS, "half_dome", "note"}
"""Words that only a line of one measure has."""


@dataclass(frozen=True, slots=True)
class Doubts:
    """What wants a yes before it is kept, as sentences; empty when nothing does."""

    says: tuple[str, ...]


# whose line it is


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
        raise CareFault(f"no person has the label {text}, and no id starts so: {hint}")
    if len(found) > 1:
        raise CareFault(_several(care, text, found))
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
        raise CareFault(f"{visible(person.label)} has {which}: open one on screen (F2)")
    return [episode for episode in held if episode.closed is None] or held[-1:]


# what it says


def says_much(care: Care, line: str) -> bool:
    """Whether a line is one of what the person says, such as "pain 2 worst 4 home 5/7".

    One that begins alike, and carries what only a measure's line has, is of that measure: "pain 3 after".
    """
    first, *more = line.casefold().replace("-", "_").split() or [""]
    of_a_measure = care.knowledge.find_measure(first) is not None and not _OF_A_MEASURE.isdisjoint(more)
    return is_said(line) and not of_a_measure


def doubts(care: Care, person: Person, line: str, side: Side | None = None) -> Doubts:
    """What a line would want a yes for. Raises EntryError on one that cannot be read; nothing is kept."""
    if says_much(care, line):
        return Doubts(visiting.said_asks(care, line))
    shown = _preview(care, person, line, side)
    swapped = ("The injured side comes out clearly better: are left and right swapped?",) if shown.swapped else ()
    return Doubts((*shown.asks, *swapped))


def _preview(care: Care, person: Person, line: str, side: Side | None) -> Preview:
    episode = open_episode(care, person, side)
    subject = _subject(care, person, episode, visiting.open_visit(care, episode) if episode else None)
    return preview(care, subject, read_line(care, subject, line))


def _subject(care: Care, person: Person, episode: Episode | None, visit: Visit | None) -> Subject:
    return Subject(person, visit, standing(care, episode.id) if episode else None)


# keeping it


def add_line(care: Care, person: Person, line: str, side: Side | None = None) -> str:
    """Keep a line in today's visit of the open episode, made where there is none; say what was saved.

    A visit made here has no plan to walk, so nothing in it waits blind. Raises EntryError, CareFault or
    RecordFault; then nothing is kept, no empty visit either.
    """
    if side is not None and open_episode(care, person, side) is None:
        raise CareFault(f"{visible(person.label)} has no open episode of the {side} ankle: leave --side out")
    doubts(care, person, line, side)
    with care.together():
        episode = open_episode(care, person, side)
        visit = visiting.start_visit(care, episode, planned=False) if episode else None
        if says_much(care, line):
            said = visiting.said(care, visit or _visit_without_episode(care, person), line).said
            return f"saved {said}"
        subject = _subject(care, person, episode, visit)
        entry = read_line(care, subject, line)
        told = preview(care, subject, entry)
        saved = save(care, subject, entry)
        return "; ".join((saved.says, *told.says))


def _visit_without_episode(care: Care, person: Person) -> Visit:
    """Today's visit of a person who has no open episode, made where there is none."""
    now = care.clock.now()
    for visit in visits.visits_of_person(care.record, person.id):
        if visit.episode is None and goes_on(visit, now):
            return visit
    return visits.add_visit(care.record, visiting.new_visit(care, person.id, None, VisitKind.CLINIC, ()))
