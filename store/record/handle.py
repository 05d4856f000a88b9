"""An open record: one connection, one way to write, one way to read."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from types import TracebackType
from typing import Any

from store.knowledge.time import Clock
from store.record.access import Access
from store.record.faults import FaultKind, RecordFault, fault, fault_of
from store.record.uuid7 import Ids

Row = tuple[Any, ...]
Values = Mapping[str, Any]

_Marks = tuple[str, str, list[str]]  # how it begins, how it ends, and what takes it back

_WHOLE: _Marks = ("BEGIN IMMEDIATE", "COMMIT", ["ROLLBACK"])
_NOTHING: _Marks = ("", "", [])
_PART: _Marks = ("SAVEPOINT part", "RELEASE part", ["ROLLBACK TO part", "RELEASE part"])


class Record:
    """An open file. Belongs to the thread that opened it; `journal` is the journal mode in force, `made` that
    there was none before it was opened.

    With `in_parts` a part of a transaction that fails is taken back alone; else only the whole of it can be, which
    saves a mark at each part.
    """

    def __init__(
        self,
        access: Access,
        clock: Clock,
        db: sqlite3.Connection,
        ids: Ids,
        *,
        read_only: bool,
        in_parts: bool = True,
        made: bool = False,
    ) -> None:
        self.access = access
        self.path = access.path
        self.clock = clock
        self.db = db
        self.ids = ids
        self.read_only = read_only
        self.made = made
        self._in_parts = in_parts
        self.journal = str(db.execute("PRAGMA journal_mode").fetchone()[0])
        self._damaged = False
        self._seen = self._data_version()

    def new_id(self, after: str = "") -> str:
        """The next UUIDv7; greater than `after` too, so that a clock set back makes no older revision win."""
        return self.ids.next(self.clock.now().at, after)

    @contextmanager
    def write_tx(self, *, single: bool = False) -> Iterator[sqlite3.Connection]:
        """One transaction that begins IMMEDIATE: all that is written in it stands, on disk, or nothing of it.

        Within another one it is a part of it: what fails takes back its own part only (see `in_parts`), as a
        `single` statement does by itself. Raises RecordFault.
        """
        if self.read_only:
            raise fault(FaultKind.READ_ONLY, self.path)
        if self._damaged:
            raise fault(FaultKind.DAMAGED, self.path)
        within = self.db.in_transaction
        begin, end, undo = _WHOLE if not within else _NOTHING if single or not self._in_parts else _PART
        try:
            if begin:
                self.db.execute(begin)
            yield self.db
            if end:
                self.db.execute(end)
        except BaseException as error:
            if self.db.in_transaction:  # a full disk may have taken all of it back already
                for statement in undo:
                    self.db.execute(statement)
            self._raise_fault(error)
            raise

    def read(self, sql: str, values: Values) -> list[Row]:
        """All rows of a SELECT with named values. Raises RecordFault."""
        try:
            return self.db.execute(sql, values).fetchall()
        except Exception as error:
            self._raise_fault(error)
            raise

    def read_one(self, sql: str, values: Values) -> Row | None:
        """The first row of a SELECT with named values, or None. Raises RecordFault."""
        rows = self.read(sql, values)
        return rows[0] if rows else None

    def changed_elsewhere(self) -> bool:
        """Whether another window has changed the file since this was last asked; not yet while it still writes."""
        before = self._seen
        try:
            self._seen = self._data_version()
        except RecordFault as busy:
            if busy.kind is not FaultKind.LOCKED:
                raise
        return before != self._seen

    def _data_version(self) -> int:
        return int(self.read("PRAGMA data_version", {})[0][0])

    def _raise_fault(self, error: BaseException) -> None:
        """Raise the fault behind a driver's error; other errors are left to the caller to raise again."""
        found = fault_of(error, self.path)
        if found is None:
            return
        if found.kind is FaultKind.DAMAGED:
            self._damaged = True  # nothing more is written to it
        raise found from error

    def close(self) -> None:
        """Close the file; everything saved is on disk already."""
        self.db.close()

    def __enter__(self) -> Record:
        """The record itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close the file."""
        self.close()
