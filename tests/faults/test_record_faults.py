"""Every way a file can be wrong: one clear sentence, nothing lost, and nothing written to what is not ours."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record import file, people, schema
from store.record.check import check
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_record
from tests.faults.conftest import made
from tests.faults.plain_user import as_plain_user
from tests.record.later import be_one_version_later


def refused(path: Path, clock: SetClock, *, read_only: bool = False, create: bool = False) -> RecordFault:
    """The fault with which the file is refused."""
    with pytest.raises(RecordFault) as found:
        open_record(path, clock, read_only=read_only, create=create, busy_ms=0)
    return found.value


def labels(record: Record) -> list[str]:
    return [person.label for person in people.find_people(record, "")]


def folder_bytes(path: Path) -> dict[str, bytes]:
    """Every file beside it, with all its bytes, but the memory that windows share."""
    return {each.name: each.read_bytes() for each in path.parent.iterdir() if not each.name.endswith("-shm")}


# missing, a folder, not SQLite, not ours


@pytest.mark.parametrize("read_only", [True, False])
def test_missing(tmp_path: Path, clock: SetClock, read_only: bool) -> None:
    fault = refused(tmp_path / "gone.sqlite", clock, read_only=read_only)
    assert fault.kind is FaultKind.MISSING
    assert str(fault) == f"There is no file {tmp_path / 'gone.sqlite'}: check the name, or make a new record."
    assert list(tmp_path.iterdir()) == []


def test_a_file_opened_to_be_read_is_not_made(tmp_path: Path, clock: SetClock) -> None:
    assert refused(tmp_path / "gone.sqlite", clock, read_only=True, create=True).kind is FaultKind.MISSING
    assert list(tmp_path.iterdir()) == []


def test_a_missing_folder(tmp_path: Path, clock: SetClock) -> None:
    fault = refused(tmp_path / "gone" / "record.sqlite", clock, create=True)
    assert str(fault) == f"There is no folder {tmp_path / 'gone'}: make that folder first, or check the name."
    assert refused(tmp_path / "gone" / "record.sqlite", clock, read_only=True).kind is FaultKind.NO_FOLDER
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "gone").mkdir()
    open_record(tmp_path / "gone" / "record.sqlite", clock, create=True).close()


def test_an_empty_file_is_said_to_be_empty_and_stays_so(tmp_path: Path, clock: SetClock) -> None:
    (path := tmp_path / "record.sqlite").touch()
    told = {str(refused(path, clock, read_only=read_only)) for read_only in (True, False)}
    assert told == {f"{path} is empty, no record stands in it: check the name, or bring back your backup."}
    assert not path.read_bytes()


def test_a_folder(tmp_path: Path, clock: SetClock) -> None:
    for create in (True, False):
        fault = refused(tmp_path, clock, create=create)
        assert str(fault) == f"{tmp_path} is a folder: name the file in it."


NEXT_VERSION = schema.VERSION + 1
NOISE = random.Random(7).randbytes(8192)


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        pytest.param(b"dear colleague", FaultKind.NOT_SQLITE, id="text"),
        pytest.param(b"S", FaultKind.DAMAGED, id="first letter of a header"),
        pytest.param(b"SQLite format 2\x00" + b"\x00" * 4080, FaultKind.NOT_SQLITE, id="an old format"),
        pytest.param(b"dear colleague, " * 512, FaultKind.NOT_SQLITE, id="whole pages of text"),
        pytest.param(NOISE[1:], FaultKind.NOT_SQLITE, id="noise"),
        pytest.param(NOISE, FaultKind.PASSPHRASE_NEEDED, id="whole pages of noise"),
    ],
)
def test_not_sqlite(tmp_path: Path, clock: SetClock, content: bytes, kind: FaultKind) -> None:
    path = tmp_path / "letter.txt"
    path.write_bytes(content)
    for create in (True, False):
        fault = refused(path, clock, create=create)
        assert fault.kind is kind
        assert str(path) in str(fault)
        assert "name another" in str(fault) or kind is FaultKind.DAMAGED
    assert folder_bytes(path) == {"letter.txt": content}


def test_another_programs_file(tmp_path: Path, clock: SetClock) -> None:
    path = tmp_path / "music.db"
    with closing(sqlite3.connect(path)) as tool:
        tool.executescript("PRAGMA journal_mode = WAL; CREATE TABLE person (id TEXT, label TEXT)")
    before = folder_bytes(path)
    for read_only in (True, False):
        fault = refused(path, clock, read_only=read_only, create=not read_only)
        assert str(fault).startswith(f"{path} is the file of another program")
    assert folder_bytes(path) == before


def test_a_python_with_an_old_sqlite(path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    assert "SQLite 3.37 or later" in str(refused(path, clock))


# damaged


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-4096])


def header_only(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:60])


def schema_overwritten(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[100:4096] = b"\xff" * 3996
    path.write_bytes(content)


def inside_overwritten(path: Path) -> None:
    content = bytearray(path.read_bytes())
    middle = len(content) // 8192 * 4096
    content[middle : middle + 4096] = b"\xa5" * 4096
    path.write_bytes(content)


def table_lost(path: Path) -> None:
    with closing(sqlite3.connect(path)) as tool:
        tool.execute("DROP TABLE amendment")
        tool.execute("PRAGMA wal_checkpoint(TRUNCATE)")


@pytest.mark.parametrize("damage", [cut_short, header_only, schema_overwritten, inside_overwritten, table_lost])
def test_damaged(path: Path, clock: SetClock, damage: Callable[[Path], None]) -> None:
    damage(path)
    before = folder_bytes(path)
    for read_only in (True, False):
        fault = refused(path, clock, read_only=read_only)
        assert fault.kind is FaultKind.DAMAGED
        assert (
            str(fault)
            == f"{path} is damaged and nothing will be written to it: keep it, and open your last backup."
        )
        after = folder_bytes(path)
        assert after.pop("record.sqlite-wal", b"") == b""
        assert after == before


@pytest.mark.parametrize("damage", [schema_overwritten, inside_overwritten, table_lost])
def test_the_check_says_what_is_damaged(path: Path, damage: Callable[[Path], None]) -> None:
    damage(path)
    before = path.read_bytes()
    assert {finding.part for finding in check(path)} & {"damaged", "tables"}
    assert path.read_bytes() == before


def test_damage_deep_in_a_large_file_stops_all_writing_once_it_is_met(
    path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_record(path, clock) as record, record.write_tx():
        for n in range(3000):
            people.add_person(record, Person("", f"p{n}"))
    content = bytearray(path.read_bytes())
    middle = len(content) // 8192 * 4096
    content[middle : middle + 40 * 4096] = b"\xa5" * (40 * 4096)
    path.write_bytes(content)
    monkeypatch.setattr(file, "CHECKED_WHOLE_BYTES", 0)
    with open_record(path, clock) as record:
        with pytest.raises(RecordFault) as met:
            people.find_people(record, "p1")
        assert met.value.kind is FaultKind.DAMAGED
        with pytest.raises(RecordFault) as refused_to_write:
            people.add_person(record, Person("", "T.M."))
        assert refused_to_write.value.kind is FaultKind.DAMAGED
    assert path.read_bytes() == bytes(content)


# journals left behind by a program that was killed


def left_behind(path: Path, to: Path, *, journal: str) -> Path:
    """The file as it is on disk while another program is within a large write, with its journal."""
    with closing(sqlite3.connect(path, isolation_level=None)) as tool:
        tool.execute(f"PRAGMA journal_mode = {journal}").fetchone()
        tool.execute("PRAGMA cache_size = 2")
        tool.execute("BEGIN")
        tool.execute("CREATE TABLE ballast (x)")
        tool.executemany("INSERT INTO ballast VALUES (?)", [("x" * 3000,)] * 200)
        to.mkdir()
        for each in path.parent.glob("record.sqlite*"):
            if each.is_file() and not each.name.endswith("-shm"):
                shutil.copyfile(each, to / each.name)
        tool.execute("ROLLBACK")
    return to / path.name


@pytest.mark.parametrize("journal", ["DELETE", "WAL"])
@pytest.mark.parametrize("read_only", [True, False])
def test_what_was_half_written_is_taken_back(
    path: Path, tmp_path: Path, clock: SetClock, journal: str, read_only: bool
) -> None:
    left = left_behind(path, tmp_path / "left", journal=journal)
    ending = "-wal" if journal == "WAL" else "-journal"
    assert left.with_name(left.name + ending).stat().st_size > 0
    with open_record(left, clock, read_only=read_only) as record:
        assert labels(record) == ["R.K."]
        assert check(record) == []
    assert [each.name for each in left.parent.iterdir()] == ["record.sqlite"]


def test_a_damaged_file_with_a_journal_is_not_written_to(path: Path, tmp_path: Path, clock: SetClock) -> None:
    left = left_behind(path, tmp_path / "left", journal="WAL")
    inside_overwritten(left)
    before = folder_bytes(left)
    assert refused(left, clock).kind is FaultKind.DAMAGED
    assert folder_bytes(left) == before


# newer, older


@pytest.mark.parametrize("read_only", [True, False])
def test_newer(path: Path, clock: SetClock, read_only: bool) -> None:
    with closing(sqlite3.connect(path)) as tool:
        tool.execute(f"PRAGMA user_version = {schema.VERSION + 1}")
    before = folder_bytes(path)
    fault = refused(path, clock, read_only=read_only)
    assert str(fault) == (f"{path} was made by a newer bothfeet and stays as it is: update bothfeet to open it.")
    after = folder_bytes(path)
    assert after.pop("record.sqlite-wal", b"") == b""
    assert after == before


def test_older_is_brought_up_to_date_with_a_backup_beside_it(
    path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = path.read_bytes()
    with monkeypatch.context() as later:
        be_one_version_later(later)
        fault = refused(path, clock, read_only=True)
        assert str(fault).startswith(f"{path} was made by an older bothfeet: open it once for writing")
        assert path.read_bytes() == before
        with open_record(path, clock) as record:
            assert labels(record) == ["R.K."]
            assert record.read("SELECT hue FROM person", {}) == [(None,)]
            assert check(record) == []
    copy = path.with_name(f"record-before-schema-{NEXT_VERSION}.sqlite")
    assert sorted(path.parent.iterdir()) == [copy, path]
    with open_record(copy, clock, read_only=True) as backup:
        assert labels(backup) == ["R.K."]
        assert check(backup) == []


def test_an_earlier_backup_is_not_written_over(
    path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    path.with_name(f"record-before-schema-{NEXT_VERSION}.sqlite").write_text("kept")
    be_one_version_later(monkeypatch)
    open_record(path, clock).close()
    assert path.with_name(f"record-before-schema-{NEXT_VERSION}.sqlite").read_text() == "kept"
    assert path.with_name(f"record-before-schema-{NEXT_VERSION}-2.sqlite").exists()


# read-only, in a read-only folder; as a user whom the rights bind

posix_only = pytest.mark.skipif(os.name != "posix", reason="Windows keeps rights elsewhere")


@posix_only
def test_a_file_that_may_only_be_read(open_folder: Path, clock: SetClock) -> None:
    path = made(open_folder, clock)
    path.chmod(0o444)
    open_folder.chmod(0o777)
    before = path.read_bytes()
    assert as_plain_user(lambda: str(refused(path, clock))) == (
        f"{path} may only be read: allow writing to it, or save a copy where you may write."
    )
    assert as_plain_user(lambda: told_by_reader(path, clock)) == "R.K., may only be read"
    assert path.read_bytes() == before


@posix_only
@pytest.mark.parametrize("rights", [0o444, 0o666])
def test_a_file_in_a_folder_that_may_only_be_read(open_folder: Path, clock: SetClock, rights: int) -> None:
    path = made(open_folder, clock)
    path.chmod(rights)
    open_folder.chmod(0o555)
    told = as_plain_user(lambda: str(refused(path, clock)))
    if rights == 0o666:
        assert told.startswith(f"The folder of {path} may not be written to, and a record needs it")
    else:
        assert told.startswith(f"{path} may only be read")
    assert as_plain_user(lambda: told_by_reader(path, clock)) == "R.K., may only be read"
    assert [each.name for each in open_folder.iterdir()] == ["record.sqlite"]


@posix_only
@pytest.mark.parametrize(("rights", "of_folder"), [(0o444, 0o777), (0o444, 0o555), (0o666, 0o777)])
def test_a_check_leaves_nothing_beside_a_file_whatever_its_rights(
    open_folder: Path, clock: SetClock, rights: int, of_folder: int
) -> None:
    path = made(open_folder, clock)
    path.chmod(rights)
    open_folder.chmod(of_folder)
    assert as_plain_user(lambda: str(check(path))) == "[]"
    assert [each.name for each in open_folder.iterdir()] == ["record.sqlite"]


@posix_only
def test_a_new_file_in_a_folder_that_may_only_be_read(open_folder: Path, clock: SetClock) -> None:
    open_folder.chmod(0o555)
    told = as_plain_user(lambda: str(refused(open_folder / "new.sqlite", clock, create=True)))
    assert told.startswith(f"The folder of {open_folder / 'new.sqlite'} may not be written to")
    assert list(open_folder.iterdir()) == []


@posix_only
def test_a_file_that_may_not_even_be_read(open_folder: Path, clock: SetClock) -> None:
    path = made(open_folder, clock)
    path.chmod(0o000)
    told = as_plain_user(lambda: str(refused(path, clock, read_only=True)))
    assert told == f"You are not permitted to read {path}: ask its owner for permission, or name another."


def told_by_reader(path: Path, clock: SetClock) -> str:
    """Who is in the record, and what comes of writing to it, when it is opened to be read."""
    with open_record(path, clock, read_only=True) as record:
        with pytest.raises(RecordFault, match="may only be read"):
            people.add_person(record, Person("", "T.M."))
        return ", ".join([*labels(record), "may only be read"])


# locked by another program


@pytest.fixture
def in_delete_mode(path: Path) -> Path:
    """The same record with a rollback journal, as on a share, where a writer keeps readers out."""
    with closing(sqlite3.connect(path)) as tool:
        assert tool.execute("PRAGMA journal_mode = DELETE").fetchone() == ("delete",)
    return path


def test_locked_while_opening(in_delete_mode: Path, clock: SetClock) -> None:
    with closing(sqlite3.connect(in_delete_mode)) as tool:
        tool.execute("BEGIN EXCLUSIVE")
        for read_only in (True, False):
            fault = refused(in_delete_mode, clock, read_only=read_only)
            assert str(fault).startswith(f"Another program keeps {in_delete_mode} locked; nothing was saved")
    with open_record(in_delete_mode, clock) as record:
        assert labels(record) == ["R.K."]


def test_locked_while_saving(path: Path, clock: SetClock) -> None:
    with open_record(path, clock, busy_ms=0) as record, closing(sqlite3.connect(path)) as tool:
        tool.execute("BEGIN IMMEDIATE")
        with pytest.raises(RecordFault) as fault:
            people.add_person(record, Person("", "T.M."))
        assert fault.value.kind is FaultKind.LOCKED
        assert labels(record) == ["R.K."], "it can still be read"
        tool.rollback()
        people.add_person(record, Person("", "T.M."))
        assert labels(record) == ["R.K.", "T.M."]


def test_a_reader_in_the_way_of_a_commit(
    in_delete_mode: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With a rollback journal the lock may come as late as the commit: then nothing is saved, and it is said."""
    monkeypatch.setattr(file, "on_share", lambda _: True)
    with open_record(in_delete_mode, clock, busy_ms=0) as record, closing(sqlite3.connect(in_delete_mode)) as tool:
        tool.execute("BEGIN")
        tool.execute("SELECT * FROM person").fetchone()
        with pytest.raises(RecordFault) as fault:
            people.add_person(record, Person("", "T.M."))
        assert fault.value.kind is FaultKind.LOCKED
        assert not record.db.in_transaction
        tool.rollback()
        assert labels(record) == ["R.K."]
        people.add_person(record, Person("", "T.M."))
        assert check(record) == []
