"""Amendments: what stood before each correction of a row."""

from __future__ import annotations

import json

from store.knowledge.time import Stamp
from store.knowledge.words import Amendment
from store.record.handle import Record, Row

COLUMNS = "row_table, row_id, revision, revised_by, revised_because, revised_at, revised_offset_min, was"
OF_ROW = f"""SELECT {COLUMNS}
FROM amendment WHERE row_table = :row_table AND row_id = :row_id ORDER BY was_revision"""


def amendments_of(record: Record, table: str, row_id: str) -> list[Amendment]:
    """What a row was before each correction, the oldest first; `was` has the columns of the row as stored."""
    rows = record.read(OF_ROW, {"row_table": table, "row_id": row_id})
    return [amendment_of(row) for row in rows]


def amendment_of(row: Row) -> Amendment:
    """An amendment from its columns, in the order of the reads here."""
    row_table, row_id, revision, by, because, at, offset, was = row
    return Amendment(row_table, row_id, revision, by, because, Stamp.read(at, offset), json.loads(was))
