"""Looking after the file itself: a backup, a check, another copy brought in."""

from __future__ import annotations

from pathlib import Path

from store.care.care import Care, kept_examiner, name_examiner
from store.care.in_words import many, visible
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


def merge(care: Care, other: Path, passphrase: str | None = None) -> str:
    """Bring in what stands in another file, and say how much; `passphrase` is that file's. Raises RecordFault."""
    done = merge_record(care.record, other, passphrase)
    theirs = kept_examiner(care)
    if care.examiner and theirs != care.examiner:
        name_examiner(care, care.examiner)  # who examines here is not whoever examined last there
    if not (done.added or done.amended or done.kept):
        return "nothing new: all of it is here already"
    said = [f"{done.added} {'entry' if done.added == 1 else 'entries'} added"]
    said += [f"{done.amended} replaced by their later version"] if done.amended else []
    said += [f"{many(done.kept, 'earlier version')} kept beside"] if done.kept else []
    if theirs and not care.examiner:
        said.append(f"the examiner is now {visible(theirs)}, and --examiner names another")
    return "; ".join(said)


def is_there(path: Path | None) -> bool:
    """Whether something stands under the name of a record already."""
    return (path or default_path()).exists()
