"""The verb that hands data out: one person or all, as CSV, JSON, FHIR or a calendar. It never imports Textual."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from tui.verbs import care_of, say

if TYPE_CHECKING:
    from store.care.care import Care
    from store.care.everything import Everything

STDOUT = Path("-")
"""Where it is written when nobody wants a file."""


def export(options: Namespace) -> int:
    """Write what is held on a person, or on all people, and say what a blind re-test keeps out of it."""
    from store.care.everything import hidden_words
    from store.care.faults import CareFault
    from store.papers.saving import new_place, save_parts

    if options.all == (options.person is not None):
        raise CareFault("say whom to export: a person by label or id, or --all, and not both")
    out: Path = options.out
    left_out: list[str] = []

    def noted(people: Iterable[Everything]) -> Iterator[Everything]:
        for held in people:
            if says := hidden_words(held):
                left_out.append(f"{held.person.label}: {says}")
            yield held

    with closing(care_of(options, only_read=True)) as care:
        if out.exists() and out.samefile(care.record.path):
            raise CareFault(f"{out} is the record itself, and stays as it is: name another file")
        if out != STDOUT:
            new_place(out, force=options.force)
        parts = WAYS[options.to](care, noted(_people(care, options)))
        if out == STDOUT:
            _print(parts)
        else:
            save_parts(out, parts)
            say(f"saved {out}")
    sys.stdout.flush()
    for line in left_out:
        say(line, sys.stderr)
    return 0


def _people(care: Care, options: Namespace) -> Iterable[Everything]:
    """Whoever is meant. Raises a fault with a sentence where nobody is, before anything is written."""
    from store.care.everything import everything_of, everything_of_everybody
    from store.care.finding import find_person

    if options.all:
        return everything_of_everybody(care)
    return [everything_of(care, find_person(care, options.person))]


def _csv(care: Care, people: Iterable[Everything]) -> Iterator[bytes]:
    from store.papers.csv_out import csv_parts

    del care
    return csv_parts(people)


def _json(care: Care, people: Iterable[Everything]) -> Iterator[bytes]:
    from store.papers.json_out import json_parts

    return json_parts(people, care.clock.now())


def _fhir(care: Care, people: Iterable[Everything]) -> Iterator[bytes]:
    from store.papers.fhir_out import fhir_parts

    return fhir_parts(people, care.knowledge.measures, care.clock.now())


def _ics(care: Care, people: Iterable[Everything]) -> Iterator[bytes]:
    from store.papers.calendar import calendar_parts

    return calendar_parts(people, care.clock.now())


WAYS: dict[str, Callable[[Care, Iterable[Everything]], Iterator[bytes]]] = {
    "csv": _csv,
    "json": _json,
    "fhir": _fhir,
    "ics": _ics,
}
"""How it is written, by the word behind --to."""


def _print(parts: Iterable[bytes]) -> None:
    """To a pipe as it is; on a terminal what could steer it is named by its code."""
    if sys.stdout.isatty():
        say(b"".join(parts).decode("utf-8").replace("\r\n", "\n").rstrip("\n"))
        return
    for part in parts:
        sys.stdout.buffer.write(part)
