"""Visits: added, amended, and found by episode, person or day."""

from __future__ import annotations

from datetime import date

from store.knowledge.words import Visit
from store.record import clinical
from store.record.handle import Record
from store.record.rows import VISIT_COLUMNS, visit_of, visit_values

VISIT = f"SELECT {VISIT_COLUMNS} FROM visit WHERE id = :id"
UNAMENDED = "SELECT 1 FROM visit WHERE id = :id AND revision = :revision"
OF_EPISODE = f"SELECT {VISIT_COLUMNS} FROM visit WHERE episode = :episode ORDER BY started_at, id"
OF_PERSON = f"SELECT {VISIT_COLUMNS} FROM visit WHERE person = :person ORDER BY started_at, id"
LAST = f"SELECT {VISIT_COLUMNS} FROM visit WHERE episode = :episode ORDER BY started_at DESC, id DESC LIMIT 1"
OPEN = f"""SELECT {VISIT_COLUMNS} FROM visit
WHERE episode = :episode AND ended_at IS NULL ORDER BY started_at DESC, id DESC LIMIT 1"""
WORK = """(visit.said IS NOT NULL OR visit.gave_way IS NOT NULL OR visit.home_done IS NOT NULL
  OR visit.consent_at IS NOT NULL
  OR EXISTS (SELECT 1 FROM reading WHERE reading.visit = visit.id AND reading.retracted_at IS NULL)
  OR EXISTS (SELECT 1 FROM bout WHERE bout.visit = visit.id AND bout.retracted_at IS NULL
    AND EXISTS (SELECT 1 FROM bout_event WHERE bout_event.bout = bout.id AND bout_event.kind = 'set_started'))
  OR EXISTS (SELECT 1 FROM safety_screen WHERE safety_screen.episode = visit.episode
    AND safety_screen.visit = visit.id AND safety_screen.retracted_at IS NULL))"""
"""A visit counts once something was said, measured or timed in it; one that was only opened is none."""
WORKED = f"SELECT 1 FROM visit WHERE id = :id AND {WORK}"
WORKED_OF_EPISODE = f"""SELECT {VISIT_COLUMNS} FROM visit
WHERE episode = :episode AND {WORK} ORDER BY started_at DESC, id DESC LIMIT :most"""
LAST_WORKED = f"""SELECT {VISIT_COLUMNS} FROM visit
WHERE episode = :episode AND id < :before AND {WORK} ORDER BY started_at DESC, id DESC LIMIT 1"""
SEEN_ON = f"""SELECT count(DISTINCT person) FROM visit
WHERE started_on = :day AND kind <> 'practice' AND {WORK}"""


def add_visit(record: Record, visit: Visit, *, by: str = "") -> Visit:
    """Keep a new visit; one without an id gets the next. `by` is its examiner unless given. Raises RecordFault."""
    visit = visit._replace(id=visit.id or record.new_id(), revision=record.new_id())
    clinical.add(record, "visit", [visit_values(visit)], visit.revision, by or visit.examiner)
    return visit


def revise_visit(record: Record, visit: Visit, *, by: str, because: str) -> Visit:
    """Amend a visit as read at its revision. Raises RecordFault when it was amended meanwhile."""
    values = visit_values(visit)
    return visit._replace(revision=clinical.amend(record, "visit", values, visit.revision, by, because))


def visit(record: Record, visit_id: str) -> Visit | None:
    """The visit with this id, if there is one."""
    row = record.read_one(VISIT, {"id": visit_id})
    return visit_of(row) if row else None


def unamended(record: Record, visit: Visit) -> bool:
    """Whether a visit stands as it was read: each amendment gives it another revision."""
    return record.read_one(UNAMENDED, {"id": visit.id, "revision": visit.revision}) is not None


def visits_of_episode(record: Record, episode_id: str) -> list[Visit]:
    """All of an episode, oldest first."""
    return [visit_of(row) for row in record.read(OF_EPISODE, {"episode": episode_id})]


def visits_of_person(record: Record, person_id: str) -> list[Visit]:
    """All of a person, whatever the episode, oldest first."""
    return [visit_of(row) for row in record.read(OF_PERSON, {"person": person_id})]


def last_visit(record: Record, episode_id: str) -> Visit | None:
    """The newest of an episode, ended or not."""
    row = record.read_one(LAST, {"episode": episode_id})
    return visit_of(row) if row else None


def has_work(record: Record, visit_id: str) -> bool:
    """Whether something that stands was said, measured or timed in a visit."""
    return record.read_one(WORKED, {"id": visit_id}) is not None


def worked_visits(record: Record, episode_id: str, most: int = -1) -> list[Visit]:
    """Those of an episode that count, newest first; the newest so many where `most` is not negative."""
    return [visit_of(row) for row in record.read(WORKED_OF_EPISODE, {"episode": episode_id, "most": most})]


def last_worked_visit(record: Record, episode_id: str, before: str) -> Visit | None:
    """The newest of an episode that counts and was begun before the visit with this id."""
    row = record.read_one(LAST_WORKED, {"episode": episode_id, "before": before})
    return visit_of(row) if row else None


def open_visit(record: Record, episode_id: str) -> Visit | None:
    """The newest of an episode that has not ended."""
    row = record.read_one(OPEN, {"episode": episode_id})
    return visit_of(row) if row else None


def count_people_seen_on(record: Record, day: date) -> int:
    """How many people had a visit that began on this local date and counts; practice does not."""
    return int(record.read(SEEN_ON, {"day": day.isoformat()})[0][0])
