"""The program as it might be one version later, with one step more in its schema, and as it was at first."""

from __future__ import annotations

from copy import deepcopy

import pytest
from sqlite_utils import Database, Migrations

from store.record import migrations, schema, triggers


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


def be_version_six(patch: pytest.MonkeyPatch) -> None:
    """Whom a letter goes to was no column of an episode yet."""
    six = Migrations("bothfeet")
    steps = (
        migrations.first_schema,
        migrations.more_kinds_of_bout,
        migrations.what_is_planned_and_decided,
        migrations.safety_programmes_and_notes,
        migrations.new_sprains,
        migrations.plans_of_running,
    )
    for number, step in enumerate(steps, 1):
        six(name=str(number))(step)
    tables = schema.CLINICAL[: schema.CLINICAL.index("run_session") + 1]
    patch.setattr(migrations, "MIGRATIONS", six)
    patch.setattr(schema, "VERSION", 6)
    patch.setattr(schema, "CLINICAL", tables)
    patch.setattr(triggers, "CLINICAL", tables)


def be_the_first_version(patch: pytest.MonkeyPatch) -> None:
    """Only the first step was there, and its tables."""
    first = Migrations("bothfeet")
    first(name="1")(migrations.first_schema)
    tables = ("person", "examiner", "episode", "visit", "bout", "reading")
    patch.setattr(migrations, "MIGRATIONS", first)
    patch.setattr(schema, "VERSION", 1)
    patch.setattr(schema, "CLINICAL", tables)
    patch.setattr(triggers, "CLINICAL", tables)
    patch.setattr(triggers, "APPEND_ONLY", ("bout_event", "amendment"))
