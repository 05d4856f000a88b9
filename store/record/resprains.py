"""The re-sprain log: new sprains by the episode in which they were told, and by person."""

from __future__ import annotations

from datetime import date

from store.knowledge.resprain import Resprain
from store.knowledge.words import Side
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import instant, stamp_of


def _resprain(row: Row) -> Resprain:
    told = stamp_of(row[6], row[7])
    assert told is not None
    return Resprain(
        id=row[0],
        person=row[1],
        episode=row[2],
        visit=row[3],
        side=Side(row[4]),
        day=date.fromisoformat(row[5]),
        told=told,
        note=row[8],
        examiner=row[9],
        retracted=stamp_of(row[10], row[11]),
        revision=row[12],
    )


RESPRAIN = Shelf(
    "resprain",
    "id, person, episode, visit, side, day_on, told_at, told_offset_min, note, examiner, retracted_at, "
    "retracted_offset_min, revision",
    _resprain,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "visit": one.visit,
        "side": one.side,
        "day_on": one.day.isoformat(),
        **instant("told", one.told),
        "note": one.note,
        "examiner": one.examiner,
        **instant("retracted", one.retracted, local_date=False),
    },
)

OF_EPISODE = RESPRAIN.select("episode = :episode ORDER BY day_on, id")
OF_PERSON = RESPRAIN.select("person = :person ORDER BY day_on, id")


def resprains_of(record: Record, episode_id: str) -> list[Resprain]:
    """Those that were told in the care or the follow-up of an episode, by day."""
    return RESPRAIN.found(record, OF_EPISODE, {"episode": episode_id})


def resprains_of_person(record: Record, person_id: str) -> list[Resprain]:
    """All of a person, by day."""
    return RESPRAIN.found(record, OF_PERSON, {"person": person_id})
