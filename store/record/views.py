"""The questions people ask of the file with any SQLite tool, answered by views with readable names."""

from __future__ import annotations

import sqlite3

from store.record.visits import WORK

OUR_VIEWS = "SELECT name, sql FROM sqlite_schema WHERE type = 'view' ORDER BY name"

_READING_STANDING = """CREATE VIEW reading_standing AS
SELECT person.label, episode.side AS injured_side, reading.taken_on, reading.measure, reading.side, reading.moment,
  reading.value, reading.unit, reading.status, reading.trials, reading.conditions, reading.examiner, reading.note,
  reading.protocol, reading.taken_at, reading.id, reading.person, reading.episode, reading.visit, reading.bout
FROM reading
JOIN person ON person.id = reading.person
LEFT JOIN episode ON episode.id = reading.episode
WHERE reading.retracted_at IS NULL"""

# The newest standing reading of each side; the gap is raw, injured minus uninjured, in the unit.
_GAP_BY_VISIT = """CREATE VIEW gap_by_visit AS
WITH newest AS (
  SELECT reading.*, row_number() OVER (
    PARTITION BY visit, episode, measure, moment, side ORDER BY taken_at DESC, id DESC) AS place
  FROM reading
  WHERE retracted_at IS NULL AND visit IS NOT NULL AND episode IS NOT NULL AND side IS NOT NULL
)
SELECT person.label, visit.started_on AS visit_on, newest.measure, newest.moment, episode.side AS injured_side,
  max(newest.value) FILTER (WHERE newest.side = 'left') AS "left",
  max(newest.value) FILTER (WHERE newest.side = 'right') AS "right",
  max(newest.value) FILTER (WHERE newest.side = episode.side)
    - max(newest.value) FILTER (WHERE newest.side <> episode.side) AS gap,
  newest.unit, newest.visit, newest.episode, newest.person
FROM newest
JOIN episode ON episode.id = newest.episode
JOIN person ON person.id = newest.person
JOIN visit ON visit.id = newest.visit
WHERE newest.place = 1
GROUP BY newest.visit, newest.episode, newest.measure, newest.moment"""

_OPEN_CASELOAD = f"""CREATE VIEW open_caseload AS
SELECT person.label, episode.side AS injured_side, episode.structure, episode.grade, episode.injured_on,
  episode.opened_on, episode.goal, episode.goal_on,
  (SELECT max(started_on) FROM visit WHERE visit.episode = episode.id AND {WORK}) AS last_visit_on,
  (SELECT count(*) FROM visit WHERE visit.episode = episode.id AND {WORK}) AS visits,
  (SELECT stage FROM stage_decision WHERE stage_decision.episode = episode.id AND retracted_at IS NULL
    ORDER BY decided_at DESC, id DESC LIMIT 1) AS stage,
  episode.id AS episode, episode.person
FROM episode
JOIN person ON person.id = episode.person
WHERE episode.closed_at IS NULL
ORDER BY person.label COLLATE NOCASE, person.label, episode.opened_at, episode.id"""

_BOUT_STANDING = """CREATE VIEW bout_standing AS
SELECT person.label, bout.started_on, bout.activity, bout.kind, bout.ended_at IS NOT NULL AS ended,
  (SELECT count(*) FROM bout_event WHERE bout_event.bout = bout.id) AS events,
  bout.measure, bout.moment, bout.examiner, bout.started_at, bout.ended_at, bout.id, bout.person, bout.episode,
  bout.visit
FROM bout
JOIN person ON person.id = bout.person
WHERE bout.retracted_at IS NULL"""

_RUN_STANDING = """CREATE VIEW run_standing AS
SELECT person.label, episode.side AS injured_side, run_session.planned_on, run_session.done_on, run_plan.ladder,
  run_session.rung, run_session.minutes, run_session.distance_km, run_session.pain_during,
  run_session.pain_morning, run_session.pain_usual, run_session.swelling, run_session.note, run_session.id,
  run_session.person, run_session.episode
FROM run_session
JOIN person ON person.id = run_session.person
JOIN episode ON episode.id = run_session.episode
LEFT JOIN run_plan ON run_plan.id = run_session.plan
WHERE run_session.retracted_at IS NULL"""

_CORRECTION = """CREATE VIEW correction AS
SELECT revised_at, revised_by, revised_because, row_table, row_id, was FROM amendment ORDER BY revision"""

VIEW_SQL = {
    "reading_standing": _READING_STANDING,
    "gap_by_visit": _GAP_BY_VISIT,
    "open_caseload": _OPEN_CASELOAD,
    "bout_standing": _BOUT_STANDING,
    "run_standing": _RUN_STANDING,
    "correction": _CORRECTION,
}


def rebuild_views(db: sqlite3.Connection) -> None:
    """Take away every view and make ours. To be called in a transaction."""
    drop_views(db)
    for sql in VIEW_SQL.values():
        db.execute(sql)


def drop_views(db: sqlite3.Connection) -> None:
    """Take away every view, as a migration must before it touches the tables they read."""
    for name, _ in db.execute(OUR_VIEWS).fetchall():
        db.execute(f'DROP VIEW "{name}"')
