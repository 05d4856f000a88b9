"""The verbs of the papers: what each prints or saves. They import what they need when they run, never Textual."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Collection
from contextlib import closing
from typing import TYPE_CHECKING

from tui.verbs import care_of, say

if TYPE_CHECKING:
    from store.care.care import Care
    from store.papers.page import Page


def sheet(options: Namespace) -> int:
    """Print the home sheet of a person, or save it in the format of the file's ending."""
    from store.care.home_sheet import sheet_of
    from store.papers.formats import SHEET_FORMATS, save_sheet
    from store.papers.sheet import as_text

    _must_be_free(options, SHEET_FORMATS)
    with closing(care_of(options, only_read=True)) as care:
        made = sheet_of(care, _episode_of(care, options))
    if options.out is None:
        say(as_text(made).rstrip("\n"))
    else:
        say(f"saved to {save_sheet(made, options.out)}")
    return 0


def note(options: Namespace) -> int:
    """Print or save the note of a visit: of the one in hand, else the last, else the one that was named."""
    from store.care import noting
    from store.care.faults import CareFault
    from store.papers.formats import FORMATS
    from store.papers.note import note_page

    _must_be_free(options, FORMATS)
    with closing(care_of(options, only_read=True)) as care:
        episode = _episode_of(care, options)
        visit = (
            _visit_named(care, episode, options.visit) if options.visit else noting.visit_to_note(care, episode)
        )
        if visit is None:
            raise CareFault("there is no visit yet to write a note of: v on screen starts one")
        _give(note_page(care, noting.note_of(care, visit)), options)
    return 0


def letter(options: Namespace) -> int:
    """Print or save the progress letter of an episode."""
    from store.papers.formats import FORMATS
    from store.papers.letter import letter_page

    _must_be_free(options, FORMATS)
    with closing(care_of(options, only_read=True)) as care:
        _give(letter_page(care, _episode_of(care, options), options.to), options)
    return 0


def _must_be_free(options: Namespace, formats: Collection[str]) -> None:
    """Before anything is read: the file that is named ends as a paper does, and replaces none unasked."""
    from store.papers.formats import known_ending
    from store.papers.saving import new_place

    if options.out is not None:
        known_ending(options.out, formats)
        new_place(options.out, force=options.force)


def _episode_of(care: Care, options: Namespace) -> str:
    """The episode that a paper is of. Raises CareFault where both ankles are injured and no side is named."""
    from store.care.faults import CareFault
    from store.care.finding import find_person, shown_episodes
    from store.knowledge.words import Side

    side = Side(options.side) if options.side else None
    found = shown_episodes(care, find_person(care, options.person), side)
    if len(found) > 1:
        raise CareFault("both ankles are in an episode: say which one with --side left or --side right")
    return found[0].id


def _visit_named(care: Care, episode: str, named: str) -> str:
    """The visit of a day, as 2026-11-24, or by the start of its id. Raises CareFault."""
    from store.care.faults import CareFault
    from store.care.past_visits import visits_that_count

    counted = visits_that_count(care, care.episode(episode))
    found = [one for one in counted if one.started.on.isoformat() == named or one.id.startswith(named)]
    if len(found) != 1:
        days = ", ".join(one.started.on.isoformat() for one in counted[:6]) or "none"
        many = "several visits are" if found else "no visit is"
        raise CareFault(f"{many} of {named!r}: name a day or the start of an id; the last days are {days}")
    return found[0].id


def _give(page: Page, options: Namespace) -> None:
    """A paper to the file that was named, else as text."""
    from store.papers.formats import save_page
    from store.papers.page import as_text

    if options.out is None:
        say(as_text(page).rstrip("\n"))
    else:
        say(f"saved to {save_page(page, options.out)}")
