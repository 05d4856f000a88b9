"""Examiners: the names that readings carry, kept so that they need not be typed twice."""

from __future__ import annotations

from store.knowledge.words import Examiner
from store.record import clinical
from store.record.handle import Record
from store.record.rows import EXAMINER_COLUMNS, examiner_of, examiner_values

EXAMINERS = f"SELECT {EXAMINER_COLUMNS} FROM examiner ORDER BY name, id"
NAMED = f"SELECT {EXAMINER_COLUMNS} FROM examiner WHERE name = :name ORDER BY id LIMIT 1"


def add_examiner(record: Record, name: str) -> Examiner:
    """The examiner of this name, kept if not known yet. Raises RecordFault."""
    with record.write_tx():
        known = examiner_named(record, name)
        if known:
            return known
        examiner = Examiner(record.new_id(), name, record.new_id())
        clinical.add(record, "examiner", [examiner_values(examiner)], examiner.revision, name)
        return examiner


def revise_examiner(record: Record, examiner: Examiner, *, by: str, because: str) -> Examiner:
    """Amend an examiner as read at their revision; readings keep the name under which they were taken."""
    values = examiner_values(examiner)
    return examiner._replace(revision=clinical.amend(record, "examiner", values, examiner.revision, by, because))


def examiner_named(record: Record, name: str) -> Examiner | None:
    """The examiner of exactly this name; of two, as after a merge, the older."""
    row = record.read_one(NAMED, {"name": name})
    return examiner_of(row) if row else None


def examiners(record: Record) -> list[Examiner]:
    """All that are known, by name."""
    return [examiner_of(row) for row in record.read(EXAMINERS, {})]
