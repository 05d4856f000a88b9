"""Visits come back whole; the open one, the last one and the day's count are found."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Episode, Person, Step, Visit, VisitKind
from store.record import visits
from store.record.file import Record
from store.record.people import add_person


def test_a_visit_comes_back_as_added(record: Record, visit: Visit, clock: SetClock) -> None:
    whole = replace(
        visit,
        id="",
        kind=VisitKind.SIDELINE,
        ended=clock.now(),
        gave_way=1,
        home_done=5,
        home_planned=7,
        said="pain 2 worst 4 – ‘stairs’",
        consent=clock.now(),
        slot_min=45,
        plan=(Step("s1", "measure", "lunge", 4.0), Step("s2", "activity", "direction_shifts", 3.0, dropped=True)),
    )
    kept = visits.add_visit(record, whole)
    assert kept == replace(whole, id=kept.id, revision=kept.revision)
    assert visits.visit(record, kept.id) == kept
    assert visits.visit(record, "no such") is None


def test_the_open_and_the_last_visit(record: Record, visit: Visit, episode: Episode, clock: SetClock) -> None:
    assert visits.open_visit(record, episode.id) == visits.last_visit(record, episode.id) == visit
    ended = visits.revise_visit(record, replace(visit, ended=clock.now()), by="AB", because="ended")
    assert visits.open_visit(record, episode.id) is None
    assert visits.last_visit(record, episode.id) == ended
    clock.move(7 * 86400)
    later = visits.add_visit(record, Visit("", visit.person, clock.now(), episode=episode.id))
    assert visits.last_visit(record, episode.id) == visits.open_visit(record, episode.id) == later
    assert visits.visits_of_episode(record, episode.id) == visits.visits_of_person(record, visit.person)
    assert visits.visits_of_episode(record, episode.id) == [ended, later]


def test_people_seen_on_a_day_are_counted_once_and_practice_is_none(
    record: Record, visit: Visit, clock: SetClock
) -> None:
    other = add_person(record, Person("", "T.M."))
    visits.add_visit(record, Visit("", visit.person, clock.now()))
    visits.add_visit(record, Visit("", other.id, clock.now(), kind=VisitKind.PRACTICE))
    assert visits.count_people_seen_on(record, date(2026, 11, 25)) == 1
    visits.add_visit(record, Visit("", other.id, clock.now(), kind=VisitKind.SIDELINE))
    assert visits.count_people_seen_on(record, date(2026, 11, 25)) == 2
    assert visits.count_people_seen_on(record, date(2026, 11, 26)) == 0


def test_a_visit_belongs_to_the_day_on_which_it_was_lived(record: Record, person: Person) -> None:
    """Half past midnight in Berlin is still the day before in UTC; and daylight saving ends inside the visit."""
    berlin = ZoneInfo("Europe/Berlin")
    started = Stamp.of(datetime(2026, 10, 25, 0, 30, tzinfo=berlin))
    ended = Stamp.of(datetime(2026, 10, 25, 3, 30, tzinfo=berlin))
    kept = visits.add_visit(record, Visit("", person.id, started, ended=ended))
    row = record.db.execute(
        "SELECT started_at, started_on, started_offset_min, ended_offset_min FROM visit"
    ).fetchone()
    assert row == ("2026-10-24T22:30:00.000Z", "2026-10-25", 120, 60)
    assert visits.visit(record, kept.id) == kept
    assert visits.count_people_seen_on(record, date(2026, 10, 25)) == 1
