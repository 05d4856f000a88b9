"""What keeps the original: triggers made anew from the columns, since a changed table loses its own.

A row of a clinical table is amended by an UPDATE with a greater revision, which files the old row under it.
Nothing is deleted, nor replaced by an INSERT OR REPLACE, which fires no delete trigger unless it is asked to.
"""

from __future__ import annotations

import sqlite3

from store.record.schema import APPEND_ONLY, CLINICAL

COLUMNS_OF = "SELECT name, type FROM pragma_table_info(?) ORDER BY cid"
OUR_TRIGGERS = "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' ORDER BY name"

Columns = list[tuple[str, str]]


def triggers_of(table: str, columns: Columns) -> dict[str, str]:
    """The triggers that a table must have, by name, as SQL. `columns` are its names and declared types."""
    if table in APPEND_ONLY:
        return _stopping(table)
    return _amending(table, columns) | (_locking() if table == "note" else {})


_KEYS = {
    "amendment": "row_table = NEW.row_table AND row_id = NEW.row_id AND was_revision = NEW.was_revision",
    "bout_event": "bout = NEW.bout AND seq = NEW.seq",
    "rules": "hash = NEW.hash",
}
"""What makes a row of an append-only table the same as another."""


def _stopping(table: str) -> dict[str, str]:
    key = _KEYS[table]
    never = f"a row of {table} is never changed or taken away"
    return {
        **_refusing(f"{table}_no_replace", "INSERT", table, f"this {table} is there already", _there(table, key)),
        **_refusing(f"{table}_no_update", "UPDATE", table, never),
        **_refusing(f"{table}_no_delete", "DELETE", table, never),
    }


def _amending(table: str, columns: Columns) -> dict[str, str]:
    stale = "NEW.id <> OLD.id OR NEW.revision <= OLD.revision"
    there = _there(table, "id = NEW.id")
    kept = _there("amendment", f"row_table = '{table}' AND row_id = OLD.id AND was_revision = OLD.revision")
    return {
        **_refusing(f"{table}_no_replace", "INSERT", table, f"this {table} is there already", there),
        **_refusing(
            f"{table}_needs_revision", "UPDATE", table, f"a {table} is amended under a new, later revision", stale
        ),
        **_refusing(
            f"{table}_no_delete", "DELETE", table, f"a {table} is never deleted, only amended or retracted"
        ),
        f"{table}_amended": (
            f"CREATE TRIGGER {table}_amended AFTER UPDATE ON {table} BEGIN "
            "INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, "
            "revised_at, revised_offset_min, was) "
            f"SELECT '{table}', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, "
            f"NEW.revised_at, NEW.revised_offset_min, {_old_row(columns)} WHERE NOT {kept}; END"
        ),
    }


def _locking() -> dict[str, str]:
    """A signed note keeps its words, its rules and who signed it; what comes later is an addition."""
    kept = (
        "person",
        "episode",
        "visit",
        "kind",
        "adds_to",
        "sections",
        "signed_at",
        "signed_by",
        "student",
        "rules",
    )
    changed = " OR ".join(f"NEW.{name} IS NOT OLD.{name}" for name in kept)
    sentence = "a signed note is locked: add to it instead"
    return _refusing("note_is_locked", "UPDATE", "note", sentence, f"OLD.signed_at IS NOT NULL AND ({changed})")


def _there(table: str, same: str) -> str:
    return f"EXISTS (SELECT 1 FROM {table} WHERE {same})"


def _refusing(name: str, action: str, table: str, sentence: str, when: str = "") -> dict[str, str]:
    """A trigger that aborts an action with a sentence, always or when something holds."""
    condition = f" WHEN {when}" if when else ""
    return {
        name: (
            f"CREATE TRIGGER {name} BEFORE {action} ON {table}{condition} "
            f"BEGIN SELECT RAISE(ABORT, '{sentence}'); END"
        )
    }


def _old_row(columns: Columns) -> str:
    return "json_object(" + ", ".join(f"'{name}', {_as_json(name, kind)}" for name, kind in columns) + ")"


def _as_json(name: str, kind: str) -> str:
    """A column's old value. SQLite writes a real number with 15 digits into JSON; 17 keep it whole."""
    if kind != "REAL":
        return f"OLD.{name}"
    return f"CASE WHEN OLD.{name} IS NOT NULL THEN json(printf('%!.17g', OLD.{name})) END"


def expected_triggers(db: sqlite3.Connection) -> dict[str, str]:
    """The triggers that the tables of this file call for, by name, as SQL."""
    wanted: dict[str, str] = {}
    for table in CLINICAL + APPEND_ONLY:
        columns: Columns = db.execute(COLUMNS_OF, (table,)).fetchall()
        wanted |= triggers_of(table, columns)
    return wanted


def rebuild_triggers(db: sqlite3.Connection) -> None:
    """Take away every trigger and make those that the tables call for. To be called in a transaction."""
    drop_triggers(db)
    for sql in expected_triggers(db).values():
        db.execute(sql)


def drop_triggers(db: sqlite3.Connection) -> None:
    """Take away every trigger, as a migration must before it touches rows."""
    for name, _ in db.execute(OUR_TRIGGERS).fetchall():
        db.execute(f'DROP TRIGGER "{name}"')
