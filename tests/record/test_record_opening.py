"""Opening: private, durable, quick, and without what is only needed to make a file."""

from __future__ import annotations

import os
import random
import sqlite3
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record import people
from store.record.backup import copy
from store.record.check import check
from store.record.faults import RecordFault
from store.record.file import Record, default_path, open_in_memory, open_record
from store.record.place import on_share, share_among
from store.record.uuid7 import Ids

MOUNTS = """\
/dev/sda1 / ext4 rw 0 0
server:/people /srv/people nfs4 rw 0 0
/dev/sdb1 /srv/people/stick vfat rw 0 0
//server/clinic /mnt/our\\040clinic cifs rw 0 0
host /mnt/host fuse.vmhgfs-fuse rw 0 0
short
"""


def pragma(record: Record, name: str) -> object:
    return record.db.execute(f"PRAGMA {name}").fetchone()[0]


def test_the_settings_that_keep_what_was_saved(record: Record) -> None:
    assert pragma(record, "foreign_keys") == 1
    assert pragma(record, "synchronous") == 2  # FULL
    assert pragma(record, "journal_mode") == record.journal == "wal"
    assert pragma(record, "busy_timeout") == 2000


def test_a_record_in_memory_holds_its_rules_and_becomes_a_whole_file(clock: SetClock, tmp_path: Path) -> None:
    to = tmp_path / "record.sqlite"
    with open_in_memory(clock, to, Ids(random.Random(1).getrandbits)) as record:
        assert pragma(record, "foreign_keys") == 1
        person = people.add_person(record, Person("", "R.K."))
        with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
            record.db.execute("DELETE FROM person")
        assert not to.exists()
        copy(record.db, to)
    assert check(to) == []
    with open_record(to, clock) as opened:
        assert people.person(opened, person.id) == person


@pytest.mark.parametrize(
    "wrong",
    [
        "UPDATE person SET label = ' ', revision = 'z'",
        "UPDATE person SET revised_at = '2026-11-25', revision = 'z'",
        "INSERT INTO rules (hash, data) VALUES ('', '[]')",
    ],
)
def test_a_record_in_memory_becomes_no_file_where_a_row_breaks_a_rule(
    clock: SetClock, tmp_path: Path, wrong: str
) -> None:
    to = tmp_path / "record.sqlite"
    with open_in_memory(clock, to) as record:
        people.add_person(record, Person("", "R.K."))
        record.db.execute(wrong)
        with pytest.raises(RecordFault):
            copy(record.db, to)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name != "posix", reason="Windows keeps rights elsewhere")
def test_only_the_owner_may_read_the_file_and_its_journals(record: Record) -> None:
    people.add_person(record, Person("", "R.K."))
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in record.path.parent.iterdir()}
    assert modes == dict.fromkeys(("record.sqlite", "record.sqlite-wal", "record.sqlite-shm"), 0o600)


@pytest.mark.skipif(os.name != "posix", reason="Windows keeps rights elsewhere")
def test_only_the_owner_may_enter_the_usual_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda name, **_: tmp_path / "share" / name)
    assert default_path() == tmp_path / "share" / "bothfeet" / "record.sqlite"
    assert stat.S_IMODE(default_path().parent.stat().st_mode) == 0o700
    default_path().parent.chmod(0o755)
    assert stat.S_IMODE(default_path().parent.stat().st_mode) == 0o700
    assert not default_path().exists()


def test_opening_a_file_of_this_version_needs_no_sqlite_utils(record: Record) -> None:
    record.close()
    code = (
        "import sys; from pathlib import Path; from datetime import datetime, UTC\n"
        "from store.knowledge.time import SetClock\n"
        "from store.record.file import open_record\n"
        "from store.record import amendments, backup, bouts, check, episodes, examiners, merge\n"
        "from store.record import people, readings, visits\n"
        "with open_record(Path(sys.argv[1]), SetClock(datetime(2026, 11, 25, tzinfo=UTC))) as record:\n"
        "    people.find_people(record, 'x')\n"
        "print(sorted({'sqlite_utils', 'platformdirs', 'textual'} & set(sys.modules)))\n"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", code, record.path], cwd=root, capture_output=True, text=True)
    assert (done.stdout, done.stderr) == ("[]\n", "")


def test_closing_leaves_one_file(record: Record) -> None:
    people.add_person(record, Person("", "R.K."))
    record.close()
    assert [path.name for path in record.path.parent.iterdir()] == ["record.sqlite"]


def test_what_was_kept_is_there_the_next_time(record: Record, clock: SetClock) -> None:
    kept = people.add_person(record, Person("", "R.K."))
    record.close()
    with open_record(record.path, clock) as again:
        assert people.person(again, kept.id) == kept
        assert again.journal == "wal"


def test_an_empty_file_is_made_into_a_record(tmp_path: Path, clock: SetClock) -> None:
    path = tmp_path / "empty"
    path.touch()
    with pytest.raises(RecordFault, match="is empty, no record stands in it"):
        open_record(path, clock)
    assert path.read_bytes() == b""
    with open_record(path, clock, create=True) as made:
        assert check(made) == []


def test_two_windows_may_make_the_same_file(tmp_path: Path, clock: SetClock) -> None:
    path = tmp_path / "new.sqlite"
    with open_record(path, clock, create=True) as one, open_record(path, clock, create=True) as other:
        kept = people.add_person(one, Person("", "R.K."))
        assert people.person(other, kept.id) == kept


@pytest.mark.parametrize("name", ["with space", "what?#%41.sqlite", "naïve ‘name’", "-wal"])
def test_any_name_will_do(tmp_path: Path, clock: SetClock, name: str) -> None:
    with open_record(tmp_path / name, clock, create=True) as made:
        people.add_person(made, Person("", "R.K."))
    with open_record(tmp_path / name, clock, read_only=True) as again:
        assert len(people.find_people(again, "")) == 1
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_a_seed_and_a_clock_make_the_same_record_again(tmp_path: Path, clock: SetClock) -> None:
    dumps = []
    for name in ("one", "other"):
        with open_record(tmp_path / name, clock, create=True, ids=Ids(random.Random(5).getrandbits)) as made:
            people.add_person(made, Person("", "R.K."))
            dumps.append(list(made.db.iterdump()))
    assert dumps[0] == dumps[1]


@pytest.mark.parametrize(
    ("path", "shared"),
    [
        ("/srv/record.sqlite", False),
        ("/srv/people/ab/record.sqlite", True),
        ("/srv/people/stick/record.sqlite", False),
        ("/srv/peoples/record.sqlite", False),
        ("/mnt/our clinic/record.sqlite", True),
        ("/mnt/host/record.sqlite", True),
    ],
)
def test_a_share_is_told_from_a_disk_by_its_mount(path: str, shared: bool) -> None:
    assert share_among(MOUNTS, path) is shared


def test_a_local_disk_is_no_share(tmp_path: Path) -> None:
    assert not on_share(tmp_path / "record.sqlite")


def test_on_a_share_the_journal_is_no_shared_memory(
    tmp_path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "record.sqlite"
    open_record(path, clock, create=True).close()  # in WAL, as if copied there from a local disk
    monkeypatch.setattr("store.record.file.on_share", lambda _: True)
    with open_record(path, clock) as shared:
        people.add_person(shared, Person("", "R.K."))
        assert shared.journal == "delete"
        assert [each.name for each in tmp_path.iterdir()] == ["record.sqlite"]
