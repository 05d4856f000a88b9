"""What every act needs: the open record, what the trade knows, the clock, and who examines."""

from __future__ import annotations

import os
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from store.care.faults import CareFault
from store.knowledge.load import Knowledge, load
from store.knowledge.settings import NOTHING_SET, Settings
from store.knowledge.time import Clock
from store.knowledge.words import Episode, Person, Visit
from store.record import episodes, examiners, people
from store.record import visits as kept_visits
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, default_path, open_record

if TYPE_CHECKING:
    from store.reckon.prior import Prior

T = TypeVar("T")

ENDINGS = frozenset({".sqlite", ".sqlite3", ".db"})
"""What the name of a new record may end in."""

EXAMINER_MOST = 40
"""Characters of an examiner's name."""


@dataclass(slots=True)
class Care:
    """The one thing that screens, verbs and papers are handed.

    `blind` hides before values until the re-test is in (a setting). `settings` are the clinic's own; what they
    change of what is known stands in `knowledge` already. `told_minutes` remembers how long each visit was last
    said to have gone on, and the tick of it, so that a clock that is set back does not make it younger. `priors`
    are what closed episodes taught the forecast of each measure, worked out once.
    """

    record: Record
    knowledge: Knowledge
    clock: Clock
    examiner: str = ""
    blind: bool = True
    settings: Settings = NOTHING_SET
    told_minutes: dict[str, tuple[float, float]] = field(default_factory=dict)
    priors: dict[str, Prior] = field(default_factory=dict)

    @property
    def path(self) -> Path:
        """The file of the record."""
        return self.record.path

    @property
    def newly_made(self) -> bool:
        """Whether it was made when it was opened: by a slip in its name it is not the one that was meant."""
        return self.record.made

    def together(self) -> AbstractContextManager[object]:
        """Several writes that stand or fall as one."""
        return self.record.write_tx()

    def new_id(self) -> str:
        """The next UUIDv7."""
        return self.record.new_id()

    def person(self, person_id: str) -> Person:
        """The person with this id. Raises CareFault when there is none."""
        return _found(people.person(self.record, person_id), "person")

    def episode(self, episode_id: str) -> Episode:
        """The episode with this id. Raises CareFault when there is none."""
        return _found(episodes.episode(self.record, episode_id), "episode")

    def visit(self, visit_id: str) -> Visit:
        """The visit with this id. Raises CareFault when there is none."""
        return _found(kept_visits.visit(self.record, visit_id), "visit")

    def visit_now(self, visit: Visit) -> Visit:
        """A visit that was read, as it stands now: read again where it was amended. Raises CareFault as above."""
        return visit if kept_visits.unamended(self.record, visit) else self.visit(visit.id)

    def changed_elsewhere(self) -> bool:
        """Whether another window has changed the file since this was last asked: then read again."""
        return self.record.changed_elsewhere()

    def close(self) -> None:
        """Close the file."""
        self.record.close()


def _found(row: T | None, what: str) -> T:
    if row is None:
        raise CareFault(f"this {what} is no longer in the record: go back and look again")
    return row


def open_care(
    path: Path | None,
    clock: Clock,
    *,
    examiner: str = "",
    create: bool = False,
    only_read: bool = False,
    passphrase: str | None = None,
    settings: Settings = NOTHING_SET,
) -> Care:
    """Open a record for work: the named one, or the default one.

    With `create` one that is missing is made; a named one only when it is called .sqlite or .db, since a slip of
    the hand in a name shall not make a new record. With `only_read` nothing can be saved and the file stays as
    it is, but for an older one, which is brought up to date. Raises RecordFault with a sentence.
    """
    named = path is not None
    path = path or default_path()
    allowed = create and (not named or path.suffix in ENDINGS)
    try:
        record = _to_read(path, clock, passphrase) if only_read else None
        if record is None:
            record = open_record(path, clock, create=allowed, passphrase=passphrase)
    except RecordFault as found:
        if found.kind is FaultKind.MISSING:
            raise CareFault(_missing(path, named=named)) from found
        if found.kind is FaultKind.EMPTY:
            raise CareFault(_empty(path)) from found
        raise
    care = Care(record, load(settings=settings), clock, blind=settings.blind_retest, settings=settings)
    care.examiner = examiner or settings.examiner or kept_examiner(care)
    return care


def _to_read(path: Path, clock: Clock, passphrase: str | None) -> Record | None:
    """The record opened only to read it; None where it must be brought up to date first. Raises RecordFault."""
    try:
        return open_record(path, clock, read_only=True, passphrase=passphrase)
    except RecordFault as found:
        if found.kind is not FaultKind.OLDER or not os.access(path, os.W_OK):
            raise
    return None


def _missing(path: Path, *, named: bool) -> str:
    if not named:
        return f"there is no record yet at {path}: `bothfeet` on a terminal makes it; `bothfeet demo` shows one"
    return (
        f"there is no file {path}: check the name; for a new record, `bothfeet NAME.sqlite` on a terminal makes it"
    )


def _empty(path: Path) -> str:
    new = (
        f"`bothfeet {path}` on a terminal makes a new record of it"
        if path.suffix in ENDINGS
        else "a new record wants a name that ends in .sqlite"
    )
    return f"{path} is empty, no record stands in it: check the name, or bring back your backup; {new}"


def kept_examiner(care: Care) -> str:
    """The examiner who was named last in this file; empty when nobody was yet."""
    known = examiners.examiners(care.record)
    return max(known, key=lambda one: one.revision).name if known else ""


def name_examiner(care: Care, name: str) -> None:
    """Keep who examines, so that it is asked once only. Raises CareFault on what is no name."""
    care.examiner = clean_examiner(name)
    with care.together():
        known = examiners.add_examiner(care.record, care.examiner)
        if kept_examiner(care) != care.examiner:
            examiners.revise_examiner(care.record, known, by=care.examiner, because="examines again")


def clean_examiner(name: str) -> str:
    """A name or initials fit to show and keep. Raises CareFault with what to type."""
    name = " ".join(name.split())
    if not name or len(name) > EXAMINER_MOST or not name.isprintable():
        raise CareFault(f"type the examiner's initials or name, at most {EXAMINER_MOST} characters")
    return name
