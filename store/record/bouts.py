"""Bouts and what happened in them: events are added one after another, each on disk before it counts."""

from __future__ import annotations

from collections.abc import Sequence

from store.knowledge.words import BoutEvent, BoutRow
from store.record import clinical
from store.record.faults import FaultKind, RecordFault
from store.record.handle import Record
from store.record.rows import BOUT_COLUMNS, EVENT_COLUMNS, bout_of, bout_values, event_of, event_row

BOUT = f"SELECT {BOUT_COLUMNS} FROM bout WHERE id = :id"
OF_VISIT = f"""SELECT {BOUT_COLUMNS} FROM bout
WHERE visit = :visit AND retracted_at IS NULL ORDER BY started_at, id"""
UNFINISHED = f"""SELECT {BOUT_COLUMNS} FROM bout
WHERE ended_at IS NULL AND retracted_at IS NULL ORDER BY started_at, id"""
UNFINISHED_OF_PERSON = f"""SELECT {BOUT_COLUMNS} FROM bout
WHERE ended_at IS NULL AND retracted_at IS NULL AND person = :person ORDER BY started_at, id"""
LAST_ENDED = f"""SELECT {BOUT_COLUMNS} FROM bout
WHERE visit IN (SELECT id FROM visit WHERE episode = :episode) AND activity = :activity
  AND ended_at IS NOT NULL AND retracted_at IS NULL ORDER BY ended_at DESC, id DESC LIMIT 1"""
EVENTS = f"SELECT {EVENT_COLUMNS} FROM bout_event WHERE bout = :bout ORDER BY seq"
NEW_EVENT = f"INSERT INTO bout_event ({EVENT_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)"
LAST_SEQ = "SELECT max(seq) FROM bout_event WHERE bout = :bout"


def add_bout(record: Record, bout: BoutRow, *, by: str = "") -> BoutRow:
    """Keep a new bout; one without an id gets the next. `by` is its examiner unless given. Raises RecordFault."""
    bout = bout._replace(id=bout.id or record.new_id(), revision=record.new_id())
    clinical.add(record, "bout", [bout_values(bout)], bout.revision, by or bout.examiner)
    return bout


def revise_bout(record: Record, bout: BoutRow, *, by: str, because: str) -> BoutRow:
    """Amend a bout as read at its revision. Raises RecordFault when it was amended meanwhile."""
    values = bout_values(bout)
    return bout._replace(revision=clinical.amend(record, "bout", values, bout.revision, by, because))


def bout(record: Record, bout_id: str) -> BoutRow | None:
    """The bout with this id, retracted or not, if there is one."""
    row = record.read_one(BOUT, {"id": bout_id})
    return bout_of(row) if row else None


def bouts_of_visit(record: Record, visit_id: str) -> list[BoutRow]:
    """All of a visit but the retracted, oldest first."""
    return [bout_of(row) for row in record.read(OF_VISIT, {"visit": visit_id})]


def unfinished_bouts(record: Record, *, person: str | None = None, episode: str | None = None) -> list[BoutRow]:
    """Those that neither ended nor were retracted, oldest first: all, or those of a person or of an episode."""
    rows = record.read(UNFINISHED_OF_PERSON, {"person": person}) if person else record.read(UNFINISHED, {})
    found = [bout_of(row) for row in rows]
    return [bout for bout in found if episode is None or bout.episode == episode]


def last_ended(record: Record, episode: str, activity: str) -> BoutRow | None:
    """The newest bout of an activity in the visits of an episode that was ended and stands, if there is one."""
    row = record.read_one(LAST_ENDED, {"episode": episode, "activity": activity})
    return bout_of(row) if row is not None else None


def add_event(record: Record, event: BoutEvent) -> None:
    """Add one event and put it on disk. Raises RecordFault; then it did not happen."""
    add_events(record, [event])


def add_events(record: Record, events: Sequence[BoutEvent]) -> None:
    """Add events in one transaction, each numbered one more than the last of its bout; the first is 0 or 1.

    Raises RecordFault when another window has added to the bout meanwhile.
    """
    with record.write_tx(single=len(events) == 1) as db:
        last: dict[str, int | None] = {}
        for event in events:
            if event.bout not in last:
                last[event.bout] = record.read(LAST_SEQ, {"bout": event.bout})[0][0]
            before = last[event.bout]
            if event.seq not in ((0, 1) if before is None else (before + 1,)):
                raise RecordFault(
                    FaultKind.CHANGED,
                    "This timer was taken over by another window: go on there, or esc goes back.",
                )
            last[event.bout] = event.seq
        db.executemany(NEW_EVENT, [event_row(event) for event in events])


def events_of(record: Record, bout_id: str) -> list[BoutEvent]:
    """All that happened in a bout, in order."""
    return [event_of(row) for row in record.read(EVENTS, {"bout": bout_id})]
