"""Looks at the sideline, by person."""

from __future__ import annotations

import json

from store.knowledge.rechecks import Recheck
from store.knowledge.sideline import BenchOutcome
from store.knowledge.words import Side
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of


def _recheck(row: Row) -> Recheck:
    looked = stamp_of(row[3], row[4])
    assert looked is not None
    return Recheck(
        id=row[0],
        person=row[1],
        side=Side(row[2]),
        looked=looked,
        outcome=BenchOutcome(row[5]),
        answers=json.loads(row[6]),
        due=stamp_of(row[7], row[8]),
        examiner=row[9],
        retracted=stamp_of(row[10], row[11]),
        revision=row[12],
    )


RECHECK = Shelf(
    "recheck",
    "id, person, side, looked_at, looked_offset_min, outcome, answers, due_at, due_offset_min, examiner, "
    "retracted_at, retracted_offset_min, revision",
    _recheck,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "side": one.side,
        **instant("looked", one.looked),
        "outcome": one.outcome,
        "answers": as_json(dict(one.answers)),
        **instant("due", one.due, local_date=False),
        "examiner": one.examiner,
        **instant("retracted", one.retracted, local_date=False),
    },
)

OF_PERSON = RECHECK.select("person = :person ORDER BY looked_at, id")


def rechecks_of(record: Record, person_id: str) -> list[Recheck]:
    """All of a person, oldest first."""
    return RECHECK.found(record, OF_PERSON, {"person": person_id})
