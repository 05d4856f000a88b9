"""Home programmes and the days on which they were done."""

from __future__ import annotations

import json
from datetime import date

from store.knowledge.papers import Programme, ProgrammeDay
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of


def _programme(row: Row) -> Programme:
    issued = stamp_of(row[4], row[5])
    assert issued is not None
    return Programme(
        id=row[0],
        person=row[1],
        episode=row[2],
        visit=row[3],
        issued=issued,
        examiner=row[6],
        review_on=date.fromisoformat(row[7]) if row[7] else None,
        items=tuple(json.loads(row[8])),
        words=row[9],
        retracted=stamp_of(row[10], row[11]),
        revision=row[12],
    )


def _day(row: Row) -> ProgrammeDay:
    return ProgrammeDay(
        id=row[0],
        programme=row[1],
        person=row[2],
        day=date.fromisoformat(row[3]),
        done=row[4],
        pain_morning=row[5],
        note=row[6],
        retracted=stamp_of(row[7], row[8]),
        revision=row[9],
    )


PROGRAMME = Shelf(
    "programme",
    "id, person, episode, visit, issued_at, issued_offset_min, examiner, review_on, items, words, retracted_at, "
    "retracted_offset_min, revision",
    _programme,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "visit": one.visit,
        **instant("issued", one.issued),
        "examiner": one.examiner,
        "review_on": one.review_on.isoformat() if one.review_on else None,
        "items": as_json(list(one.items)),
        "words": one.words,
        **instant("retracted", one.retracted, local_date=False),
    },
)
DAY = Shelf(
    "programme_day",
    "id, programme, person, day_on, done, pain_morning, note, retracted_at, retracted_offset_min, revision",
    _day,
    lambda one: {
        "id": one.id,
        "programme": one.programme,
        "person": one.person,
        "day_on": one.day.isoformat(),
        "done": one.done,
        "pain_morning": one.pain_morning,
        "note": one.note,
        **instant("retracted", one.retracted, local_date=False),
    },
)

OF_EPISODE = PROGRAMME.select("episode = :episode ORDER BY issued_at, id")
OF_VISIT = PROGRAMME.select("episode = :episode AND visit = :visit ORDER BY issued_at, id")
LAST = PROGRAMME.select("episode = :episode ORDER BY issued_at DESC, id DESC LIMIT 1")
TAKEN_BACK = f"""SELECT {PROGRAMME.columns} FROM programme
WHERE episode = :episode AND retracted_at IS NOT NULL ORDER BY issued_at DESC, id DESC LIMIT 1"""
DAYS = DAY.select("programme = :programme ORDER BY day_on, id")


def programmes_of(record: Record, episode_id: str) -> list[Programme]:
    """All of an episode that stand, oldest first; the last one is in force."""
    return PROGRAMME.found(record, OF_EPISODE, {"episode": episode_id})


def programmes_of_visit(record: Record, episode_id: str, visit_id: str) -> list[Programme]:
    """Those of an episode that were handed out in a visit, oldest first."""
    return PROGRAMME.found(record, OF_VISIT, {"episode": episode_id, "visit": visit_id})


def last_programme(record: Record, episode_id: str) -> Programme | None:
    """The one in force."""
    found = PROGRAMME.found(record, LAST, {"episode": episode_id})
    return found[0] if found else None


def last_taken_back(record: Record, episode_id: str) -> Programme | None:
    """Of those that were taken back the one that was handed out last."""
    found = PROGRAMME.found(record, TAKEN_BACK, {"episode": episode_id})
    return found[0] if found else None


def days_of(record: Record, programme_id: str) -> list[ProgrammeDay]:
    """The days of one programme that were told, in order."""
    return DAY.found(record, DAYS, {"programme": programme_id})
