"""Opening a record: every way it can go wrong is found before anything is written to the file."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path
from urllib.parse import quote

from store.knowledge.time import Clock
from store.record import schema
from store.record.backup import backup_before
from store.record.faults import FaultKind, RecordFault, fault, fault_of, fault_of_place
from store.record.handle import Record
from store.record.place import check_header, check_writable, default_path, on_share, unsettled
from store.record.text import fold
from store.record.uuid7 import PROCESS_IDS, Ids

__all__ = ["Record", "RecordFault", "default_path", "open_record"]

BUSY_MS = 2000
"""How long another program's lock is waited for."""

CHECKED_WHOLE_BYTES = 500_000
"""Files up to this size are read through when opened, which takes a few milliseconds; larger ones by `check`."""


def open_record(
    path: Path,
    clock: Clock,
    *,
    create: bool = False,
    read_only: bool = False,
    ids: Ids = PROCESS_IDS,
    busy_ms: int = BUSY_MS,
) -> Record:
    """Open a record: where there is none, `create` makes it; an older one is backed up and brought up to date.

    Raises RecordFault, whose sentence says what to do. What is not ours, damaged or newer is never written to.
    """
    try:
        there = _stands(path, create and not read_only)
        if read_only:
            return Record(path, clock, _open_to_read(path, busy_ms), ids, read_only=True)
        check_writable(path)
        if not there:
            _make_empty(path)
        db = _open_to_write(path, busy_ms)
        try:
            db.execute("PRAGMA synchronous = FULL")
            _bring_up(db, path, clock)
            _set_journal(db, path)
            return Record(path, clock, db, ids, read_only=False)
        except BaseException:
            db.close()
            raise
    except sqlite3.Error as error:
        found = fault_of(error, path)
        if found is None:
            raise
        raise found from error


def _stands(path: Path, create: bool) -> bool:
    """Whether a record stands there; False where one is to be made, in place of nothing or of an empty file."""
    try:
        there = check_header(path)
    except RecordFault as missing:
        if create and missing.kind is FaultKind.MISSING:
            return False
        raise
    if not there and not create:
        raise fault(FaultKind.MISSING, path)
    return there


def _make_empty(path: Path) -> None:
    """An empty file that only its owner may read: SQLite gives its journals the same rights."""
    try:
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as error:
        raise fault_of_place(error, path) from None


def connect(path: Path, mode: str, busy_ms: int = BUSY_MS, extra: str = "") -> sqlite3.Connection:
    """A connection that only reads (`ro`) or writes too (`rw`), with our settings; it has read nothing yet."""
    uri = f"file:{quote(str(path.absolute()))}?mode={mode}{extra}"
    db = sqlite3.connect(uri, uri=True, isolation_level=None, timeout=busy_ms / 1000)
    db.execute("PRAGMA foreign_keys = ON")
    db.create_function("fold", 1, fold, deterministic=True)
    return db


def _open_to_write(path: Path, busy_ms: int) -> sqlite3.Connection:
    """A connection that may write, looked at before it does: bringing in a journal would be writing already."""
    looked = unsettled(path) and _look_first(path, busy_ms)
    db = connect(path, "rw", busy_ms)
    try:
        if not looked:
            _look(db, path)
    except BaseException:
        db.close()
        raise
    return db


def _look_first(path: Path, busy_ms: int) -> bool:
    """Look through a connection that cannot write. False where that needs a journal played back first."""
    with closing(connect(path, "ro", busy_ms)) as db:
        try:
            _look(db, path)
        except sqlite3.OperationalError as error:
            if _wants_to_write(error):
                return False
            raise
    return True


def _open_to_read(path: Path, busy_ms: int) -> sqlite3.Connection:
    """A connection that writes nothing of its own; where it may, it tidies up its journal when it is closed."""
    try:
        check_writable(path)
    except RecordFault as bound:
        db = _open_bound(path, busy_ms, bound)
    else:
        db = _open_to_write(path, busy_ms)
        db.execute("PRAGMA query_only = ON")
    if db.execute("PRAGMA user_version").fetchone()[0] < schema.VERSION:
        db.close()
        raise fault(FaultKind.OLDER, path)
    return db


def _open_bound(path: Path, busy_ms: int, bound: RecordFault) -> sqlite3.Connection:
    """A connection to a file that may not be written to, or that lies where its journal may not."""
    for extra in ("", "&immutable=1"):  # as it is, then without a journal, which an unchanged file does not need
        db = connect(path, "ro", busy_ms, extra)
        try:
            _look(db, path)
            return db
        except sqlite3.OperationalError as error:
            db.close()
            if not _wants_to_write(error):
                raise
            if unsettled(path):
                break
        except RecordFault:
            db.close()
            raise
    raise bound


def _wants_to_write(error: sqlite3.OperationalError) -> bool:
    return error.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)


def _look(db: sqlite3.Connection, path: Path) -> None:
    """Raise RecordFault for a file that is newer or damaged."""
    version: int = db.execute("PRAGMA user_version").fetchone()[0]
    if version > schema.VERSION:
        raise fault(FaultKind.NEWER, path)
    tables = {row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    if version == schema.VERSION and not tables.issuperset(schema.TABLES):
        raise fault(FaultKind.DAMAGED, path)
    if path.stat().st_size <= CHECKED_WHOLE_BYTES and db.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise fault(FaultKind.DAMAGED, path)


def _bring_up(db: sqlite3.Connection, path: Path, clock: Clock) -> None:
    """Bring the schema up to date, with a backup first where there is anything to lose."""
    version = db.execute("PRAGMA user_version").fetchone()[0]
    if version == schema.VERSION:
        return
    from store.record.migrations import migrate  # costs 40 ms, and is seldom needed

    if version:
        backup_before(db, path, schema.VERSION)
    migrate(db, clock.now())


def _set_journal(db: sqlite3.Connection, path: Path) -> None:
    """WAL on a local disk; a rollback journal on a share, or where WAL cannot be had."""
    wanted = "DELETE" if on_share(path) else "WAL"
    try:
        db.execute(f"PRAGMA journal_mode = {wanted}").fetchone()
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY:
            return  # another window has it open in the mode it found: both go on in that one
        db.execute("PRAGMA journal_mode = DELETE").fetchone()
