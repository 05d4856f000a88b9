"""The steps from one schema to the next, in order. Imported only when a file is made or lags behind.

A step may change tables and indexes only: triggers and views are taken away before the steps and made anew after.
"""

from __future__ import annotations

import sqlite3

from store.knowledge.time import Stamp
from store.record import later_tables, schema
from store.record.lean import later, patterns_later, without
from store.record.triggers import drop_triggers, rebuild_triggers
from store.record.views import drop_views, rebuild_views

later("dateutil", "parser")  # it reads dates of columns by it, which no step does
# It takes these in where they are, for rows that it is never given here; and one of its patterns, for searching
# in full text, takes a third of its import.
with without("numpy", "pandas"), patterns_later():
    from sqlite_utils import Database, Migrations

MIGRATIONS = Migrations("bothfeet")


@MIGRATIONS(name="1")
def first_schema(db: Database) -> None:
    """Make the tables and their indexes."""
    _made(db, schema.FIRST_TABLES + schema.FIRST_INDEXES)


@MIGRATIONS(name="2")
def more_kinds_of_bout(db: Database) -> None:
    """A bout may be of kinds that came later: oscillations, intervals, reaches, hops, timed work."""
    _with_rule(db, "bout", schema.FIRST_KINDS, schema.KINDS)


@MIGRATIONS(name="3")
def what_is_planned_and_decided(db: Database) -> None:
    """Squads, appointments, decisions on stages, and the forecasts that were shown."""
    _made(db, later_tables.PLANNED_TABLES + later_tables.PLANNED_INDEXES)


@MIGRATIONS(name="4")
def safety_programmes_and_notes(db: Database) -> None:
    """Safety screens, home programmes, notes, and the rules they were made by."""
    _made(db, later_tables.PAPER_TABLES + later_tables.PAPER_INDEXES)


@MIGRATIONS(name="5")
def new_sprains(db: Database) -> None:
    """New sprains, told of during care or after a discharge."""
    _made(db, later_tables.RESPRAIN_TABLES + later_tables.RESPRAIN_INDEXES)


@MIGRATIONS(name="6")
def plans_of_running(db: Database) -> None:
    """Plans of running and their sessions."""
    _made(db, later_tables.RUN_TABLES + later_tables.RUN_INDEXES)


@MIGRATIONS(name="7")
def whom_a_letter_goes_to(db: Database) -> None:
    """An episode may name whom its letter goes to, in place of the one in the settings."""
    db.execute("ALTER TABLE episode ADD COLUMN letter_to TEXT")


@MIGRATIONS(name="8")
def practice_tries(db: Database) -> None:
    """What was practised, and what came of it."""
    _made(db, later_tables.PRACTICE_TABLES + later_tables.PRACTICE_INDEXES)


@MIGRATIONS(name="9")
def looks_at_the_sideline(db: Database) -> None:
    """Looks at players at the sideline, and when they are looked at again."""
    _made(db, later_tables.SIDELINE_TABLES + later_tables.SIDELINE_INDEXES)


def _made(db: Database, statements: tuple[str, ...]) -> None:
    for sql in statements:
        db.execute(sql)


def _with_rule(db: Database, table: str, old: str, new: str) -> None:
    """The table with another rule. SQLite changes none in place, so the table is made anew, with its indexes."""
    parts = "SELECT sql FROM sqlite_schema WHERE tbl_name = ? AND type = ? AND sql IS NOT NULL"
    (sql,) = db.execute(parts, [table, "table"]).fetchone()
    indexes = db.execute(parts, [table, "index"]).fetchall()
    body = sql.replace(old, new).partition("(")[2]
    db.execute(f"CREATE TABLE {table}_anew ({body}")
    db.execute(f"INSERT INTO {table}_anew SELECT * FROM {table}")
    db.execute(f"DROP TABLE {table}")
    db.execute(f"ALTER TABLE {table}_anew RENAME TO {table}")
    for (index,) in indexes:
        db.execute(index)


def migrate(db: sqlite3.Connection, at: Stamp) -> None:
    """Bring the file to the present schema, all of it or nothing. Leaves it alone when another window just did."""
    foreign_keys = db.execute("PRAGMA foreign_keys").fetchone()[0]
    db.execute("PRAGMA foreign_keys = OFF")  # has no effect inside a transaction, and a changed table is a new one
    db.execute("BEGIN IMMEDIATE")
    try:
        if db.execute("PRAGMA user_version").fetchone()[0] < schema.VERSION:
            _apply(db, at)
        db.execute("COMMIT")
    except BaseException:
        if db.in_transaction:
            db.execute("ROLLBACK")
        raise
    finally:
        db.execute(f"PRAGMA foreign_keys = {foreign_keys}")


def _apply(db: sqlite3.Connection, at: Stamp) -> None:
    drop_views(db)
    drop_triggers(db)
    before = {row[0] for row in _applied(db)}
    MIGRATIONS.apply(Database(db, recursive_triggers=False, execute_plugins=False))
    for (name,) in _applied(db):
        if name not in before:  # the library asks the machine's clock; the record knows its own only
            db.execute("UPDATE _sqlite_migrations SET applied_at = ? WHERE name = ?", (at.text, name))
    rebuild_triggers(db)
    rebuild_views(db)
    if db.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise sqlite3.IntegrityError("a row refers to one that is not there")
    db.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")
    db.execute(f"PRAGMA user_version = {schema.VERSION}")


def _applied(db: sqlite3.Connection) -> list[tuple[str]]:
    there = "SELECT 1 FROM sqlite_schema WHERE name = '_sqlite_migrations'"
    if db.execute(there).fetchone() is None:
        return []
    rows: list[tuple[str]] = db.execute("SELECT name FROM _sqlite_migrations").fetchall()
    return rows
