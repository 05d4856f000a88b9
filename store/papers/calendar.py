"""What is planned of one person as a paper: what a calendar file holds of it, and how the file is saved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path

from store.care.care import Care
from store.care.dates import day_text, time_text
from store.care.everything import Everything, everything_of
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.invented import THIS_ONE
from store.knowledge.time import Stamp
from store.knowledge.words import Person
from store.papers.formats import known_ending
from store.papers.ics_out import ics_parts
from store.papers.page import Block, Page
from store.papers.saving import save_parts

NOTHING_PLANNED = (
    "no appointment and no run is planned, and a calendar holds at least one: w on an episode plans one"
)
ENDING = ".ics"
NAMES = "The file names the person so: whoever reads the calendar reads it."
FOOT = "What was done, moved or called off is in the file too: it can be taken in again."


def calendar_parts(people: Iterable[Everything], made: Stamp) -> Iterator[bytes]:
    """The calendar of these people. Raises CareFault where there is nothing for it: it is never empty (RFC 5545,
    3.6).
    """
    planned = [held for held in people if held.appointments or any(one.planned_on for one in held.run_sessions)]
    if not planned:
        raise CareFault(NOTHING_PLANNED)
    return ics_parts(planned, made)


def planned_of(care: Care, person: Person) -> Everything:
    """What a calendar of a person is made of. Raises CareFault where nothing was ever planned."""
    held = everything_of(care, person)
    calendar_parts([held], care.clock.now())
    return held


def calendar_page(held: Everything, today: date) -> Page:
    """What is planned from today on, as words."""
    invented = (THIS_ONE,) if held.invented else ()
    blocks = (
        Block("visits", tuple(_visits(held, today)) or ("none is planned",)),
        Block("runs", tuple(_runs(held, today)) or ("none is planned",)),
    )
    return Page("calendar", (visible(held.person.label), *invented, NAMES), blocks, (FOOT,))


def save_calendar(held: Everything, made: Stamp, to: Path) -> Path:
    """Write the calendar of a person to a file that ends in .ics, and give its path. Raises CareFault."""
    known_ending(to, (ENDING,))
    save_parts(to, calendar_parts([held], made))
    return to


def _visits(held: Everything, today: date) -> Iterator[str]:
    for one in held.appointments:
        if one.retracted is None and one.due.on >= today:
            note = f"; {visible(one.note)}" if one.note.strip() else ""
            yield f"{day_text(one.due.on, weekday=True)} {time_text(one.due)}, {one.minutes} min{note}"


def _runs(held: Everything, today: date) -> Iterator[str]:
    closed = {one.id for one in held.episodes if one.closed is not None}
    for one in held.run_sessions:
        if one.retracted is not None or one.done_on is not None or one.episode in closed:
            continue
        if one.planned_on is not None and one.planned_on >= today:
            yield f"{day_text(one.planned_on, weekday=True)}: {held.rungs.get(one.id, f'rung {one.rung}')}"
