"""The schema: as dumped for its version, strict, guarded by triggers that survive a change of the tables."""

from __future__ import annotations

import sqlite3
from copy import deepcopy
from pathlib import Path

import pytest
from sqlite_utils import Database

from store.knowledge.time import SetClock
from store.knowledge.words import BoutKind, BoutRow, Moment, Person
from store.record import bouts, migrations, people, schema
from store.record.amendments import amendments_of
from store.record.check import check
from store.record.file import Record, open_record
from tests.record.later import be_one_version_later, be_the_first_version

DUMPS = Path(__file__).parent / "schema"


def dump(db: sqlite3.Connection) -> str:
    """All that the schema is made of, one statement a paragraph, tables first."""
    rows = db.execute(
        "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL "
        "ORDER BY type <> 'table', type <> 'index', type <> 'view', name"
    )
    return "".join(f"{sql};\n\n" for (sql,) in rows)


def test_the_schema_is_the_one_dumped_for_its_version(record: Record) -> None:
    """When it fails on purpose, a migration is missing: an old dump never changes."""
    assert dump(record.db) == (DUMPS / f"{schema.VERSION}.sql").read_text(encoding="utf-8")


def test_there_is_a_migration_for_each_version_and_a_dump(record: Record) -> None:
    named = [row[0] for row in record.db.execute("SELECT name FROM _sqlite_migrations ORDER BY id")]
    assert named == [str(number) for number in range(1, schema.VERSION + 1)]
    assert sorted(file.stem for file in DUMPS.glob("*.sql")) == named


def test_tables_are_the_words_and_strict(record: Record) -> None:
    tables = record.db.execute(
        "SELECT name, strict FROM pragma_table_list "
        "WHERE type = 'table' AND schema = 'main' AND name NOT LIKE 'sqlite_%'"
    ).fetchall()
    assert {name for name, _ in tables} == {*schema.TABLES, "_sqlite_migrations"}
    assert all(strict for name, strict in tables if name in schema.TABLES)


def test_the_header_says_whose_it_is_and_which_schema(record: Record) -> None:
    assert record.db.execute("PRAGMA application_id").fetchone() == (int.from_bytes(b"feet", "big"),)
    assert record.db.execute("PRAGMA user_version").fetchone() == (schema.VERSION,)


def test_the_migration_is_dated_by_the_clock_passed_in(record: Record) -> None:
    assert (
        record.db.execute("SELECT applied_at FROM _sqlite_migrations").fetchall()
        == [("2026-11-25T09:38:00.000Z",)] * schema.VERSION
    )


def test_every_table_has_its_triggers(record: Record) -> None:
    count = "SELECT tbl_name, count(*) FROM sqlite_schema WHERE type = 'trigger' GROUP BY tbl_name"
    four = dict.fromkeys(schema.CLINICAL, 4)  # no replace, needs a revision, no delete, amended
    three = dict.fromkeys(schema.APPEND_ONLY, 3)  # no replace, no update, no delete
    five = {"note": 5}  # and a signed one is locked
    assert dict(record.db.execute(count).fetchall()) == four | three | five


def test_a_later_schema_keeps_rows_triggers_and_covers_its_new_column(
    record: Record, person: Person, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    record.close()
    be_one_version_later(monkeypatch)
    with open_record(record.path, clock) as newer:
        assert people.person(newer, person.id) == person
        assert check(newer) == []
        with newer.write_tx() as db:
            db.execute("UPDATE person SET hue = 'blue', revision = ? WHERE id = ?", (newer.new_id(), person.id))
            db.execute("UPDATE person SET hue = 'red', revision = ? WHERE id = ?", (newer.new_id(), person.id))
        assert [one.was["hue"] for one in amendments_of(newer, "person", person.id)] == [None, "blue"]


def test_a_transformed_table_keeps_its_rules(
    record: Record, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = record.db.execute("SELECT sql FROM sqlite_schema WHERE name = 'reading'").fetchone()[0]
    rules = old.count("CONSTRAINT")
    record.close()
    be_one_version_later(monkeypatch)
    with open_record(record.path, clock) as newer:
        new = newer.db.execute("SELECT sql FROM sqlite_schema WHERE name = 'reading'").fetchone()[0]
        triggers = "SELECT count(*) FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'reading'"
        assert "'own'" in new
        assert new.count("CONSTRAINT") == rules
        assert new.endswith("STRICT")
        assert newer.db.execute(triggers).fetchone() == (4,)


def test_a_file_of_the_first_version_takes_bouts_of_later_kinds_and_loses_none(
    tmp_path: Path, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "first.sqlite"
    with monkeypatch.context() as patched:
        be_the_first_version(patched)
        with open_record(path, clock, create=True) as old:
            someone = people.add_person(old, Person("", "R.K.", "1995"))
            held = bouts.add_bout(old, BoutRow("", someone.id, "hold_firm", BoutKind.HOLD_FIXED, clock.now(), {}))
            bouts.revise_bout(old, held._replace(moment=Moment.AFTER), by="AB", because="a slip")
    with open_record(path, clock) as newer:
        assert bouts.bout(newer, held.id) is not None
        assert len(amendments_of(newer, "bout", held.id)) == 1
        glide = held._replace(id="", kind=BoutKind.OSCILLATIONS, revision="")
        assert bouts.add_bout(newer, glide).kind is BoutKind.OSCILLATIONS
        assert check(newer) == []
        indexes = newer.db.execute("SELECT count(*) FROM pragma_index_list('bout') WHERE origin = 'c'")
        assert indexes.fetchone() == (2,)


def test_a_step_that_fails_leaves_the_file_as_it_was(
    record: Record, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = dump(record.db)
    record.close()
    steps, later = deepcopy(migrations.MIGRATIONS), schema.VERSION + 1

    @steps(name=str(later))
    def one_more(db: Database) -> None:
        db.execute("ALTER TABLE person ADD COLUMN hue TEXT")
        raise RuntimeError("power cut")

    with monkeypatch.context() as patched:
        patched.setattr(migrations, "MIGRATIONS", steps)
        patched.setattr(schema, "VERSION", later)
        with pytest.raises(RuntimeError, match="power cut"):
            open_record(record.path, clock)
    with open_record(record.path, clock) as again:
        assert dump(again.db) == before
        assert check(again) == []
