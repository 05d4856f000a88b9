"""What many tests begin with is made once in a run, by the same acts, and copied for each of them.

Identifiers only go up within a process, so what is made after a copy still sorts after what was copied.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Hashable
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import TypeVar, cast

from store.care.care import Care, open_care
from store.knowledge.time import SetClock
from tests.helpers.passing import passing_folder

Made = TypeVar("Made")

_KEPT: dict[Hashable, tuple[sqlite3.Connection, object]] = {}


def new_record(path: Path, clock: SetClock, examiner: str = "AB") -> Care:
    """An empty record, open for work."""
    path.write_bytes(_empty(clock.now().at))
    return open_care(path, clock, examiner=examiner)


@cache
def _empty(at: datetime) -> bytes:
    path = passing_folder() / "empty.sqlite"
    open_care(path, SetClock(at), create=True).close()
    return path.read_bytes()


def once(care: Care, key: Hashable, make: Callable[[], Made]) -> Made:
    """What `make` puts into the record and gives back; the key says what it is. A record with people in it is
    not copied over: there it is made anew.
    """
    db = care.record.db
    if db.execute("SELECT 1 FROM person LIMIT 1").fetchone():
        return make()
    if key in _KEPT:
        copy, made = _KEPT[key]
        copy.backup(db)
        return cast("Made", made)
    found = make()
    copy = sqlite3.connect(":memory:")
    db.backup(copy)
    _KEPT[key] = copy, found
    return found
