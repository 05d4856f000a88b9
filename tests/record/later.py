"""The program as it might be one version later: its schema has one step more."""

from __future__ import annotations

from copy import deepcopy

import pytest
from sqlite_utils import Database

from store.record import migrations, schema


def be_one_version_later(patch: pytest.MonkeyPatch) -> None:
    """A column is added to one table, and another one made anew by `transform`, which loses its triggers."""
    steps = deepcopy(migrations.MIGRATIONS)
    later = schema.VERSION + 1

    @steps(name=str(later))
    def one_more(db: Database) -> None:
        db.execute("ALTER TABLE person ADD COLUMN hue TEXT")
        db.table("reading").transform(defaults={"protocol": "own"})

    patch.setattr(migrations, "MIGRATIONS", steps)
    patch.setattr(schema, "VERSION", later)
