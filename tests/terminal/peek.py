"""Reads the file of a running program from outside, as any SQLite tool would."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

Plain = str | int | float | bytes | None


def rows(file: Path, sql: str, *values: Plain) -> list[tuple[Any, ...]]:
    """Rows of a query on a file that another program may have open. Opens it read-only and closes it again."""
    with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True, timeout=5.0)) as connection:
        return connection.execute(sql, values).fetchall()


def one(file: Path, sql: str, *values: Plain) -> Plain:
    """The only value of a query. Raises LookupError unless there is exactly one row."""
    found = rows(file, sql, *values)
    if len(found) != 1:
        raise LookupError(f"{len(found)} rows instead of one: {sql}")
    value: Plain = found[0][0]
    return value
