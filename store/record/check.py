"""Whether a record is whole: the file, what refers to what, what keeps the original, and the originals kept."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory

from store.record import schema
from store.record.access import Access
from store.record.faults import FaultKind, RecordFault, code_of, fault
from store.record.file import stands
from store.record.handle import Record
from store.record.place import check_writable, unsettled
from store.record.triggers import OUR_TRIGGERS, expected_triggers
from store.record.views import OUR_VIEWS, VIEW_SQL


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that is not as it should be: which part of the check found it, and what, in a sentence."""

    part: str
    says: str


def check(record_or_path: Record | Path, passphrase: str | None = None) -> list[Finding]:
    """All that is wrong with a record; an empty list when it is whole. Writes and leaves nothing.

    Raises RecordFault for a path where no record stands, or one that the passphrase does not open.
    """
    if isinstance(record_or_path, Record):
        return _findings(record_or_path.db)
    access = Access(record_or_path, passphrase=passphrase)
    stands(access)
    with _left_alone(access) as db:
        if passphrase is not None and not _opened(db):
            raise fault(FaultKind.PASSPHRASE, record_or_path)
        return _findings(db)


@contextmanager
def _left_alone(access: Access) -> Iterator[sqlite3.Connection]:
    """A connection that writes nothing and, once closed, has left nothing beside the file that was not there.

    One that can only read makes what a WAL wants beside the file, and cannot take it away; one that could write
    does, unless another program has come to use it. A WAL that was left by a killed program is brought in by no
    look at it: where that left no index of it, a copy is looked at.
    """
    access = Access(access.path.resolve(), passphrase=access.passphrase)  # beside the file, and not beside a link
    wal, index = (access.path.with_name(access.path.name + ending) for ending in ("-wal", "-shm"))
    with ExitStack() as stack:
        if wal.exists() and not index.exists():
            folder = Path(stack.enter_context(TemporaryDirectory()))
            for part in (access.path, wal):
                copyfile(part, folder / part.name)
            access = Access(folder / access.path.name, passphrase=access.passphrase)
        how = ("ro", "")
        if not wal.exists() and not unsettled(access.path):
            how = ("rw", "") if _may_write(access.path) else ("ro", "&immutable=1")
        db = stack.enter_context(closing(access.connect(*how)))
        db.execute("PRAGMA query_only = ON")
        yield db


def _may_write(path: Path) -> bool:
    try:
        check_writable(path)
    except RecordFault:
        return False
    return True


def _opened(db: sqlite3.Connection) -> bool:
    """Whether the passphrase fits, which the first read shows."""
    try:
        db.execute("PRAGMA user_version").fetchone()
    except Exception as error:
        if code_of(error) != sqlite3.SQLITE_NOTADB:
            raise
        return False
    return True


def _findings(db: sqlite3.Connection) -> list[Finding]:
    found: list[Finding] = []
    try:
        found += _whole(db)
        if not found:  # the rest makes sense only of a whole file of this version
            found += [*_guarded(db), *_belonging(db), *_kept_originals(db), *_events_in_order(db)]
    except Exception as error:
        if not code_of(error):
            raise
        found.append(Finding("damaged", f"the file cannot be read through: {error}"))
    return found


def _whole(db: sqlite3.Connection) -> Iterator[Finding]:
    if db.execute("PRAGMA application_id").fetchone()[0] != schema.APPLICATION_ID:
        yield Finding("application_id", "the header does not say that the file is ours")
    version = db.execute("PRAGMA user_version").fetchone()[0]
    if version != schema.VERSION:
        yield Finding("user_version", f"the schema is {version}, this copy of bothfeet reads {schema.VERSION}")
    for (line,) in db.execute("PRAGMA integrity_check"):
        if line != "ok":
            yield Finding("damaged", str(line))
    there = {row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    for table in schema.TABLES:
        if table not in there:
            yield Finding("tables", f"the table {table} is missing")


def _guarded(db: sqlite3.Connection) -> Iterator[Finding]:
    """What keeps the original must stand exactly as the columns call for."""
    triggers = dict(db.execute(OUR_TRIGGERS).fetchall())
    for name, sql in expected_triggers(db).items():
        if triggers.get(name) != sql:
            yield Finding(
                "triggers", f"the trigger {name} is missing or not ours: corrections may lose the original"
            )
    views = dict(db.execute(OUR_VIEWS).fetchall())
    for name, sql in VIEW_SQL.items():
        if views.get(name) != sql:
            yield Finding("views", f"the view {name} is missing or not ours")


_OF_ANOTHER = """SELECT '{table}', {table}.id FROM {table} JOIN {parent} ON {parent}.id = {table}.{parent}
WHERE {parent}.person <> {table}.person"""
_PARENTS = (
    ("visit", "episode"),
    ("bout", "episode"),
    ("bout", "visit"),
    ("reading", "episode"),
    ("reading", "visit"),
    ("reading", "bout"),
)


def _belonging(db: sqlite3.Connection) -> Iterator[Finding]:
    for table, rowid, parent, _ in db.execute("PRAGMA foreign_key_check"):
        yield Finding("foreign keys", f"row {rowid} of {table} refers to a {parent} that is not there")
    for table, parent in _PARENTS:
        for _, row_id in db.execute(_OF_ANOTHER.format(table=table, parent=parent)):
            yield Finding("person", f"the {table} {row_id} belongs to another person than its {parent}")


_LOST = "SELECT id FROM {table} WHERE revised_because <> '' AND id NOT IN (SELECT row_id FROM amendment)"
_ASTRAY = """SELECT row_id, was_revision FROM amendment LEFT JOIN {table} ON {table}.id = amendment.row_id
WHERE row_table = '{table}' AND ({table}.id IS NULL OR amendment.revision <= was_revision
  OR was_revision >= {table}.revision OR json_extract(was, '$.id') <> row_id
  OR json_extract(was, '$.revision') <> was_revision)"""


def _kept_originals(db: sqlite3.Connection) -> Iterator[Finding]:
    for table in schema.CLINICAL:
        for (row_id,) in db.execute(_LOST.format(table=table)):
            yield Finding("amendments", f"the {table} {row_id} was corrected, and what stood before is not there")
        for row_id, revision in db.execute(_ASTRAY.format(table=table)):
            yield Finding("amendments", f"what the {table} {row_id} was at {revision} does not fit what it is now")


_GAPS = """SELECT bout FROM bout_event GROUP BY bout
HAVING min(seq) > 1 OR max(seq) - min(seq) + 1 <> count(*)"""


def _events_in_order(db: sqlite3.Connection) -> Iterator[Finding]:
    for (bout,) in db.execute(_GAPS):
        yield Finding("bout events", f"events of the bout {bout} are missing")
