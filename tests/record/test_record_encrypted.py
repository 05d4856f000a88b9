"""An encrypted record: nothing of it can be read without its passphrase, and all else is as in any record."""

from __future__ import annotations

import logging
import sys
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Person
from store.record import people, schema
from store.record.access import Access
from store.record.amendments import amendments_of
from store.record.backup import backup
from store.record.check import check
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, needs_passphrase, open_record
from store.record.merge import Merged, merge
from tests.record.later import be_one_version_later

pytest.importorskip("sqlcipher3", reason="the extra `encrypted` is not installed")

PASSPHRASE = 'heel down; knee\'s over "second" toe – ‘übung’'


@pytest.fixture
def path(tmp_path: Path, clock: SetClock) -> Path:
    """An encrypted record of one person, closed."""
    path = tmp_path / "encrypted.sqlite"
    with open_record(path, clock, create=True, passphrase=PASSPHRASE) as record:
        people.add_person(record, Person("", "Rosamunde K."))
    return path


def labels(record: Record) -> list[str]:
    return [person.label for person in people.find_people(record, "")]


def refused(path: Path, clock: SetClock, passphrase: str | None, *, create: bool = False) -> RecordFault:
    before = path.read_bytes()
    with pytest.raises(RecordFault) as fault:
        open_record(path, clock, passphrase=passphrase, create=create)
    assert path.read_bytes() == before
    return fault.value


def test_with_its_passphrase_it_is_a_record_like_any_other(path: Path, clock: SetClock) -> None:
    with open_record(path, clock, passphrase=PASSPHRASE) as record:
        assert record.journal == "wal"
        assert record.db.execute("PRAGMA synchronous").fetchone() == (2,)
        [person] = people.find_people(record, "rosa")
        people.revise_person(record, person._replace(label="R.K."), by="AB", because="shorter")
        assert [one.was["label"] for one in amendments_of(record, "person", person.id)] == ["Rosamunde K."]
        assert check(record) == []
        assert not record.changed_elsewhere()
    with open_record(path, clock, passphrase=PASSPHRASE, read_only=True) as record:
        assert labels(record) == ["R.K."]
    assert check(path, PASSPHRASE) == []


def test_nothing_of_it_stands_in_the_clear(path: Path, clock: SetClock) -> None:
    with open_record(path, clock, passphrase=PASSPHRASE) as record:
        people.add_person(record, Person("", "Tuomas M."))
        for each in path.parent.iterdir():  # its journal too, while it is open
            content = each.read_bytes()
            for clear in (b"SQLite", b"Rosamunde", b"Tuomas", b"CREATE TABLE", b"knee", b"heel"):
                assert clear not in content, each


def test_it_is_known_by_its_look(path: Path, tmp_path: Path, clock: SetClock) -> None:
    assert needs_passphrase(path)
    plain = tmp_path / "plain.sqlite"
    open_record(plain, clock, create=True).close()
    assert not needs_passphrase(plain)
    assert not needs_passphrase(tmp_path / "gone.sqlite")
    assert not needs_passphrase(tmp_path)


def test_without_a_passphrase_it_is_asked_for(path: Path, clock: SetClock) -> None:
    for create in (True, False):
        fault = refused(path, clock, None, create=create)
        assert fault.kind is FaultKind.PASSPHRASE_NEEDED
        assert "give its passphrase" in str(fault)


@pytest.mark.parametrize("wrong", ["wrong", "", PASSPHRASE + " "])
def test_a_wrong_passphrase_is_said_and_never_shown(
    path: Path, clock: SetClock, wrong: str, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    caplog.set_level(logging.DEBUG)
    fault = refused(path, clock, wrong)
    assert str(fault) == f"This passphrase does not open {path}: type it again, or name another file."
    assert caplog.text == ""
    assert capfd.readouterr() == ("", "")


def test_the_passphrase_does_not_show_with_what_holds_it(path: Path, clock: SetClock) -> None:
    assert PASSPHRASE not in repr(Access(path, passphrase=PASSPHRASE))
    with open_record(path, clock, passphrase=PASSPHRASE) as record:
        assert not [value for value in vars(record).values() if PASSPHRASE in repr(value)]


def test_a_plain_record_is_not_opened_with_a_passphrase(tmp_path: Path, clock: SetClock) -> None:
    plain = tmp_path / "plain.sqlite"
    open_record(plain, clock, create=True).close()
    assert str(refused(plain, clock, PASSPHRASE)) == f"{plain} is not encrypted: open it without a passphrase."


def test_damage_is_found_and_nothing_written(path: Path, clock: SetClock) -> None:
    content = bytearray(path.read_bytes())
    content[20 * 4096 : 21 * 4096] = b"\xa5" * 4096
    path.write_bytes(content)
    assert refused(path, clock, PASSPHRASE).kind is FaultKind.DAMAGED
    assert {finding.part for finding in check(path, PASSPHRASE)} == {"damaged"}


def test_a_backup_has_the_same_passphrase(path: Path, tmp_path: Path, clock: SetClock) -> None:
    with open_record(path, clock, passphrase=PASSPHRASE) as record:
        copy = backup(record, tmp_path / "copy.sqlite")
    assert needs_passphrase(copy)
    with open_record(copy, clock, passphrase=PASSPHRASE, read_only=True) as record:
        assert labels(record) == ["Rosamunde K."]
        assert check(record) == []


def test_an_older_one_is_brought_up_to_date_with_an_encrypted_backup(
    path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    be_one_version_later(monkeypatch)
    with open_record(path, clock, passphrase=PASSPHRASE) as record:
        assert labels(record) == ["Rosamunde K."]
        assert check(record) == []
    assert needs_passphrase(path.with_name(f"encrypted-before-schema-{schema.VERSION}.sqlite"))


def test_an_encrypted_record_is_merged_into_a_plain_one(path: Path, record: Record) -> None:
    assert merge(record, path, PASSPHRASE) == Merged(added=1, amended=0, kept=0)
    assert labels(record) == ["Rosamunde K."]


def test_without_the_extra_it_says_what_to_install(
    path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "sqlcipher3", None)  # as Python marks what cannot be imported
    fault = refused(path, clock, PASSPHRASE)
    assert fault.kind is FaultKind.NO_CIPHER
    assert "install bothfeet with its extra named encrypted" in str(fault)
