"""What goes with a visit on paper, as types: the safety screen, the home programme, the note."""

from __future__ import annotations

from datetime import date
from typing import Any, NamedTuple

from store.knowledge.time import Stamp


class SafetyScreen(NamedTuple):
    """What was asked, what came of it, and by which rules.

    `answers` holds what was answered only: what is not in it was not asked. `shown` are the questions that were
    on show when they were asked as a group. A refer stands until it is `settled`, with a reason.
    """

    id: str
    person: str
    asked: Stamp
    kind: str  # full | asked as a group
    outcome: str
    answers: dict[str, Any]
    shown: tuple[str, ...] = ()
    findings: tuple[dict[str, Any], ...] = ()
    episode: str | None = None
    visit: str | None = None
    examiner: str = ""
    rules: str | None = None
    settled: Stamp | None = None
    settled_because: str = ""
    retracted: Stamp | None = None
    revision: str = ""


class Programme(NamedTuple):
    """What a person does at home: `items` are plain data, an activity with its dose, side and words each."""

    id: str
    person: str
    episode: str
    issued: Stamp
    items: tuple[dict[str, Any], ...]
    visit: str | None = None
    examiner: str = ""
    review_on: date | None = None
    words: str = ""
    retracted: Stamp | None = None
    revision: str = ""


class ProgrammeDay(NamedTuple):
    """A day at home: how many items were done, and the pain next morning where it was told."""

    id: str
    programme: str
    person: str
    day: date
    done: int
    pain_morning: int | None = None
    note: str = ""
    retracted: Stamp | None = None
    revision: str = ""


class Note(NamedTuple):
    """The note of a visit, or an addition to one. `sections` are its parts by name. Once signed it is locked."""

    id: str
    person: str
    drafted: Stamp
    sections: dict[str, str]
    kind: str = "visit note"  # visit note | addition
    adds_to: str | None = None
    episode: str | None = None
    visit: str | None = None
    signed: Stamp | None = None
    signed_by: str = ""
    student: bool = False
    countersigned: Stamp | None = None
    countersigned_by: str = ""
    rules: str | None = None
    retracted: Stamp | None = None
    revision: str = ""
