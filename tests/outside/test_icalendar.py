"""A calendar read by a library that is not ours, and against RFC 5545: 3.1 lines of 75 octets that end in CRLF,
3.3.11 escapes, 3.6 PRODID, VERSION, UID and DTSTAMP, which that library does not ask for by itself.

The time in an identifier: the worked UUIDv7 of RFC 9562, appendix A.6, of 2022-02-22T14:22:22-05:00.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import icalendar

from store.care import appointments, run_acts
from store.care.everything import Everything, everything_of
from store.care.people import close_episode
from store.care.visits import end_visit
from store.knowledge.appointment import Appointment
from store.papers.ics_out import ics_parts
from tests.care.begun import Begun, begun


def held_of(now: Begun) -> Everything:
    return everything_of(now.care, now.care.person(now.episode.person))


def text_of(now: Begun, *held: Everything) -> bytes:
    return b"".join(ics_parts(held or [held_of(now)], now.clock.now()))


def events(data: bytes) -> list[icalendar.Event]:
    calendar = icalendar.Calendar.from_ical(data)
    assert calendar["PRODID"]
    assert calendar["VERSION"] == "2.0"
    found = [each for each in calendar.walk("VEVENT") if isinstance(each, icalendar.Event)]
    assert all(each["UID"] and each["DTSTAMP"] for each in found)
    assert not any(each.errors for each in found)
    return found


def test_an_appointment_is_read_as_it_was_planned_moved_and_called_off(tmp_path: Path) -> None:
    now = begun(tmp_path)
    person = now.care.person(now.episode.person)
    planned = appointments.plan(now.care, person, "thu 10:40").after
    [event] = events(text_of(now))
    assert event["UID"] == planned.id
    assert event.start == datetime(2026, 11, 26, 9, 40, tzinfo=UTC)
    assert event.end - event.start == timedelta(minutes=30)
    assert (str(event["SUMMARY"]), str(event["STATUS"]), event.sequence) == ("R.K.", "CONFIRMED", 0)
    moved = appointments.move(now.care, planned, "fri 9:00").after
    [event] = events(text_of(now))
    assert (event["UID"], event["SEQUENCE"]) == (planned.id, 1)
    assert event.start == datetime(2026, 11, 27, 8, 0, tzinfo=UTC)
    appointments.call_off(now.care, moved)
    [event] = events(text_of(now))
    assert (event["UID"], event["SEQUENCE"], event["STATUS"]) == (planned.id, 2, "CANCELLED")


def test_any_text_comes_back_and_no_line_is_too_long(tmp_path: Path) -> None:
    now = begun(tmp_path)
    held = held_of(now)
    due = now.clock.now()
    for text in ("a;b,c\\d", "two\nlines", "é" * 100, "x" * 10_000, "=1+1", "\N{SNOWMAN}" * 60, 'a "b": c'):
        one = Appointment("01890000-0000-7000-8000-000000000001", held.person.id, due, note=text)
        given = replace(held, person=held.person._replace(label=text), appointments=(one,))
        data = text_of(now, given)
        [event] = events(data)
        assert (event["SUMMARY"], event["DESCRIPTION"]) == (text, text)
        lines = data.split(b"\r\n")
        assert lines.pop() == b""
        assert all(len(line) <= 75 and b"\n" not in line and b"\r" not in line for line in lines)
        for line in lines:
            line.decode("utf-8")


def test_an_event_is_stamped_with_the_time_in_its_revision(tmp_path: Path) -> None:
    now = begun(tmp_path)
    held = held_of(now)
    worked = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
    one = Appointment(worked, held.person.id, now.clock.now(), revision=worked)
    [event] = events(text_of(now, replace(held, appointments=(one,))))
    assert datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC) == event.DTSTAMP
    [event] = events(text_of(now, replace(held, appointments=(one._replace(revision="by another hand"),))))
    assert now.clock.now().at == event.DTSTAMP


def test_the_same_record_gives_the_same_calendar(tmp_path: Path) -> None:
    now = begun(tmp_path)
    appointments.plan(now.care, now.care.person(now.episode.person), "thu 10:40")
    first = text_of(now)
    now.clock.move(3600)
    assert text_of(now) == first


def runs_of(now: Begun) -> dict[str, icalendar.Event]:
    """The sessions of running, by UID, each a whole day that takes no time away."""
    found = {str(each["UID"]): each for each in events(text_of(now))}
    assert len(found) == len(events(text_of(now)))
    for each in found.values():
        assert type(each.start) is date
        assert each.end - each.start == timedelta(days=1)
        assert each["TRANSP"] == "TRANSPARENT"
    return found


def test_a_planned_run_is_a_day_that_moves_under_its_own_id(tmp_path: Path) -> None:
    """RFC 5545, 3.6.1: DTSTART and DTEND as dates, the end not in them; 3.8.7.4: SEQUENCE grows with a change."""
    now = begun(tmp_path)
    planned = run_acts.plan(now.care, now.episode.id, "wed fri", all_the_same=True)
    first = runs_of(now)
    assert [(each.start, str(each["SUMMARY"])) for each in first.values()][:3] == [
        (date(2026, 11, 25), "R.K.: run 1:4x5"),
        (date(2026, 11, 27), "R.K.: run 1:4x5"),
        (date(2026, 12, 2), "R.K.: run 2:3x5"),
    ]
    assert {(each["SEQUENCE"], str(each["STATUS"])) for each in first.values()} == {(0, "CONFIRMED")}
    assert "Only if the run before was clean" in str(first[next(iter(first))]["DESCRIPTION"])
    run_acts.plan(now.care, now.episode.id, "thu sat", all_the_same=True)
    moved = runs_of(now)
    assert first.keys() <= moved.keys()
    one = next(iter(first))
    assert (moved[one].start, moved[one].sequence) == (date(2026, 11, 26), 1)
    assert moved[one].DTSTAMP >= first[one].DTSTAMP
    assert planned.steps


def test_a_run_that_is_called_off_or_left_behind_is_struck_out(tmp_path: Path) -> None:
    """RFC 5546, 3.2.5: what is cancelled keeps its UID, with a higher SEQUENCE and STATUS:CANCELLED."""
    now = begun(tmp_path)
    run_acts.plan(now.care, now.episode.id, "wed fri", all_the_same=True)
    count = len(runs_of(now))
    run_acts.tell(now.care, now.episode.id, "pain 0 swelling no")
    end_visit(now.care, now.visit)
    close_episode(now.care, now.care.episode(now.episode.id))
    assert [str(each["STATUS"]) for each in runs_of(now).values()].count("CONFIRMED") == 1  # the one that was run
    (tmp_path / "other").mkdir()
    other = begun(tmp_path / "other")
    run_acts.plan(other.care, other.episode.id, "wed fri", all_the_same=True)
    run_acts.plan(other.care, other.episode.id, "off")
    found = runs_of(other)
    assert len(found) == count
    assert {(each["SEQUENCE"], str(each["STATUS"])) for each in found.values()} == {(1, "CANCELLED")}
