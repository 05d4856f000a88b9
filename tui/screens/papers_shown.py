"""The papers that the screen turns through: what each shows, copies and saves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from store.care.care import Care
from store.care.home_sheet import sheet_of
from store.knowledge.words import Person
from store.papers import sheet as sheets
from store.papers.calendar import calendar_page, planned_of, save_calendar
from store.papers.formats import save_page, save_sheet
from store.papers.letter import letter_page
from store.papers.page import Page, as_text

NOTE, LETTER, CALENDAR, SHEET = "note", "letter", "calendar", "home sheet"
PAPERS = (NOTE, LETTER, CALENDAR, SHEET)
ENDINGS = {CALENDAR: ".ics"}
"""What the name of its file may end in, where that is not what a paper's usually is."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper: its words as blocks, as text, and how it is saved by the ending of a file."""

    page: Page
    text: str
    save: Callable[[Path], Path]


def of_page(page: Page) -> Paper:
    """A paper that is words and one drawing: note and letter."""
    return Paper(page, as_text(page), lambda to: save_page(page, to))


def letter_paper(care: Care, episode: str) -> Paper:
    """The progress letter. Raises CareFault."""
    return of_page(letter_page(care, episode))


def sheet_paper(care: Care, episode: str) -> Paper:
    """The home sheet of the programme in force. Raises CareFault where nothing was handed out."""
    made = sheet_of(care, episode)
    return Paper(sheets.as_page(made), sheets.as_text(made), lambda to: save_sheet(made, to))


def calendar_paper(care: Care, person: Person) -> Paper:
    """What is planned, which is saved for a calendar. Raises CareFault where nothing was ever planned."""
    held = planned_of(care, person)
    page, made = calendar_page(held, care.clock.now().on), care.clock.now()
    return Paper(page, as_text(page), lambda to: save_calendar(held, made, to))


def others(paper: str) -> str:
    """What left and right go to, in few words."""
    return ", ".join("sheet" if one == SHEET else one for one in PAPERS if one != paper)


def turned(paper: str, by: int) -> str:
    """The paper after this one, or before it."""
    return PAPERS[(PAPERS.index(paper) + by) % len(PAPERS)]
