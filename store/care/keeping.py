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


def check(path: Path | None) -> tuple[str, ...]:
    """What is wrong with a file, in sentences; none when it is whole. Writes nothing. Raises RecordFault."""
    return tuple(f"{finding.part}: {finding.says}" for finding in check_record(path or default_path()))


def merge(care: Care, other: Path) -> str:
    """Bring in the rows of another file, and say how many. Raises RecordFault."""
    done = merge_record(care.record, other)
    return f"{done.added} rows added, {done.amended} taken over in a later version, {done.kept} older ones kept"
