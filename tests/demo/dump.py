"""What stands in a record, table by table: the content, whatever the pages of the file look like."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

Rows = list[tuple[object, ...]]


def content(path: Path) -> dict[str, Rows]:
    """Every row of every table, in the order of its key, and the statements that made the schema."""
    with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as db:
        schema = db.execute("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name").fetchall()
        tables = [name for kind, name, _ in schema if kind == "table" and not name.startswith("sqlite_")]
        found = {name: sorted(db.execute(f'SELECT * FROM "{name}"').fetchall(), key=repr) for name in tables}
        return {"sqlite_schema": schema, **found}


def pragma(path: Path, name: str) -> object:
    """One of the file's own settings."""
    with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as db:
        return db.execute(f"PRAGMA {name}").fetchone()[0]
