"""Opening a record: every way it can go wrong is found before anything is written to the file."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from store.knowledge.time import Clock
from store.record import schema
from store.record.access import BUSY_MS, Access, connect_in_memory
from store.record.backup import backup_before
from store.record.cipher import needs_passphrase
from store.record.faults import FaultKind, RecordFault, code_of, fault, fault_of, fault_of_place
from store.record.handle import Record
from store.record.place import check_header, check_writable, default_path, on_share, unsettled
from store.record.uuid7 import PROCESS_IDS, Ids

__all__ = [
    "Record",
    "RecordFault",
    "default_path",
    "needs_passphrase",
    "open_again",
    "open_in_memory",
    "open_record",
]

LEAST_SQLITE = (3, 37)
"""The first with STRICT tables."""

CHECKED_WHOLE_BYTES = 500_000
"""Files up to this size are read through when opened, which takes a few milliseconds; larger ones by `check`."""


def open_record(
    path: Path,
    clock: Clock,
    *,
    create: bool = False,
    read_only: bool = False,
    passphrase: str | None = None,
    ids: Ids = PROCESS_IDS,
    busy_ms: int = BUSY_MS,
) -> Record:
    """Open a record: where there is none, `create` makes it; an older one is backed up and brought up to date.

    With a passphrase the file is, or is made, an encrypted one. Raises RecordFault, whose sentence says what to
    do. What is not ours, damaged or newer is never written to.
    """
    access = Access(path, busy_ms, passphrase)
    if sqlite3.sqlite_version_info < LEAST_SQLITE:
        raise fault(FaultKind.OLD_SQLITE, path)
    try:
        there = stands(access, create=create and not read_only)
        if read_only:
            return Record(access, clock, _open_to_read(access), ids, read_only=True)
        check_writable(path)
        if not there:
            _make_empty(path)
        db = _open_to_write(access, there=there)
        try:
            db.execute("PRAGMA synchronous = FULL")
            _bring_up(db, access, clock)
            _set_journal(db, path)
            return Record(access, clock, db, ids, read_only=False, made=not there)
        except BaseException:
            db.close()
            raise
    except Exception as error:
        found = fault_of(error, path)
        if found is None:
            raise
        raise found from error


def open_again(record: Record) -> Record:
    """Another connection to a record that this process has open, for a thread of its own. Raises RecordFault.

    It reads no byte of the file but through SQLite: when a process closes any handle of a file, the system drops
    all its locks on it (POSIX), and the next program that closes the record would take its journal away.
    """
    if record.read_only:
        raise fault(FaultKind.READ_ONLY, record.path)
    try:
        db = record.access.connect("rw")
        try:
            db.execute("PRAGMA synchronous = FULL")
            return Record(record.access, record.clock, db, record.ids, read_only=False)
        except BaseException:
            db.close()
            raise
    except Exception as error:
        found = fault_of(error, record.path)
        if found is None:
            raise
        raise found from error


def open_in_memory(clock: Clock, to: Path, ids: Ids = PROCESS_IDS) -> Record:
    """A new record that no disk holds yet, to be filled and copied to the file `to`, by whose name faults tell.

    Nothing in it is saved until that copy is whole, so that what fails is given up as a whole; and the rules that
    a row has by itself are held against all rows at once, when the copy is looked through. Raises RecordFault.
    """
    if sqlite3.sqlite_version_info < LEAST_SQLITE:
        raise fault(FaultKind.OLD_SQLITE, to)
    access, db = Access(to), connect_in_memory()
    _bring_up(db, access, clock)
    db.execute("PRAGMA ignore_check_constraints = ON")  # here only: the connection to the copy holds them
    return Record(access, clock, db, ids, read_only=False, in_parts=False)


def stands(access: Access, *, create: bool = False) -> bool:
    """Whether a record stands there; False where one is to be made, in place of nothing or of an empty file.

    Raises RecordFault.
    """
    path = access.path
    try:
        there = check_header(path)
    except RecordFault as found:
        if found.kind is FaultKind.MISSING and create:
            return False
        if found.kind is not FaultKind.NOT_SQLITE or not needs_passphrase(path):
            raise
        if access.passphrase is None:
            raise fault(FaultKind.PASSPHRASE_NEEDED, path) from None
        return True
    if not there and not create:
        raise fault(FaultKind.EMPTY, path)
    if there and access.passphrase is not None:
        raise fault(FaultKind.NOT_ENCRYPTED, path)
    return there


def _make_empty(path: Path) -> None:
    """An empty file that only its owner may read: SQLite gives its journals the same rights."""
    try:
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as error:
        raise fault_of_place(error, path) from None


def _open_to_write(access: Access, *, there: bool = True) -> sqlite3.Connection:
    """A connection that may write, looked at before it does: bringing in a journal would be writing already."""
    looked = not there or (unsettled(access.path) and _look_first(access))
    db = access.connect("rw")
    try:
        if not looked:
            _look(db, access)
    except BaseException:
        db.close()
        raise
    return db


def _look_first(access: Access) -> bool:
    """Look through a connection that cannot write. False where that needs a journal played back first."""
    with closing(access.connect("ro")) as db:
        try:
            _look(db, access)
        except Exception as error:
            if _wants_to_write(error):
                return False
            raise
    return True


def _open_to_read(access: Access) -> sqlite3.Connection:
    """A connection that writes nothing of its own; where it may, it tidies up its journal when it is closed."""
    try:
        check_writable(access.path)
    except RecordFault as bound:
        db = _open_bound(access, bound)
    else:
        db = _open_to_write(access)
        db.execute("PRAGMA query_only = ON")
    if db.execute("PRAGMA user_version").fetchone()[0] < schema.VERSION:
        db.close()
        raise fault(FaultKind.OLDER, access.path)
    return db


def _open_bound(access: Access, bound: RecordFault) -> sqlite3.Connection:
    """A connection to a file that may not be written to, or that lies where its journal may not."""
    for extra in ("", "&immutable=1"):  # as it is, then without a journal, which an unchanged file does not need
        db = access.connect("ro", extra)
        try:
            _look(db, access)
            return db
        except Exception as error:
            db.close()
            if not _wants_to_write(error):
                raise
            if unsettled(access.path):
                break
    raise bound


def _wants_to_write(error: Exception) -> bool:
    return code_of(error) & 0xFF in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)


def _look(db: sqlite3.Connection, access: Access) -> None:
    """Raise RecordFault for a file that is newer, damaged, or locked by another passphrase."""
    path = access.path
    try:
        version: int = db.execute("PRAGMA user_version").fetchone()[0]
        tables = {row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    except Exception as error:
        if access.passphrase is not None and code_of(error) == sqlite3.SQLITE_NOTADB:
            raise fault(FaultKind.PASSPHRASE, path) from None
        raise
    if db.execute("PRAGMA application_id").fetchone()[0] != schema.APPLICATION_ID:
        raise fault(FaultKind.NOT_OURS, path)
    if version > schema.VERSION:
        raise fault(FaultKind.NEWER, path)
    if version == schema.VERSION and not tables.issuperset(schema.TABLES):
        raise fault(FaultKind.DAMAGED, path)
    if path.stat().st_size <= CHECKED_WHOLE_BYTES and db.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise fault(FaultKind.DAMAGED, path)


def _bring_up(db: sqlite3.Connection, access: Access, clock: Clock) -> None:
    """Bring the schema up to date, with a backup first where there is anything to lose."""
    version = db.execute("PRAGMA user_version").fetchone()[0]
    if version == schema.VERSION:
        return
    from store.record.migrations import migrate  # costs 40 ms, and is seldom needed

    if version:
        backup_before(db, access.path, schema.VERSION)
    migrate(db, clock.now())


def _set_journal(db: sqlite3.Connection, path: Path) -> None:
    """WAL on a local disk; a rollback journal on a share, or where WAL cannot be had."""
    wanted = "DELETE" if on_share(path) else "WAL"
    try:
        db.execute(f"PRAGMA journal_mode = {wanted}").fetchone()
    except Exception as error:
        if code_of(error) & 0xFF == sqlite3.SQLITE_BUSY:
            return  # another window has it open in the mode it found: both go on in that one
        db.execute("PRAGMA journal_mode = DELETE").fetchone()
