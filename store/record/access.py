"""How a file is reached: the one place where connections are made."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote

from store.record.cipher import connect_encrypted
from store.record.text import fold

BUSY_MS = 2000
"""How long another program's lock is waited for."""


@dataclass(frozen=True, slots=True)
class Access:
    """A file, and what is needed to open it. The passphrase does not show with it."""

    path: Path
    busy_ms: int = BUSY_MS
    passphrase: str | None = field(default=None, repr=False)

    def connect(self, mode: str, extra: str = "") -> sqlite3.Connection:
        """A connection that only reads (`ro`) or writes too (`rw`), with our settings; it has read nothing yet."""
        uri = f"file:{quote(str(self.path.absolute()))}?mode={mode}{extra}"
        if self.passphrase is None:
            db = sqlite3.connect(uri, uri=True, isolation_level=None, timeout=self.busy_ms / 1000)
        else:
            db = connect_encrypted(self.path, uri, self.busy_ms / 1000, self.passphrase)
        return _set(db)


def connect_in_memory() -> sqlite3.Connection:
    """A connection to no file, with our settings."""
    return _set(sqlite3.connect(":memory:", isolation_level=None))


def _set(db: sqlite3.Connection) -> sqlite3.Connection:
    db.execute("PRAGMA foreign_keys = ON")
    db.execute("PRAGMA temp_store = MEMORY")  # no row ever lies in a file beside the record
    db.create_function("fold", 1, fold, deterministic=True)
    return db
