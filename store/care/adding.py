"""One line from a shell: whose it is, which visit it belongs to, and keeping it."""

from __future__ import annotations

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.finding import open_episode
from store.care.in_words import visible
from store.care.measuring import Preview, Subject, preview, read_line, save
from store.care.plan import goes_on
from store.care.standing import standing
from store.entry.entry import CONDITIONS
from store.entry.said import is_said
from store.knowledge.words import Episode, Moment, Person, Side, Visit, VisitKind
from store.record import visits

_OF_A_MEASURE = {*Moment, *CONDITIONS, "half_dome", "note"}
"""Words that only a line of one measure has."""


# what it says


def says_much(care: Care, line: str) -> bool:
    """Whether a line is one of what the person says, such as "pain 2 worst 4 home 5/7".

    One that begins alike, and carries what only a measure's line has, is of that measure: "pain 3 after".
    """
    first, *more = line.casefold().replace("-", "_").split() or [""]
    of_a_measure = care.knowledge.find_measure(first) is not None and not _OF_A_MEASURE.isdisjoint(more)
    return is_said(line) and not of_a_measure


def doubts(care: Care, person: Person, line: str, side: Side | None = None) -> tuple[str, ...]:
    """What a line would want a yes for, as sentences. Raises EntryError on one that cannot be read."""
    if says_much(care, line):
        return visiting.said_asks(care, line)
    shown = _preview(care, person, line, side)
    swapped = ("The injured side comes out clearly better: are left and right swapped?",) if shown.swapped else ()
    return (*shown.asks, *swapped)


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
            visiting.said(care, visit or visit_without_episode(care, person), line)
            return f"saved {' '.join(line.split())}"
        subject = _subject(care, person, episode, visit)
        entry = read_line(care, subject, line)
        compared = not visiting.awaits(care, visit, entry.measure.id)
        says = preview(care, subject, entry).says if compared else entry.says
        where = () if episode else ("no episode is open, so it stands with the person alone",)
        return "; ".join((save(care, subject, entry).says, *says, *where))


def visit_without_episode(care: Care, person: Person, kind: VisitKind = VisitKind.CLINIC) -> Visit:
    """Today's visit of a person who has no open episode, made where there is none."""
    now = care.clock.now()
    for visit in visits.visits_of_person(care.record, person.id):
        if visit.episode is None and goes_on(visit, now):
            return visit
    return visits.add_visit(care.record, visiting.new_visit(care, person.id, None, kind, ()))
