"""What each headless verb does. It imports what it needs when it runs, and never Textual."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable, Sequence
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO, TypeVar

from tui.own_settings import settings_of

if TYPE_CHECKING:
    from store.care.care import Care

T = TypeVar("T")
WRONG = 2
"""Exit status of a check that found something."""


TOLD_VISITS = 3
"""How many visits `show` tells in text where nobody says how many."""
FIGURES = 6
"""Figures that a count may not have: nobody has as many visits."""


# what they share


def say(text: str, stream: TextIO | None = None) -> None:
    """Print lines; whatever could turn or steer a terminal is named by its code instead."""
    from store.care.in_words import visible

    print("\n".join(visible(line) for line in text.split("\n")), file=stream)


def ask(question: str) -> str:
    """What somebody at the terminal answers. Raises EOFError where nobody does.

    Not by `input`: a ctrl+c that comes between its question and its reading is lost.
    """
    print(question, end="", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.strip()


def path_of(options: Namespace) -> Path | None:
    """The file that was named: by word, by option, by environment; None for the default one."""
    named = getattr(options, "path", None) or options.file or os.environ.get("BOTHFEET_FILE")
    return Path(named) if named else None


def care_of(
    options: Namespace, *, create: bool = False, only_read: bool = False, tell_settings: bool = True
) -> Care:
    """The care of the record that was named, under the clinic's settings. Raises a fault with a sentence."""
    from store.care.care import open_care

    settings = settings_of(say if tell_settings else None)

    def opened(passphrase: str | None) -> Care:
        return open_care(
            path_of(options),
            options.clock,
            examiner=options.examiner,
            create=create,
            only_read=only_read,
            passphrase=passphrase,
            settings=settings,
        )

    return _with_passphrase(opened)


def make_encrypted(options: Namespace) -> Care:
    """The care of a new record under a passphrase asked for twice. Raises a fault where a file stands already."""
    from getpass import getpass

    from store.care.care import open_care
    from store.care.faults import CareFault
    from store.care.keeping import is_there

    if is_there(path_of(options)):
        raise CareFault(
            "there is a record of this name already, and it stays as it is: name a new file to encrypt"
        )
    passphrase = getpass("passphrase for the new record, which nobody can restore: ")
    if not passphrase:
        raise CareFault("an empty passphrase keeps nothing safe: nothing was made")
    if getpass("the same again: ") != passphrase:
        raise CareFault("the two passphrases differ: nothing was made, start again")
    return open_care(
        path_of(options),
        options.clock,
        examiner=options.examiner,
        create=True,
        passphrase=passphrase,
        settings=settings_of(),
    )


def _with_passphrase(opened: Callable[[str | None], T], asks: str = "passphrase: ") -> T:
    """Open without a passphrase; where one is needed and there is somebody to ask, ask, and keep it nowhere."""
    from store.care.faults import RecordFault, wants_passphrase

    try:
        return opened(None)
    except RecordFault as found:
        if not wants_passphrase(found) or not sys.stdin.isatty():
            raise
    from getpass import getpass

    return opened(getpass(asks))


def keep_examiner(care: Care, options: Namespace) -> None:
    """Keep who examines: whoever is named, else, where nobody ever was, whoever answers."""
    from store.care.care import name_examiner

    name = options.examiner
    if not name and not care.examiner and sys.stdin.isatty():
        name = ask("examiner, initials will do: ")
    if name:
        name_examiner(care, name)


# the verbs


def add(options: Namespace) -> int:
    """Save one line, once what is unusual in it was agreed to."""
    from store.care.adding import add_line, doubts
    from store.care.faults import CareFault
    from store.care.finding import find_person
    from store.knowledge.words import Side

    side = Side(options.side) if options.side else None
    with closing(care_of(options)) as care:
        person = find_person(care, options.person)
        asked = doubts(care, person, options.said, side)
        try:
            if asked and not options.yes and not _agreed(asked):
                raise CareFault(f"{' '.join(asked)} Nothing was saved: type it again, or add --yes if it is right")
            keep_examiner(care, options)
        except EOFError:
            raise CareFault("no answer was given, and nothing was saved: type it again") from None
        say(add_line(care, person, options.said, side))
    return 0


def _agreed(says: Sequence[str]) -> bool:
    """Whether the person at the terminal says yes; with no terminal nobody can."""
    if not sys.stdin.isatty():
        return False
    say(" ".join(says))
    return ask("save it? y/n: ").lower() in {"y", "yes"}


def show(options: Namespace) -> int:
    """Print the caseload, or a person's ankle: as text both ankles where both are injured, as data one."""
    with closing(care_of(options, only_read=True)) as care:
        if options.person is None:
            _show_caseload(care, as_json=options.json)
        else:
            _show_person(care, options)
    return 0


def _show_caseload(care: Care, *, as_json: bool) -> None:
    if not as_json:
        say_caseload(care)
        return
    from store.care.as_data import caseload_data, json_text
    from store.care.caseload import everybody
    from store.care.invented import is_invented

    print(json_text(caseload_data(everybody(care), invented=is_invented(care))))


def say_caseload(care: Care) -> None:
    """Print the caseload in plain text."""
    from store.care.caseload import count, everybody, with_widest
    from store.care.home_shown import recall_lines
    from store.care.invented import invented_note
    from store.care.shown import caseload_text

    rows = with_widest(care, everybody(care))
    say(caseload_text(rows, count(care), invented_note(care)).rstrip("\n"))
    recalls = recall_lines(care)
    if recalls:
        say("\n".join(["", *recalls]))


