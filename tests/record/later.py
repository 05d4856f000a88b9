"""The program as it might be one version later: its schema has one step more."""

from __future__ import annotations

import pytest
from sqlite_utils import Database, Migrations

from store.record import migrations, schema


def be_one_version_later(patch: pytest.MonkeyPatch) -> None:
    """A column is added to one table, and another one made anew by `transform`, which loses its triggers."""
    steps = Migrations("bothfeet")
    steps(name="1")(migrations.first_schema)
    steps(name="2")(migrations.more_kinds_of_bout)

    @steps(name="3")
    def third(db: Database) -> None:
        db.execute("ALTER TABLE person ADD COLUMN hue TEXT")
        db.table("reading").transform(defaults={"protocol": "own"})

    patch.setattr(migrations, "MIGRATIONS", steps)
    patch.setattr(schema, "VERSION", 3)
