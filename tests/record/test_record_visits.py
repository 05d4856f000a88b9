"""Visits come back whole; the open one, the last one and the day's count are found."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Episode, Person, Side, Step, Visit, VisitKind
from store.record import bouts, readings, visits
from store.record.file import Record
from store.record.people import add_person
from tests.record.made import event, hold, lunge


def test_a_visit_comes_back_as_added(record: Record, visit: Visit, clock: SetClock) -> None:
    whole = visit._replace(
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
    assert kept == whole._replace(id=kept.id, revision=kept.revision)
    assert visits.visit(record, kept.id) == kept
    assert visits.visit(record, "no such") is None


def test_the_open_and_the_last_visit(record: Record, visit: Visit, episode: Episode, clock: SetClock) -> None:
    assert visits.open_visit(record, episode.id) == visits.last_visit(record, episode.id) == visit
    ended = visits.revise_visit(record, visit._replace(ended=clock.now()), by="AB", because="ended")
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
    for _ in range(2):
        visits.add_visit(record, Visit("", visit.person, clock.now(), gave_way=0))
    visits.add_visit(record, Visit("", other.id, clock.now(), kind=VisitKind.PRACTICE, gave_way=0))
    assert visits.count_people_seen_on(record, date(2026, 11, 25)) == 1
    visits.add_visit(record, Visit("", other.id, clock.now(), kind=VisitKind.SIDELINE, gave_way=0))
    assert visits.count_people_seen_on(record, date(2026, 11, 25)) == 2
    assert visits.count_people_seen_on(record, date(2026, 11, 26)) == 0


def test_a_visit_belongs_to_the_day_on_which_it_was_lived(record: Record, person: Person) -> None:
    """Half past midnight in Berlin is still the day before in UTC; and daylight saving ends inside the visit."""
    berlin = ZoneInfo("Europe/Berlin")
    started = Stamp.of(datetime(2026, 10, 25, 0, 30, tzinfo=berlin))
    ended = Stamp.of(datetime(2026, 10, 25, 3, 30, tzinfo=berlin))
    kept = visits.add_visit(record, Visit("", person.id, started, ended=ended, said="pain 2"))
    row = record.db.execute(
        "SELECT started_at, started_on, started_offset_min, ended_offset_min FROM visit"
    ).fetchone()
    assert row == ("2026-10-24T22:30:00.000Z", "2026-10-25", 120, 60)
    assert visits.visit(record, kept.id) == kept
    assert visits.count_people_seen_on(record, date(2026, 10, 25)) == 1


def test_a_visit_counts_once_something_that_stands_was_said_measured_or_timed_in_it(
    record: Record, visit: Visit, episode: Episode, clock: SetClock
) -> None:
    def counts() -> bool:
        listed = visit.id in [one.id for one in visits.worked_visits(record, episode.id)]
        last = visits.last_worked_visit(record, episode.id, before="f")
        assert listed == visits.has_work(record, visit.id) == (last is not None)
        assert visits.count_people_seen_on(record, visit.started.on) == int(listed)
        return listed

    assert not counts()
    (reading,) = readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])
    assert counts()
    readings.retract_readings(record, [reading.id], by="AB", because="undo")
    assert not counts()
    bout = bouts.add_bout(record, hold(visit, clock))
    assert not counts(), "a timer that was opened and never started is no work"
    bouts.add_event(record, event(bout, clock, 1, "set_started"))
    assert counts()
    bouts.revise_bout(record, bout._replace(retracted=clock.now()), by="AB", because="undo")
    assert not counts()
    said = visits.revise_visit(record, visit._replace(said="consent n"), by="AB", because="said")
    assert counts()
    visits.revise_visit(record, said._replace(said=None), by="AB", because="undo")
    assert not counts()


def test_visits_that_count_come_newest_first_and_as_many_as_are_asked_for(
    record: Record, visit: Visit, episode: Episode, clock: SetClock
) -> None:
    made = []
    for gave_way in (0, None, 1, 2):
        clock.move(86400)
        new = Visit("", visit.person, clock.now(), episode=episode.id, gave_way=gave_way)
        made.append(visits.add_visit(record, new))
    one, _, two, three = made
    assert visits.worked_visits(record, episode.id) == [three, two, one]
    assert visits.worked_visits(record, episode.id, 2) == [three, two]
    assert visits.last_worked_visit(record, episode.id, two.id) == one
    assert visits.last_worked_visit(record, episode.id, one.id) is None
