"""Encryption at rest, by SQLCipher's build of the same interface: the extra `encrypted`.

The whole file is encrypted page by page, its journals too. The passphrase is kept in memory alone, for a second
connection to the same file.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import cast

from store.record.faults import FaultKind, fault
from store.record.place import MAGIC

_PAGE = 4096
_SPREAD = 200
"""Of the 256 values of a byte nearly all stand in an encrypted page, in text and in most files far fewer."""


def needs_passphrase(path: Path) -> bool:
    """Whether the file looks encrypted: whole pages of bytes without any pattern. Some other files look so too."""
    try:
        size = path.stat().st_size
        with path.open("rb") as file:
            first = file.read(_PAGE)
    except OSError:
        return False
    whole = size >= _PAGE and size % _PAGE == 0
    return whole and not first.startswith(MAGIC) and len(set(first)) >= _SPREAD


def connect_encrypted(path: Path, uri: str, timeout_s: float, passphrase: str) -> sqlite3.Connection:
    """A connection with its key; whether that fits shows at the first read. RecordFault without the extra."""
    try:
        from sqlcipher3 import dbapi2
    except ImportError:
        raise fault(FaultKind.NO_CIPHER, path) from None
    if not passphrase:
        raise fault(FaultKind.PASSPHRASE, path)
    db = dbapi2.connect(uri, uri=True, isolation_level=None, timeout=timeout_s)
    db.execute("PRAGMA cipher_log_level = NONE")  # it would write over the screen
    quoted = passphrase.replace("'", "''")
    db.execute(f"PRAGMA key = '{quoted}'")  # takes no bound value
    return cast(sqlite3.Connection, db)
