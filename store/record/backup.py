"""Copies of a record: whole ones, made by SQLite itself, that stand in their place only when they are done."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

from store.record.faults import FaultKind, fault, fault_of, fault_of_place
from store.record.handle import Record


def backup(record: Record, to: Path) -> Path:
    """Copy the record to a new file, or into a folder under a name with the date; return the file made.

    Never writes over a file. Raises RecordFault.
    """
    if to.is_dir():
        to = to / f"{record.path.stem}-{record.clock.now().local:%Y-%m-%d-%H%M}.sqlite"
    copy(record.db, to)
    return to


def backup_before(db: sqlite3.Connection, path: Path, version: int) -> Path:
    """Keep the file beside itself as it is before it is brought to a schema; return the file made."""
    number, to = 1, path.with_name(f"{path.stem}-before-schema-{version}.sqlite")
    while to.exists():
        number += 1
        to = path.with_name(f"{path.stem}-before-schema-{version}-{number}.sqlite")
    copy(db, to)
    return to


def copy(db: sqlite3.Connection, to: Path) -> None:
    """Copy an open file to a new one that only its owner may read. Raises RecordFault, with nothing left there."""
    unfinished = to.with_name(f"{to.name}.unfinished-{os.getpid()}")
    _reserve(to)
    try:
        _reserve(unfinished)
        _copy_pages(db, unfinished)
        unfinished.replace(to)
    except BaseException as error:
        unfinished.unlink(missing_ok=True)
        to.unlink(missing_ok=True)
        found = fault_of(error, to)
        if found is not None:
            raise found from error
        raise


def _reserve(to: Path) -> None:
    """Make an empty file under a name that nothing has yet. Raises RecordFault."""
    try:
        os.close(os.open(to, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    except OSError as error:
        raise fault_of_place(error, to) from None


def _copy_pages(db: sqlite3.Connection, to: Path) -> None:
    if type(db) is not sqlite3.Connection:
        _copy_encrypted(db, to)
        return
    target = sqlite3.connect(to, isolation_level=None)
    try:
        db.backup(target)
        target.execute("PRAGMA journal_mode = DELETE").fetchone()
        if target.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
            raise fault(FaultKind.DAMAGED, to)
    finally:
        target.close()


def _copy_encrypted(db: sqlite3.Connection, to: Path) -> None:
    """A copy under the same passphrase, which is not known here; SQLite leaves it to us to put it on disk."""
    db.execute("VACUUM INTO ?", (str(to),))
    with to.open("rb+") as file:
        os.fsync(file.fileno())
