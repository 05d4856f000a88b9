"""Notes of visits, additions to them, and the rules by which a note or a verdict was made."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from store.knowledge.papers import Note
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of

RULES = "SELECT data FROM rules WHERE hash = :hash"


def _note(row: Row) -> Note:
    drafted = stamp_of(row[6], row[7])
    assert drafted is not None
    return Note(
        id=row[0],
        person=row[1],
        episode=row[2],
        visit=row[3],
        kind=row[4],
        adds_to=row[5],
        drafted=drafted,
        sections=json.loads(row[8]),
        signed=stamp_of(row[9], row[10]),
        signed_by=row[11],
        student=bool(row[12]),
        countersigned=stamp_of(row[13], row[14]),
        countersigned_by=row[15],
        rules=row[16],
        retracted=stamp_of(row[17], row[18]),
        revision=row[19],
    )


NOTE = Shelf(
    "note",
    "id, person, episode, visit, kind, adds_to, drafted_at, drafted_offset_min, sections, signed_at, "
    "signed_offset_min, signed_by, student, countersigned_at, countersigned_offset_min, countersigned_by, rules, "
    "retracted_at, retracted_offset_min, revision",
    _note,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "visit": one.visit,
        "kind": one.kind,
        "adds_to": one.adds_to,
        **instant("drafted", one.drafted),
        "sections": as_json(one.sections),
        **instant("signed", one.signed, local_date=False),
        "signed_by": one.signed_by,
        "student": int(one.student),
        **instant("countersigned", one.countersigned, local_date=False),
        "countersigned_by": one.countersigned_by,
        "rules": one.rules,
        **instant("retracted", one.retracted, local_date=False),
    },
)

OF_VISIT = NOTE.select("visit = :visit ORDER BY drafted_at, id")


def notes_of_visit(record: Record, visit_id: str) -> list[Note]:
    """The note of a visit and what was added to it, oldest first."""
    return NOTE.found(record, OF_VISIT, {"visit": visit_id})


def keep_rules(record: Record, data: Mapping[str, Any]) -> str:
    """Keep rules as they were resolved, once; their hash names them."""
    text = json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    name = hashlib.sha256(text.encode()).hexdigest()
    with record.write_tx() as db:
        if record.read_one(RULES, {"hash": name}) is None:
            db.execute("INSERT INTO rules (hash, data) VALUES (:hash, :data)", {"hash": name, "data": text})
    return name


def rules(record: Record, name: str) -> dict[str, Any] | None:
    """The rules of this hash, if they are kept."""
    row = record.read_one(RULES, {"hash": name})
    found: dict[str, Any] | None = json.loads(row[0]) if row else None
    return found
