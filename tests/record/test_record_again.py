"""A record opened again by the same process, for another thread: other programs still see that it is open."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_again, open_record
from store.record.people import add_person, find_people

LOOKS_IN = """
import sqlite3, sys
from contextlib import closing
with closing(sqlite3.connect(sys.argv[1])) as db:
    print(db.execute("select count(*) from person").fetchone()[0])
"""


def another_program_looks_in(path: Path) -> int:
    """How many people it counts. It opens the file and, when it is done, closes it."""
    return int(subprocess.run([sys.executable, "-c", LOOKS_IN, path], capture_output=True, check=True).stdout)


def labels(record: Record) -> list[str]:
    return [person.label for person in find_people(record, "")]


def test_what_one_writes_the_other_reads(record: Record) -> None:
    with open_again(record) as again:
        add_person(again, Person("", "R.K."))
        assert labels(record) == ["R.K."]
        assert again.journal == record.journal
        assert again.read("PRAGMA synchronous", {}) == [(2,)]


def test_another_program_that_closes_the_file_does_not_take_its_journal_away(record: Record) -> None:
    open_again(record).close()
    add_person(record, Person("", "R.K."))
    assert another_program_looks_in(record.path) == 1
    add_person(record, Person("", "T.M."))
    assert another_program_looks_in(record.path) == 2
    with closing(sqlite3.connect(record.path)) as db:
        assert db.execute("select count(*) from person").fetchone() == (2,)


def test_an_encrypted_one_needs_no_passphrase_twice(tmp_path: Path, clock: SetClock) -> None:
    pytest.importorskip("sqlcipher3", reason="the extra `encrypted` is not installed")
    path = tmp_path / "encrypted.sqlite"
    with open_record(path, clock, create=True, passphrase="heel down") as record, open_again(record) as again:
        add_person(again, Person("", "R.K."))
        assert labels(record) == ["R.K."]


def test_one_that_is_only_read_cannot_be_written_by_another_thread(record: Record, clock: SetClock) -> None:
    with open_record(record.path, clock, read_only=True) as read, pytest.raises(RecordFault) as refused:
        open_again(read)
    assert refused.value.kind is FaultKind.READ_ONLY
