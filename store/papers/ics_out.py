"""Appointments and sessions of running as a calendar (iCalendar, RFC 5545): an event each.

An appointment has its time in UTC; a session has its day, whatever the zone. The id of either is its UID and its
corrections are counted, so that a calendar that takes the file in twice has nothing twice, and what was moved or
called off is moved or struck out there.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta

from store.care.everything import Everything
from store.knowledge.appointment import Appointment
from store.knowledge.runs import RunSession
from store.knowledge.time import Stamp

PRODID = "-//bothfeet//appointments and runs//EN"
RUN_SAYS = (
    "Minutes run and walked in turn, so often. Only if the run before was clean: little pain, no swelling, a "
    "morning as usual. Else ask your clinician first."
)
"""What stands with each session of running."""

FOLD = 75
"""Octets of a line, its break left out."""

_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")
_ESCAPED = re.compile(r"([\\;,])")
_V7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-")


def ics_parts(people: Iterable[Everything], made: Stamp) -> Iterator[bytes]:
    """The calendar in UTF-8, a part a person. `made` stands where it is not known when one was last changed."""
    yield _lines("BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODID}", "CALSCALE:GREGORIAN")
    for held in people:
        tables = ("appointment", "run_session")
        changed = Counter(one.row_id for one in held.amendments if one.row_table in tables)
        for one in held.appointments:
            yield _lines(*_event(held.person.label, one, changed[one.id], made))
        closed = {one.id for one in held.episodes if one.closed is not None}
        for run in held.run_sessions:
            if run.planned_on is not None:
                off = run.retracted is not None or (run.done_on is None and run.episode in closed)
                yield _lines(*_run(held, run, changed[run.id], made, off=off))
    yield _lines("END:VCALENDAR")


def _event(label: str, one: Appointment, changed: int, made: Stamp) -> list[str]:
    return [
        "BEGIN:VEVENT",
        f"UID:{one.id}",
        f"DTSTAMP:{_utc(_changed_at(one.revision) or made.at)}",
        f"SEQUENCE:{changed}",
        f"DTSTART:{_utc(one.due.at)}",
        f"DTEND:{_utc(one.due.at + timedelta(minutes=one.minutes))}",
        f"SUMMARY:{_text(label)}",
        *([f"DESCRIPTION:{_text(one.note)}"] if one.note.strip() else []),
        f"STATUS:{'CONFIRMED' if one.retracted is None else 'CANCELLED'}",
        "CLASS:PRIVATE",
        "END:VEVENT",
    ]


def _run(held: Everything, one: RunSession, changed: int, made: Stamp, *, off: bool) -> list[str]:
    """A session of running: a whole day, which takes no time away from others."""
    day = one.done_on or one.planned_on
    assert day is not None
    rung = held.rungs.get(one.id, f"rung {one.rung}")
    return [
        "BEGIN:VEVENT",
        f"UID:{one.id}",
        f"DTSTAMP:{_utc(_changed_at(one.revision) or made.at)}",
        f"SEQUENCE:{changed}",
        f"DTSTART;VALUE=DATE:{day:%Y%m%d}",
        f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}",
        f"SUMMARY:{_text(f'{held.person.label}: run {rung}')}",
        f"DESCRIPTION:{_text(RUN_SAYS)}",
        f"STATUS:{'CANCELLED' if off else 'CONFIRMED'}",
        "TRANSP:TRANSPARENT",
        "CLASS:PRIVATE",
        "END:VEVENT",
    ]


def _changed_at(revision: str) -> datetime | None:
    """When a row was last changed: the first 48 bits of a UUIDv7 are its milliseconds (RFC 9562, section 5.7)."""
    if not _V7.match(revision):
        return None
    return datetime.fromtimestamp(int(revision[:8] + revision[9:13], 16) / 1000, UTC)


def _utc(at: datetime) -> str:
    return f"{at:%Y%m%dT%H%M%SZ}"


def _text(text: str) -> str:
    """A text with its line breaks and separators escaped (3.3.11); what no calendar may hold is left out."""
    lines = "\n".join(text.splitlines()) if text else ""
    return _ESCAPED.sub(r"\\\1", _CONTROL.sub("", lines)).replace("\n", "\\n")


def _lines(*lines: str) -> bytes:
    return b"".join(_folded(line) + b"\r\n" for line in lines)


def _folded(line: str) -> bytes:
    """A line in pieces of at most 75 octets (3.1), no character cut in two."""
    pieces, piece, room = [], b"", FOLD
    for char in line:
        octets = char.encode("utf-8")
        if len(piece) + len(octets) > room:
            pieces.append(piece)
            piece, room = b"", FOLD - 1  # the blank before it
        piece += octets
    return b"\r\n ".join([*pieces, piece])
