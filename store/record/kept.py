"""Clinical rows of one table as tuples with names: added, amended, retracted, found by id, all in the same way."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Generic, NamedTuple, Protocol, Self, TypeVar

from store.knowledge.time import Stamp
from store.record import clinical
from store.record.handle import Record, Row

UNDONE = "taken back by undo"
"""Why a row was amended where somebody undid what was done."""


class Kept(Protocol):
    """What every such object has. `retracted` marks one that was taken back and stays in the file."""

    @property
    def id(self) -> str:
        """UUIDv7; empty until it is added."""

    @property
    def retracted(self) -> Stamp | None:
        """When it was taken back."""

    @property
    def revision(self) -> str:
        """UUIDv7 of its last amendment."""

    def _replace(self, *args: Any, **kwargs: Any) -> Self:  # noqa: ANN401 - its columns by name, as a tuple's
        """The same with other values."""


T = TypeVar("T", bound=Kept)


class Shelf(NamedTuple, Generic[T]):
    """One table: its name, its columns in order, and how a row becomes an object and back.

    `of` takes a row of `columns`; `values` gives all columns but those of the revision.
    """

    table: str
    columns: str
    of: Callable[[Row], T]
    values: Callable[[T], Mapping[str, Any]]

    def add(self, record: Record, one: T, *, by: str) -> T:
        """Keep a new one; without an id it gets the next. Raises RecordFault."""
        given = one._replace(id=one.id or record.new_id(), revision=record.new_id())
        clinical.add(record, self.table, [dict(self.values(given))], given.revision, by)
        return given

    def revise(self, record: Record, one: T, *, by: str, because: str) -> T:
        """Amend one as read at its revision. Raises RecordFault when it was amended meanwhile."""
        values = dict(self.values(one))
        revision = clinical.amend(record, self.table, values, one.revision, by, because)
        return one._replace(revision=revision)

    def retract(self, record: Record, one: T, *, by: str, because: str) -> T:
        """Take one back: it stays in the file, marked. Raises RecordFault when it was amended meanwhile."""
        taken_back = one._replace(retracted=record.clock.now())
        return self.revise(record, taken_back, by=by, because=because)

    def take_back(self, record: Record, before: T | None, after: T, *, by: str) -> T:
        """Undo an act: what stood before it stands again; None: it was new and is retracted. `after` is what the
        act left. Raises RecordFault when it was amended since.
        """
        if before is None:
            return self.retract(record, after, by=by, because=UNDONE)
        back = before._replace(revision=after.revision)
        return self.revise(record, back, by=by, because=UNDONE)

    def get(self, record: Record, one_id: str) -> T | None:
        """The one with this id, retracted or not, if there is one."""
        row = record.read_one(f"SELECT {self.columns} FROM {self.table} WHERE id = :id", {"id": one_id})
        return self.of(row) if row else None

    def select(self, rest: str) -> str:
        """The SELECT of those that stand and answer to a condition; `rest` follows WHERE, with its order."""
        return f"SELECT {self.columns} FROM {self.table} WHERE retracted_at IS NULL AND {rest}"

    def found(self, record: Record, sql: str, values: Mapping[str, Any]) -> list[T]:
        """The objects of a SELECT that `select` made."""
        return [self.of(row) for row in record.read(sql, dict(values))]
