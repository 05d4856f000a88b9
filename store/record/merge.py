"""Bringing another file's rows into a record: nothing of either is lost, and doing it twice adds nothing.

Of a row amended in both, the highest revision stands and the others are amendments. Where a bout went on in both,
our events stand, and theirs are kept as amendments beside them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from store.record import schema
from store.record.access import Access
from store.record.backup import copy
from store.record.clinical import insert_sql
from store.record.faults import FaultKind, RecordFault
from store.record.file import open_record
from store.record.handle import Record

Values = dict[str, Any]

_KEPT = """SELECT 1 FROM amendment
WHERE row_table = :row_table AND row_id = :row_id AND was_revision = :was_revision"""
_ADD_RULES = """INSERT INTO rules (hash, data)
SELECT :hash, :data WHERE NOT EXISTS (SELECT 1 FROM rules WHERE hash = :hash)"""
_HAPPENED = """SELECT seq || ' ' || kind || ' ' || at_ms || ' ' || wall_at || ' ' || data
FROM bout_event WHERE bout = :bout ORDER BY seq"""
_BOUT_REVISED = """SELECT revision, revised_by, 'merged: it went on in two files', revised_at, revised_offset_min
FROM bout WHERE id = :bout"""


@dataclass(frozen=True, slots=True)
class Merged:
    """What a merge did: rows that are new here, rows whose later revision was theirs, and older ones now kept."""

    added: int
    amended: int
    kept: int


def merge(record: Record, other: Path, passphrase: str | None = None) -> Merged:
    """Take in all rows of another record, or none; their file is not written to. Raises RecordFault.

    `passphrase` is that of the other file, where it is encrypted.
    """
    if other.exists() and other.samefile(record.path):
        raise RecordFault(FaultKind.REFUSED, "This is the file that is open: name the other one.")
    with _to_read(record, Access(other, passphrase=passphrase)) as theirs, record.write_tx() as db:
        db.execute("PRAGMA defer_foreign_keys = ON")  # two episodes may be linked with each other
        kept = sum(_keep(record, row) for row in _rows(theirs, "amendment"))
        added = amended = 0
        for row in _rows(theirs, "rules"):
            added += db.execute(_ADD_RULES, row).rowcount
        for table in schema.CLINICAL:
            here = dict(db.execute(f"SELECT id, revision FROM {table}").fetchall())
            for row in _rows(theirs, table):
                revision = here.get(row["id"])
                if revision is None:
                    db.execute(insert_sql(table, row), row)
                    added += 1
                elif revision < row["revision"]:
                    _amend(record, table, row)
                    amended += 1
                elif revision > row["revision"]:
                    kept += _keep(record, _older(record, table, row))
        for bout, events in groupby(_rows(theirs, "bout_event", "bout, seq"), itemgetter("bout")):
            more, aside = _take_events(record, bout, list(events))
            added, kept = added + more, kept + aside
        return Merged(added, amended, kept)


@contextmanager
def _to_read(record: Record, other: Access) -> Iterator[Record]:
    """The other file, opened to be read; a copy brought up to date where it is older."""
    try:
        theirs = open_record(other.path, record.clock, read_only=True, passphrase=other.passphrase)
    except RecordFault as older:
        if older.kind is not FaultKind.OLDER:
            raise
    else:
        with theirs:
            yield theirs
        return
    with TemporaryDirectory() as folder:
        newer = Path(folder) / "newer.sqlite"
        with closing(other.connect("ro")) as db:
            copy(db, newer)
        with open_record(newer, record.clock, passphrase=other.passphrase) as theirs:
            yield theirs


def _rows(theirs: Record, table: str, order: str = "rowid") -> Iterator[Values]:
    cursor = theirs.db.execute(f"SELECT * FROM {table} ORDER BY {order}")
    names = [column[0] for column in cursor.description]
    for row in cursor:
        yield dict(zip(names, row, strict=True))


def _amend(record: Record, table: str, row: Values) -> None:
    """Their later revision of a row over ours; the trigger keeps ours."""
    pairs = ", ".join(f"{name} = :{name}" for name in row if name != "id")
    record.db.execute(f"UPDATE {table} SET {pairs} WHERE id = :id", row)


def _older(record: Record, table: str, row: Values) -> Values:
    """Their earlier revision of a row, as an amendment under the one that stands here."""
    standing = "SELECT revision, revised_by, revised_because, revised_at, revised_offset_min FROM"
    revised = record.db.execute(f"{standing} {table} WHERE id = :id", row).fetchone()
    return _amendment(table, row["id"], row["revision"], row, revised)


def _amendment(table: str, row_id: str, was_revision: str, was: Values, revised: tuple[Any, ...]) -> Values:
    names = ("revision", "revised_by", "revised_because", "revised_at", "revised_offset_min")
    return {
        "row_table": table,
        "row_id": row_id,
        "was_revision": was_revision,
        **dict(zip(names, revised, strict=True)),
        "was": json.dumps(was, ensure_ascii=False, separators=(",", ":")),
    }


def _keep(record: Record, amendment: Values) -> int:
    """Keep an amendment unless it is kept already; how many were added."""
    if record.db.execute(_KEPT, amendment).fetchone():
        return 0
    record.db.execute(insert_sql("amendment", amendment), amendment)
    return 1


def _take_events(record: Record, bout: str, theirs: list[Values]) -> tuple[int, int]:
    """Add what happened in a bout after our last event, or keep it beside ours: how many were added, and kept."""
    ours = [row[0] for row in record.db.execute(_HAPPENED, {"bout": bout})]
    alike = 0
    while alike < min(len(ours), len(theirs)) and ours[alike] == _happened(theirs[alike]):
        alike += 1
    if alike == len(ours):
        for row in theirs[alike:]:
            record.db.execute(insert_sql("bout_event", row), row)
        return len(theirs) - alike, 0
    revised = record.db.execute(_BOUT_REVISED, {"bout": bout}).fetchone()
    aside = (
        _amendment("bout_event", f"{bout} {row['seq']}", _happened(row), row, revised) for row in theirs[alike:]
    )
    return 0, sum(_keep(record, amendment) for amendment in aside)


def _happened(event: Values) -> str:
    return f"{event['seq']} {event['kind']} {event['at_ms']} {event['wall_at']} {event['data']}"
