"""What can go wrong with the file, each as one sentence that says what to do."""

from __future__ import annotations

import errno
import sqlite3
from enum import StrEnum
from pathlib import Path


class FaultKind(StrEnum):
    """What went wrong, for the program; the sentence is for the person."""

    MISSING = "missing"
    EMPTY = "empty"
    NO_FOLDER = "no folder"
    FOLDER = "a folder"
    NOT_SQLITE = "not SQLite"
    NOT_OURS = "not ours"
    DAMAGED = "damaged"
    NEWER = "newer"
    OLDER = "older"
    OLD_SQLITE = "SQLite too old"
    READ_ONLY = "read-only"
    READ_ONLY_FOLDER = "in a read-only folder"
    LOCKED = "locked"
    FULL = "disk full"
    UNREACHABLE = "unreachable"
    FORBIDDEN = "may not be read"
    REFUSED = "refused"
    CHANGED = "changed meanwhile"
    EXISTS = "exists already"
    PASSPHRASE = "wrong passphrase"
    PASSPHRASE_NEEDED = "passphrase needed"
    NOT_ENCRYPTED = "not encrypted"
    NO_CIPHER = "encryption not installed"


class RecordFault(Exception):
    """The record cannot do this: one clear sentence that says what to do. Nothing was changed."""

    def __init__(self, kind: FaultKind, sentence: str) -> None:
        super().__init__(sentence)
        self.kind = kind


_SENTENCES = {
    FaultKind.MISSING: "There is no file {path}: check the name, or make a new record.",
    FaultKind.EMPTY: "{path} is empty, no record stands in it: check the name, or bring back your backup.",
    FaultKind.NO_FOLDER: "There is no folder {folder}: make that folder first, or check the name.",
    FaultKind.EXISTS: "{path} is there already and stays as it is: name another file.",
    FaultKind.FOLDER: "{path} is a folder: name the file in it.",
    FaultKind.NOT_SQLITE: (
        "{path} is no record of bothfeet nor any SQLite file, and was not touched: name another."
    ),
    FaultKind.NOT_OURS: "{path} is the file of another program; it stays as it is: name a record of bothfeet.",
    FaultKind.DAMAGED: "{path} is damaged and nothing will be written to it: keep it, and open your last backup.",
    FaultKind.NEWER: "{path} was made by a newer bothfeet and stays as it is: update bothfeet to open it.",
    FaultKind.OLDER: "{path} was made by an older bothfeet: open it once for writing; a backup is kept beside it.",
    FaultKind.OLD_SQLITE: "To open {path}, Python must come with SQLite 3.37 or later: use a newer Python.",
    FaultKind.READ_ONLY: "{path} may only be read: allow writing to it, or save a copy where you may write.",
    FaultKind.READ_ONLY_FOLDER: (
        "The folder of {path} may not be written to, and a record needs it: move the file to a folder of your own."
    ),
    FaultKind.LOCKED: "Another program keeps {path} locked; nothing was saved: close that program and try again.",
    FaultKind.FULL: "The disk is full: this was not saved, all before it is safe. Free some space and save again.",
    FaultKind.UNREACHABLE: "{path} cannot be read or written just now: check that its disk or share is there.",
    FaultKind.FORBIDDEN: "You are not permitted to read {path}: ask its owner for permission, or name another.",
    FaultKind.PASSPHRASE: "This passphrase does not open {path}: type it again, or name another file.",
    FaultKind.PASSPHRASE_NEEDED: (
        "{path} is encrypted, or is no record of bothfeet: give its passphrase, or name another file."
    ),
    FaultKind.NOT_ENCRYPTED: "{path} is not encrypted: open it without a passphrase.",
    FaultKind.NO_CIPHER: "{path} is encrypted: to open it, install bothfeet with its extra named encrypted.",
}


def fault(kind: FaultKind, path: Path) -> RecordFault:
    """The fault of this kind with its usual sentence."""
    return RecordFault(kind, _SENTENCES[kind].format(path=path, folder=path.parent))


_BY_WHOLE_CODE = {
    sqlite3.SQLITE_READONLY_DIRECTORY: FaultKind.READ_ONLY_FOLDER,
    sqlite3.SQLITE_READONLY_CANTINIT: FaultKind.READ_ONLY_FOLDER,
    sqlite3.SQLITE_IOERR_SHMSIZE: FaultKind.FULL,  # no room for the memory that windows share
}
_BY_CODE = {
    sqlite3.SQLITE_BUSY: FaultKind.LOCKED,
    sqlite3.SQLITE_LOCKED: FaultKind.LOCKED,
    sqlite3.SQLITE_PROTOCOL: FaultKind.LOCKED,
    sqlite3.SQLITE_READONLY: FaultKind.READ_ONLY,
    sqlite3.SQLITE_PERM: FaultKind.READ_ONLY,
    sqlite3.SQLITE_AUTH: FaultKind.READ_ONLY,
    sqlite3.SQLITE_FULL: FaultKind.FULL,
    sqlite3.SQLITE_CORRUPT: FaultKind.DAMAGED,
    sqlite3.SQLITE_NOTADB: FaultKind.DAMAGED,
    sqlite3.SQLITE_CANTOPEN: FaultKind.UNREACHABLE,
    sqlite3.SQLITE_IOERR: FaultKind.UNREACHABLE,
    sqlite3.SQLITE_NOLFS: FaultKind.FULL,
}


def code_of(error: BaseException) -> int:
    """The code that SQLite gave with an error, whichever of its builds it came from; 0 for any other error."""
    return int(getattr(error, "sqlite_errorcode", 0))


def fault_of(error: BaseException, path: Path) -> RecordFault | None:
    """The fault behind an error of the database driver, or None where the error is a mistake of the program.

    What a CHECK or a trigger refuses comes with the words of that rule.
    """
    code = code_of(error)
    if code & 0xFF == sqlite3.SQLITE_CONSTRAINT:
        rule = str(error).removeprefix("CHECK constraint failed: ")
        if code == sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY:
            rule = "it refers to something that is not in the record"
        return RecordFault(FaultKind.REFUSED, f"This was not saved: {rule}.")
    kind = _BY_WHOLE_CODE.get(code) or _BY_CODE.get(code & 0xFF)
    return fault(kind, path) if kind else None


def fault_of_place(error: OSError, path: Path) -> RecordFault:
    """The fault behind an error of the system when a new file was to be made."""
    if isinstance(error, FileExistsError):
        return fault(FaultKind.EXISTS, path)
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        return fault(FaultKind.NO_FOLDER, path)
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return fault(FaultKind.FULL, path)
    return fault(FaultKind.READ_ONLY_FOLDER, path)
