"""The two ways a clinical row is written: added under its first revision, or amended under a later one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

from store.record.faults import FaultKind, RecordFault
from store.record.handle import Record
from store.record.rows import instant

Values = dict[str, Any]


def insert_sql(table: str, values: Values) -> str:
    """The INSERT of a row of these columns, with named values."""
    return _insert_of(table, tuple(values))


@cache
def _insert_of(table: str, names: tuple[str, ...]) -> str:
    return f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join(':' + name for name in names)})"


def _update_sql(table: str, values: Values) -> str:
    pairs = ", ".join(f"{name} = :{name}" for name in values if name != "id")
    return f"UPDATE {table} SET {pairs} WHERE id = :id AND revision = :was_revision"


def _revised(record: Record, revision: str, by: str, because: str) -> Values:
    now = instant("revised", record.clock.now(), local_date=False)
    return {"revision": revision, "revised_by": by, "revised_because": because, **now}


def add(record: Record, table: str, rows: Sequence[Values], revision: str, by: str) -> None:
    """Add rows, one or more, in one transaction, all under one revision. Raises RecordFault."""
    revised = _revised(record, revision, by, "")
    sql = insert_sql(table, rows[0] | revised)
    with record.write_tx(single=len(rows) == 1) as db:
        for row in rows:
            db.execute(sql, row | revised)


def amend(record: Record, table: str, row: Values, was_revision: str, by: str, because: str) -> str:
    """Amend a row that stands at `was_revision`; return its new revision. The old row goes to `amendment`.

    Raises ValueError without a reason, and RecordFault when the row has been amended since it was read.
    """
    if not because.strip():
        raise ValueError("an amendment needs its reason")
    revision = record.new_id(was_revision)
    whole = row | _revised(record, revision, by, because)
    with record.write_tx(single=True) as db:
        done = db.execute(_update_sql(table, whole), whole | {"was_revision": was_revision})
        if done.rowcount != 1:
            raise RecordFault(
                FaultKind.CHANGED, f"This {table} was changed in another window meanwhile: look at it again first."
            )
    return revision
