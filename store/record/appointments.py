"""Appointments: contacts that are planned, by person and by day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of
from store.record.visits import WORK

if TYPE_CHECKING:
    from store.knowledge.appointment import Appointment


def _appointment(row: Row) -> Appointment:
    from store.knowledge.appointment import Appointment  # of no use where nobody is planned

    due = stamp_of(row[3], row[4])
    assert due is not None
    return Appointment(row[0], row[1], due, row[2], row[5], row[6], stamp_of(row[7], row[8]), row[9])


APPOINTMENT: Shelf[Appointment] = Shelf(
    "appointment",
    "id, person, episode, due_at, due_offset_min, minutes, note, retracted_at, retracted_offset_min, revision",
    _appointment,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        **instant("due", one.due),
        "minutes": one.minutes,
        "note": one.note,
        **instant("retracted", one.retracted, local_date=False),
    },
)


# Each visit of a day that counts keeps one appointment of it, the earliest first: the others wait.
WAITS = f"""(SELECT count(*) FROM visit WHERE visit.person = appointment.person
  AND visit.started_on = appointment.due_on AND visit.kind <> 'practice' AND {WORK})
<= (SELECT count(*) FROM appointment AS earlier WHERE earlier.person = appointment.person
  AND earlier.due_on = appointment.due_on AND earlier.retracted_at IS NULL
  AND (earlier.due_at, earlier.id) < (appointment.due_at, appointment.id))"""
OF_PERSON = APPOINTMENT.select("person = :person ORDER BY due_at, id")
NEXT = APPOINTMENT.select(f"""id IN (SELECT (SELECT id FROM appointment
  WHERE person = json_each.value AND retracted_at IS NULL AND due_on >= :day AND {WAITS}
  ORDER BY due_at, id LIMIT 1) FROM json_each(:people))""")
WAITING_TODAY = f"""SELECT appointment.person AS person, min(appointment.due_at) AS due_at FROM appointment
WHERE appointment.due_on = :today AND appointment.retracted_at IS NULL AND {WAITS} GROUP BY appointment.person"""


def appointments_of(record: Record, person_id: str) -> list[Appointment]:
    """All of a person that stand, in order of time."""
    return APPOINTMENT.found(record, OF_PERSON, {"person": person_id})


def next_of(record: Record, people: Sequence[str], day: date) -> dict[str, Appointment]:
    """The next appointment of each of these people from a local date on, by person; none where there is none.

    Of that day it may be one whose time has passed: it waits until a visit keeps it.
    """
    values = {"people": as_json(list(people)), "day": day.isoformat()}
    return {one.person: one for one in APPOINTMENT.found(record, NEXT, values)}
