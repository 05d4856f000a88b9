"""Plans of running and their sessions, by episode."""

from __future__ import annotations

import json
from datetime import date

from store.knowledge.runs import RunPlan, RunSession
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


def _plan(row: Row) -> RunPlan:
    made = stamp_of(row[7], row[8])
    assert made is not None
    return RunPlan(
        id=row[0],
        person=row[1],
        episode=row[2],
        ladder=row[3],
        rung=row[4],
        weekdays=tuple(json.loads(row[5])),
        begins_on=date.fromisoformat(row[6]),
        made=made,
        examiner=row[9],
        reason=row[10],
        retracted=stamp_of(row[11], row[12]),
        revision=row[13],
    )


def _session(row: Row) -> RunSession:
    return RunSession(
        id=row[0],
        person=row[1],
        episode=row[2],
        plan=row[3],
        rung=row[4],
        planned_on=_day(row[5]),
        done_on=_day(row[6]),
        minutes=row[7],
        distance_km=row[8],
        pain_during=row[9],
        pain_morning=row[10],
        pain_usual=row[11],
        swelling=None if row[12] is None else bool(row[12]),
        note=row[13],
        examiner=row[14],
        retracted=stamp_of(row[15], row[16]),
        revision=row[17],
    )


PLAN = Shelf(
    "run_plan",
    "id, person, episode, ladder, rung, weekdays, begins_on, made_at, made_offset_min, examiner, reason, "
    "retracted_at, retracted_offset_min, revision",
    _plan,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "ladder": one.ladder,
        "rung": one.rung,
        "weekdays": as_json(list(one.weekdays)),
        "begins_on": one.begins_on.isoformat(),
        **instant("made", one.made),
        "examiner": one.examiner,
        "reason": one.reason,
        **instant("retracted", one.retracted, local_date=False),
    },
)
SESSION = Shelf(
    "run_session",
    "id, person, episode, plan, rung, planned_on, done_on, minutes, distance_km, pain_during, pain_morning, "
    "pain_usual, swelling, note, examiner, retracted_at, retracted_offset_min, revision",
    _session,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "plan": one.plan,
        "rung": one.rung,
        "planned_on": one.planned_on.isoformat() if one.planned_on else None,
        "done_on": one.done_on.isoformat() if one.done_on else None,
        "minutes": one.minutes,
        "distance_km": one.distance_km,
        "pain_during": one.pain_during,
        "pain_morning": one.pain_morning,
        "pain_usual": one.pain_usual,
        "swelling": None if one.swelling is None else int(one.swelling),
        "note": one.note,
        "examiner": one.examiner,
        **instant("retracted", one.retracted, local_date=False),
    },
)

LAST_PLAN = PLAN.select("episode = :episode ORDER BY made_at DESC, id DESC LIMIT 1")
OF_EPISODE = SESSION.select("episode = :episode ORDER BY coalesce(done_on, planned_on), id")
DONE_SINCE = SESSION.select("episode = :episode AND done_on >= :day ORDER BY done_on, id")


def last_plan(record: Record, episode_id: str) -> RunPlan | None:
    """The one in force."""
    found = PLAN.found(record, LAST_PLAN, {"episode": episode_id})
    return found[0] if found else None


def sessions_of(record: Record, episode_id: str) -> list[RunSession]:
    """All of an episode that stand, done or planned, by day."""
    return SESSION.found(record, OF_EPISODE, {"episode": episode_id})


def done_since(record: Record, episode_id: str, day: date) -> list[RunSession]:
    """Those that were run on a day or later."""
    return SESSION.found(record, DONE_SINCE, {"episode": episode_id, "day": day.isoformat()})
