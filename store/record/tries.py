"""Tries at what is practised, by kind and examiner."""

from __future__ import annotations

import json

from store.knowledge.tries import PracticeTry, TryKind
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of


def _try(row: Row) -> PracticeTry:
    began = stamp_of(row[3], row[4])
    assert began is not None
    return PracticeTry(
        id=row[0],
        kind=TryKind(row[1]),
        ref=row[2],
        began=began,
        examiner=row[5],
        ended=stamp_of(row[6], row[7]),
        data=json.loads(row[8]),
        retracted=stamp_of(row[9], row[10]),
        revision=row[11],
    )


TRY = Shelf(
    "practice_try",
    "id, kind, ref, began_at, began_offset_min, examiner, ended_at, ended_offset_min, data, retracted_at, "
    "retracted_offset_min, revision",
    _try,
    lambda one: {
        "id": one.id,
        "kind": one.kind,
        "ref": one.ref,
        **instant("began", one.began),
        "examiner": one.examiner,
        **instant("ended", one.ended, local_date=False),
        "data": as_json(dict(one.data)),
        **instant("retracted", one.retracted, local_date=False),
    },
)

OF_EXAMINER = TRY.select("examiner = :examiner ORDER BY began_at DESC, id DESC LIMIT 200")


def tries_of(record: Record, examiner: str) -> list[PracticeTry]:
    """The last tries of an examiner, the newest first, at most 200."""
    return TRY.found(record, OF_EXAMINER, {"examiner": examiner})
