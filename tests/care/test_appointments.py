"""Appointments: planned, moved, called off, taken back, kept by a visit, and told."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from store.care import visits
from store.care.adding import add_line
from store.care.appointments import coming_words, due_words, next_appointment, plan, take_back
from store.care.care import Care
from store.care.caseload import caseload, everybody
from store.care.faults import CareFault, EntryError
from store.care.people import EpisodeForm, close_episode, new_person
from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Episode, Person, Side
from store.record.amendments import amendments_of
from tests.screens.made import BRUSSELS, NOW, opened


@pytest.fixture
def made(tmp_path: Path) -> tuple[Care, SetClock]:
    return opened(tmp_path)


def added(care: Care, label: str) -> tuple[Person, Episode]:
    person, episode = new_person(care, label, form=EpisodeForm(Side.RIGHT))
    assert episode is not None
    return person, episode


def test_one_is_planned_moved_and_called_off(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    person, episode = added(care, "R.K.")
    assert plan(care, person, "thu 10:40", episode.id).says == "next visit Thu 10:40"
    assert coming_words(care, person.id) == "Thu 10:40"
    assert plan(care, person, "3 dec 14:00 45min").says == "moved from Thu 10:40 to 3 Dec 14:00"
    one = next_appointment(care, person.id)
    assert one is not None
    assert (one.minutes, one.episode) == (45, episode.id)
    assert plan(care, person, "also fri 9:00").says == "next visit Fri 09:00"
    assert plan(care, person, "OFF").says == "called off Fri 09:00"
    assert coming_words(care, person.id) == "3 Dec 14:00"
    assert [kept.because for kept in amendments_of(care.record, "appointment", one.id)] == ["moved"]


def test_each_act_can_be_taken_back(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    person, _ = added(care, "R.K.")
    first = plan(care, person, "thu 10:40")
    moved = plan(care, person, "fri 9:00")
    off = plan(care, person, "off")
    assert take_back(care, off) == "took back: called off Fri 09:00"
    assert coming_words(care, person.id) == "Fri 09:00"
    person, _ = added(care, "T.M.")
    first = plan(care, person, "thu 10:40")
    moved = plan(care, person, "fri 9:00")
    take_back(care, moved)
    assert coming_words(care, person.id) == "Thu 10:40"
    person, _ = added(care, "A.O.")
    first = plan(care, person, "thu 10:40")
    assert take_back(care, first) == "took back: next visit Thu 10:40"
    assert coming_words(care, person.id) == ""


def test_what_cannot_be_planned_says_why_and_nothing_is_kept(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    person, _ = added(care, "R.K.")
    with pytest.raises(EntryError, match="in the past"):
        plan(care, person, "today 9:00")
    with pytest.raises(CareFault, match="none to call off"):
        plan(care, person, "off")
    plan(care, person, "thu 10:40")
    with pytest.raises(CareFault, match="at that time already"):
        plan(care, person, "also thu 10:40")
    assert coming_words(care, person.id) == "Thu 10:40"


@pytest.mark.parametrize(
    ("days", "short", "long"),
    [
        (0, "today 10:38", "today 10:38"),
        (1, "Thu", "Thu 10:38"),
        (6, "Tue", "Tue 10:38"),
        (7, "2 Dec", "2 Dec 10:38"),
        (299, "20 Sep", "20 Sep 11:38"),
        (365, "25 Nov 2027", "25 Nov 2027 10:38"),
    ],
)
def test_when_in_few_words(days: int, short: str, long: str) -> None:
    due = Stamp.of((NOW.astimezone() + timedelta(days=days)).astimezone(BRUSSELS))
    assert due_words(due, NOW.date()) == short
    assert due_words(due, NOW.date(), long=True) == long


def test_whoever_is_expected_today_comes_first_in_order_of_time(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    people = {label: added(care, label) for label in ("A.O.", "B.B.", "R.K.", "T.M.")}
    plan(care, people["T.M."][0], "today 10:40")
    plan(care, people["B.B."][0], "today 16:00")
    plan(care, people["A.O."][0], "thu 9:00")
    rows = caseload(care)
    assert [(row.label, row.next_words) for row in rows] == [
        ("T.M.", "today 10:40"), ("B.B.", "today 16:00"), ("A.O.", "Thu"), ("R.K.", ""),
    ]  # fmt: skip
    assert [row.label for row in caseload(care, limit=2, offset=1)] == ["B.B.", "A.O."]
    assert [row.label for row in caseload(care, "b")] == ["B.B."]


def test_a_visit_that_counts_keeps_the_appointment_of_its_day(made: tuple[Care, SetClock]) -> None:
    care, clock = made
    person, episode = added(care, "R.K.")
    plan(care, person, "today 10:40")
    plan(care, person, "also today 16:00")
    plan(care, person, "also thu 9:00")
    clock.move(3600)
    assert coming_words(care, person.id) == "today 10:40"  # late, and still waited for
    visit = visits.start_visit(care, episode)
    assert coming_words(care, person.id) == "today 10:40"  # one that was only opened is none
    visits.said(care, visit, "pain 2")
    assert coming_words(care, person.id) == "today 16:00"
    visits.end_visit(care, care.visit(visit.id))
    visits.said(care, visits.start_visit(care, episode), "pain 2")
    assert coming_words(care, person.id) == "Thu 09:00"


def test_one_that_nobody_came_to_is_gone_the_next_day(made: tuple[Care, SetClock]) -> None:
    care, clock = made
    person, _ = added(care, "R.K.")
    plan(care, person, "today 10:40")
    clock.put(datetime(2026, 11, 26, 0, 1, tzinfo=BRUSSELS))
    assert coming_words(care, person.id) == ""


def test_a_closed_episode_and_a_person_without_one_can_be_expected(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    person, episode = added(care, "R.K.")
    bare, _ = new_person(care, "N.N.")
    close_episode(care, episode)
    plan(care, person, "2027-02-25 9:00")
    plan(care, bare, "tomorrow 9:00")
    assert [(row.label, row.next_words) for row in everybody(care)] == [("R.K.", "25 Feb"), ("N.N.", "Thu")]


def test_only_one_person_is_listed_when_asked_for(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    person, _ = added(care, "R.K.")
    _, closed = added(care, "T.M.")
    close_episode(care, closed)
    new_person(care, "N.N.")
    assert [row.label for row in caseload(care, only=person.id)] == ["R.K."]
    assert caseload(care, closed=True, only=person.id) == ()
    assert caseload(care, "t", closed=True, only=person.id) == ()


def test_the_day_of_a_visit_across_midnight_is_the_one_it_began_on(made: tuple[Care, SetClock]) -> None:
    care, clock = made
    person, _ = added(care, "R.K.")
    clock.put(datetime(2026, 11, 25, 23, 30, tzinfo=BRUSSELS))
    plan(care, person, "tomorrow 0:15")
    add_line(care, person, "pain_now 2")
    assert date(2026, 11, 25) == clock.now().on
    clock.put(datetime(2026, 11, 26, 0, 10, tzinfo=BRUSSELS))
    assert coming_words(care, person.id) == "today 00:15"
