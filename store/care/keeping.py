"""Looking after the file itself: a backup, a check, another copy brought in."""

from __future__ import annotations

from pathlib import Path

from store.care.care import Care
from store.record.backup import backup as copy_record
from store.record.check import check as check_record
from store.record.file import default_path
from store.record.merge import merge as merge_record


def backup(care: Care, to: Path | None) -> Path:
    """Copy the record to a new file or into a folder; beside itself by default. Raises RecordFault."""
    return copy_record(care.record, to or care.record.path.parent)


def check(path: Path | None, passphrase: str | None = None) -> tuple[str, ...]:
    """What is wrong with a file, in sentences; none when it is whole. Writes nothing. Raises RecordFault."""
    found = check_record(path or default_path(), passphrase)
    return tuple(f"{finding.part}: {finding.says}" for finding in found)


def merge(care: Care, other: Path) -> str:
    """Bring in the rows of another file, and say how many. Raises RecordFault."""
    done = merge_record(care.record, other)
    if not (done.added or done.amended or done.kept):
        return "nothing new: all of it is here already"
    added = f"{done.added} {'row' if done.added == 1 else 'rows'} added"
    return f"{added}, {done.amended} taken over in a later version, {done.kept} earlier versions kept beside ours"


def is_there(path: Path | None) -> bool:
    """Whether something stands under the name of a record already."""
    return (path or default_path()).exists()