def _show_person(care: Care, options: Namespace) -> None:
    from store.care.finding import find_person, shown_episodes
    from store.care.invented import is_invented_person
    from store.care.past_visits import past_visits, visits_that_count
    from store.care.standing import standing
    from store.knowledge.words import Side

    side = Side(options.side) if options.side else None
    on = _day(options.on)
    person = find_person(care, options.person)
    found = shown_episodes(care, person, side)
    invented = is_invented_person(care, person)
    if options.json:
        from store.care.ahead_data import ahead
        from store.care.appointments import next_appointment
        from store.care.as_data import episode_data, json_text
        from store.care.looked import looks_data
        from store.care.past_data import visit_data
        from store.care.recall import tail_of
        from store.care.resprain import resprain_data
        from store.care.run_data import running_data
        from store.care.safety_words import safety_data

        held, most = standing(care, found[0].id), _most_visits(options.visits, None)
        past = [visit_data(one) for one in past_visits(care, found[0], most)]
        due = next_appointment(care, person.id)
        screens = safety_data(care, found[0].id)
        told = episode_data(
            held,
            ahead=ahead(care, held, on),
            visits=past,
            due=due,
            safety=screens,
            looks=looks_data(care, person.id),
            resprains=resprain_data(care, found[0].id),
            running=running_data(care, held),
            tail=tail_of(care, found[0]),
            invented=invented,
        )
        print(json_text(told))
        return
    from store.care.ahead_text import ahead_lines
    from store.care.appointments import coming_words
    from store.care.home_shown import home_lines
    from store.care.looked import look_lines
    from store.care.past_days import days_line, past_days
    from store.care.resprain import resprain_lines
    from store.care.run_goal import told_of_running
    from store.care.safety_words import safety_lines
    from store.care.shown import episode_text

    most, coming = _most_visits(options.visits, TOLD_VISITS), coming_words(care, person.id)
    texts = [
        episode_text(
            held := standing(care, one.id),
            visits_that_count(care, one),
            past_visits(care, one, most),
            ahead=ahead_lines(care, held, on),
            coming=coming,
            home=home_lines(care, one.id),
            safety=safety_lines(care, one.id),
            looks=look_lines(care, person.id) if one is found[0] else (),
            resprains=resprain_lines(care, one.id),
            running=told_of_running(care, held),
            brought=days_line(past_days(care, one)),
            invented=invented and one is found[0],
        )
        for one in found
    ]
    say("\n".join(texts).rstrip("\n"))


def _day(asked: str | None) -> date | None:
    """The day to look at. Raises a fault with a sentence on what is none."""
    from store.care.faults import CareFault

    if asked is None:
        return None
    try:
        return date.fromisoformat(asked)
    except ValueError:
        says = f"--on {asked} is no day: type it" if asked.strip() else "nothing stands behind --on: type a day,"
        raise CareFault(f"{says} as 2026-12-24") from None


def _most_visits(asked: str | None, usual: int | None) -> int | None:
    """How many visits are told: None is all. Raises a fault with a sentence on what is no number."""
    from store.care.faults import CareFault

    if asked is None:
        return usual
    if asked == "all":
        return None
    if not (asked.isascii() and asked.isdigit() and len(asked) < FIGURES):
        raise CareFault(f"--visits {asked} is no number: type how many visits, as 5, or all")
    return int(asked)


def measures(options: Namespace) -> int:
    """Print the measures, or one measure's page."""
    from store.care.listing import measure_page, measures_text
    from store.knowledge.load import load

    known = load(settings=settings_of(say))
    say(measure_page(known, options.measure) if options.measure else measures_text(known))
    return 0


def backup(options: Namespace) -> int:
    """Copy the record to a new file."""
    from store.care.keeping import backup as copied

    with closing(care_of(options, only_read=True)) as care:
        say(f"copied to {copied(care, options.to)}")
    return 0


def check(options: Namespace) -> int:
    """Look whether the record is whole, and say what is not."""
    from store.care.keeping import check as checked

    found = _with_passphrase(lambda passphrase: checked(path_of(options), passphrase))
    say("\n".join(found) if found else "the record is whole")
    return WRONG if found else 0


def merge(options: Namespace) -> int:
    """Bring in another copy of a record."""
    from store.care.keeping import merge as merged

    with closing(care_of(options)) as care:
        asks = f"passphrase of {options.other}: "
        say(_with_passphrase(lambda passphrase: merged(care, options.other, passphrase), asks))
    return 0


def bring_in(options: Namespace) -> int:
    """Import a table of readings, or say what an import would do."""
    from store.care.care import name_examiner
    from store.care.import_words import imported_text, notes_text
    from store.care.importing import bring_in as brought
    from tui.progress import Progress

    with closing(care_of(options, only_read=options.dry_run)) as care:
        with Progress(options.clock) as progress:
            found = brought(
                care,
                options.table,
                dry_run=options.dry_run,
                skip_bad=options.skip_bad,
                examiner=care.examiner if options.examiner else "",
                progress=progress,
            )
        if options.examiner and not options.dry_run:
            name_examiner(care, options.examiner)
    say(imported_text(found, dry_run=options.dry_run))
    notes = notes_text(found)
    if notes:
        sys.stdout.flush()
        say(notes, sys.stderr)
    return 0
