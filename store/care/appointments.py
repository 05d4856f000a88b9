"""Appointments: planned, moved, called off; and when somebody comes next, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from store.care.care import Care
from store.care.dates import time_text, weekday_text
from store.care.faults import CareFault
from store.knowledge.time import MONTHS, Stamp
from store.knowledge.words import Person
from store.record import appointments

if TYPE_CHECKING:
    from store.knowledge.appointment import Appointment

OFF, ALSO = "off", "also"
"""Words of the line: the next appointment is called off; another one is planned beside it."""

USUAL_MIN = 30
"""Minutes of an appointment of which nothing else is said."""

SOON = 300  # days within which a day needs no year
WEEK = 7  # days: within them the day of the week says enough


class Change(NamedTuple):
    """One act on an appointment, to be told and taken back: how it stood before (None: it is new) and after."""

    before: Appointment | None
    after: Appointment
    says: str


# reading


def next_appointment(care: Care, person: str) -> Appointment | None:
    """The next one of a person. One of today waits, also past its time, until a visit of today counts."""
    return next_appointments(care, [person]).get(person)


def next_appointments(care: Care, people: Sequence[str]) -> dict[str, Appointment]:
    """The next one of each of these people, by person."""
    return appointments.next_of(care.record, people, care.clock.now().on)


def coming_words(care: Care, person: str) -> str:
    """When a person comes next, with the time; empty where nothing is planned."""
    one = next_appointment(care, person)
    return _told(care, one) if one else ""


def due_words(due: Stamp, today: date, *, long: bool = False) -> str:
    """When, in few words: `today 10:40`, `Thu`, `3 Dec`; `long` adds the time: `Thu 10:40`, `3 Dec 14:00`."""
    days = (due.on - today).days
    if days == 0:
        return f"today {time_text(due)}"
    day = weekday_text(due.on) if 0 < days < WEEK else _day(due.on, today)
    return f"{day} {time_text(due)}" if long else day


def _day(day: date, today: date) -> str:
    text = f"{day.day} {MONTHS[day.month - 1][:3].capitalize()}"
    return text if 0 < (day - today).days < SOON else f"{text} {day.year}"


# acts


def plan(care: Care, person: Person, line: str, episode: str | None = None) -> Change:
    """Do what a line says: `thu 10:40` plans, or moves what is planned; `off` calls it off; `also thu 10:40` adds.

    Raises EntryError on a line that cannot be read, CareFault on what cannot be; then nothing is kept.
    """
    first, _, rest = line.strip().partition(" ")
    now = next_appointment(care, person.id)
    if first.casefold() == OFF and not rest.strip():
        return call_off(care, now)
    if first.casefold() == ALSO:
        return _add(care, person, rest, episode)
    return _add(care, person, line, episode) if now is None else move(care, now, line)


def _add(care: Care, person: Person, line: str, episode: str | None) -> Change:
    due, minutes = _when(care, line)
    _refuse_twice(care, person.id, due)
    from store.knowledge.appointment import Appointment

    new = Appointment("", person.id, due, episode, minutes or USUAL_MIN)
    with care.together():
        kept = appointments.APPOINTMENT.add(care.record, new, by=care.examiner)
    return Change(None, kept, f"next visit {_told(care, kept)}")


def move(care: Care, one: Appointment, line: str) -> Change:
    """Move an appointment to when a line says. Raises EntryError or CareFault."""
    due, minutes = _when(care, line)
    _refuse_twice(care, one.person, due, but=one.id)
    moved = one._replace(due=due, minutes=minutes or one.minutes)
    with care.together():
        kept = appointments.APPOINTMENT.revise(care.record, moved, by=care.examiner, because="moved")
    return Change(one, kept, f"moved from {_told(care, one)} to {_told(care, kept)}")


def call_off(care: Care, one: Appointment | None) -> Change:
    """Call an appointment off; it stays in the file, marked. Raises CareFault when there is none."""
    if one is None:
        raise CareFault("no visit is planned, so there is none to call off: type when, such as thu 10:40")
    with care.together():
        off = appointments.APPOINTMENT.retract(care.record, one, by=care.examiner, because="called off")
    return Change(one, off, f"called off {_told(care, one)}")


def take_back(care: Care, change: Change) -> str:
    """Undo an act, and say so. Raises RecordFault when the appointment was changed again meanwhile."""
    with care.together():
        appointments.APPOINTMENT.take_back(care.record, change.before, change.after, by=care.examiner)
    return f"took back: {change.says}"


def _when(care: Care, line: str) -> tuple[Stamp, int | None]:
    from store.entry.when import parse_when  # read when it is first asked for, not at the start

    found = parse_when(line, care.clock.now(), care.clock.zone)
    return found.due, found.minutes


def _refuse_twice(care: Care, person: str, due: Stamp, but: str = "") -> None:
    if any(one.due.at == due.at and one.id != but for one in appointments.appointments_of(care.record, person)):
        raise CareFault("this person has an appointment at that time already: type another time")


def _told(care: Care, one: Appointment) -> str:
    return due_words(one.due, care.clock.now().on, long=True)
