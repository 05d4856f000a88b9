"""No read scans `reading`, `bout` or `bout_event`: each finds its rows by an index, however large the record."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Iterator
from datetime import date
from itertools import cycle
from pathlib import Path
from types import ModuleType

import pytest

from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import BoutKind, BoutRow, Episode, Person, Reading, Side, Visit
from store.record import (
    amendments,
    appointments,
    bouts,
    courses,
    decisions,
    episodes,
    everything,
    examiners,
    forecasts,
    notes,
    people,
    programmes,
    readings,
    rechecks,
    resprains,
    runs,
    safety,
    squads,
    tries,
    visits,
)
from store.record.clinical import insert_sql
from store.record.file import Record, open_record
from store.record.rows import (
    EVENT_COLUMNS,
    bout_values,
    episode_values,
    event_row,
    instant,
    person_values,
    reading_values,
    visit_values,
)
from tests.record.made import START, event

READING_MODULES: tuple[ModuleType, ...] = (
    amendments,
    appointments,
    bouts,
    courses,
    decisions,
    episodes,
    everything,
    examiners,
    forecasts,
    notes,
    people,
    programmes,
    readings,
    rechecks,
    resprains,
    runs,
    safety,
    squads,
    tries,
    visits,
)
SCAN = re.compile(r"SCAN (reading|bout|bout_event)\b")
PEOPLE = 10_000


class Anything(dict[str, object]):
    """Every named value, as NULL: a plan does not depend on it."""

    def __missing__(self, name: str) -> None:
        return None


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Record]:
    """10,000 people; 400 with an open episode, a visit, an unfinished bout with events, and 20 readings."""
    clock = SetClock(START)
    with open_record(tmp_path_factory.mktemp("large") / "record.sqlite", clock, create=True) as record:
        fill(record, clock.now())
        yield record


def fill(record: Record, now: Stamp) -> None:
    revised = {"revision": record.new_id(), "revised_by": "", "revised_because": ""}
    revised |= instant("revised", now, local_date=False)
    first = cycle("ABCDEFGHIJKLMNOPRSTVWZ")
    everybody = [Person(record.new_id(), f"{next(first)}.{n:05}") for n in range(PEOPLE)]
    cared_for = [Episode(record.new_id(), person.id, Side.LEFT, now) for person in everybody[:400]]
    seen = [Visit(record.new_id(), one.person, now, episode=one.id) for one in cared_for]
    timed = [
        BoutRow(
            record.new_id(), one.person, "hold", BoutKind.HOLD_FIXED, now, {}, episode=one.episode, visit=one.id
        )
        for one in seen
    ]
    measured = [
        Reading(record.new_id(), one.person, f"m{n}", "cm", now, side, 1.0, episode=one.episode, visit=one.id)
        for one in seen
        for n in range(10)
        for side in Side
    ]
    happened = [event(bout, record.clock, seq) for bout in timed for seq in (1, 2, 3)]
    tables: list[tuple[str, list[dict[str, object]]]] = [
        ("person", [person_values(one) | revised for one in everybody]),
        ("episode", [episode_values(one) | revised for one in cared_for]),
        ("visit", [visit_values(one) | revised for one in seen]),
        ("bout", [bout_values(one) | revised for one in timed]),
        ("reading", [reading_values(one) | revised for one in measured]),
        ("bout_event", [dict(zip(EVENT_COLUMNS.split(", "), event_row(one), strict=True)) for one in happened]),
    ]
    with record.write_tx() as db:
        for table, rows in tables:
            db.executemany(insert_sql(table, rows[0]), rows)


def statements() -> list[tuple[str, str]]:
    """Every SELECT that a module of reads names, with its name."""
    return [
        (f"{module.__name__.rsplit('.', 1)[1]}.{name}", value)
        for module in READING_MODULES
        for name, value in vars(module).items()
        if isinstance(value, str) and re.match(r"\s*(SELECT|WITH)\b", value)
    ]


def plan(db: sqlite3.Connection, sql: str) -> list[str]:
    return [row[3] for row in db.execute(f"EXPLAIN QUERY PLAN {sql}", Anything())]


def test_no_module_of_reads_is_left_out() -> None:
    """The others read whole files, or how these are made, or pass on what they are given."""
    others = {"check", "file", "handle", "kept", "merge", "migrations", "triggers", "views"}
    folder = Path(readings.__file__).parent
    asking = {
        path.stem
        for path in folder.glob("*.py")
        if re.search(r"\bSELECT\b|\.select\(", path.read_text(encoding="utf-8"))
    }
    walked = {module.__name__.rsplit(".", 1)[1] for module in READING_MODULES}
    assert asking - others == walked


def test_the_record_is_as_large_as_it_says(large: Record) -> None:
    assert large.read("SELECT count(*) FROM person", {}) == [(PEOPLE,)]
    assert large.read("SELECT count(*) FROM reading", {}) == [(8000,)]


@pytest.mark.parametrize(("name", "sql"), statements())
def test_no_named_select_scans(large: Record, name: str, sql: str) -> None:
    steps = plan(large.db, sql)
    assert steps
    assert not [step for step in steps if SCAN.match(step)], name


@pytest.mark.parametrize(
    "sql", ["SELECT * FROM reading", "SELECT * FROM reading WHERE value = 1", "SELECT * FROM bout"]
)
def test_a_scan_would_be_seen(large: Record, sql: str) -> None:
    assert [step for step in plan(large.db, sql) if SCAN.match(step)]


@pytest.mark.parametrize(
    ("sql", "index"),
    [
        (readings.OF_VISIT, "reading_visit"),
        (readings.OF_BOUT, "reading_bout"),
        (readings.SIDES_OF_VISIT, "reading_visit"),
        (bouts.UNFINISHED, "bout_unfinished"),
        (bouts.UNFINISHED_OF_PERSON, "bout_unfinished"),
        (visits.SEEN_ON, "visit_day"),
        (visits.LAST, "visit_episode"),
        (visits.WORKED_OF_EPISODE, "visit_episode"),
        (visits.WORKED_OF_EPISODE, "reading_visit"),
        (visits.WORKED_OF_EPISODE, "bout_visit"),
        (visits.LAST_WORKED, "visit_episode"),
        (people.LABELLED, "person_label"),
        (programmes.OF_EPISODE, "programme_episode"),
        (programmes.OF_VISIT, "programme_episode"),
        (programmes.LAST, "programme_episode"),
        (programmes.TAKEN_BACK, "programme_episode"),
        (programmes.DAYS, "programme_day_programme"),
        (appointments.NEXT, "appointment_person"),
        (appointments.WAITING_TODAY, "appointment_day"),
        (appointments.WAITING_TODAY, "visit_day"),
        (episodes.OPEN, "appointment_day"),
        (episodes.OPEN, "episode_open"),
        (episodes.WITHOUT, "episode_person"),
        (everything.BOUTS, "bout_visit"),
        (everything.APPOINTMENTS, "appointment_person"),
        (everything.DECISIONS, "stage_decision_episode"),
        (everything.FORECASTS, "forecast_made_episode"),
        (everything.PROGRAMMES, "programme_episode"),
        (everything.DAYS, "programme_day_programme"),
        (everything.SCREENS, "safety_screen_person"),
        (everything.RESPRAINS, "resprain_person"),
        (everything.RUN_PLANS, "run_plan_episode"),
        (everything.RUN_SESSIONS, "run_session_episode"),
        (runs.LAST_PLAN, "run_plan_episode"),
        (runs.OF_EPISODE, "run_session_episode"),
        (runs.DONE_SINCE, "run_session_episode"),
        (rechecks.OF_PERSON, "recheck_person"),
        (everything.RECHECKS, "recheck_person"),
        (resprains.OF_EPISODE, "resprain_episode"),
        (tries.OF_EXAMINER, "practice_try_examiner"),
        (resprains.OF_PERSON, "resprain_person"),
        (episodes.NOT_SEEN, "episode_closed"),
        (episodes.NOT_SEEN, "visit_person"),
        (safety.OF_EPISODE, "safety_screen_episode"),
        (safety.UNSETTLED_IN, "safety_screen_episode"),
        (visits.WORKED_OF_EPISODE, "safety_screen_episode"),
        (visits.SEEN_ON, "safety_screen_episode"),
        (everything.NOTES, "note_visit"),
        (everything.NOTES, "note_episode"),
        (everything.AMENDMENTS, "sqlite_autoindex_amendment_1"),
    ],
)
def test_the_index_meant_for_a_read_is_used(large: Record, sql: str, index: str) -> None:
    assert any(f"INDEX {index} " in f"{step} " for step in plan(large.db, sql)), plan(large.db, sql)


def reads(record: Record) -> list[Callable[[], object]]:
    """Every read of the modules, of somebody in the large record."""
    person, episode = episodes.open_episodes(record, limit=1, offset=200)[0]
    visit = visits.visits_of_episode(record, episode.id)[0]
    bout = bouts.bouts_of_visit(record, visit.id)[0]
    reading = readings.readings_of_visit(record, visit.id)[0]
    return [
        lambda: people.person(record, person.id),
        lambda: people.find_people(record, ""),
        lambda: people.find_people(record, "A.0"),
        lambda: people.people_labelled(record, person.label),
        lambda: people.people_by_id_start(record, person.id[:20]),
        lambda: episodes.episode(record, episode.id),
        lambda: episodes.episodes_of_person(record, person.id),
        lambda: episodes.open_episodes(record),
        lambda: episodes.open_episodes(record, find="A", today=date(2026, 11, 25)),
        lambda: episodes.closed_episodes(record),
        lambda: episodes.without_episode(record, find="A"),
        lambda: appointments.next_of(record, [person.id], date(2026, 11, 25)),
        lambda: episodes.count_open(record),
        lambda: visits.visit(record, visit.id),
        lambda: visits.unamended(record, visit),
        lambda: visits.visits_of_episode(record, episode.id),
        lambda: visits.visits_of_person(record, person.id),
        lambda: visits.last_visit(record, episode.id),
        lambda: visits.open_visit(record, episode.id),
        lambda: visits.has_work(record, visit.id),
        lambda: visits.worked_visits(record, episode.id),
        lambda: visits.worked_visits(record, episode.id, 3),
        lambda: visits.last_worked_visit(record, episode.id, "f"),
        lambda: visits.count_people_seen_on(record, date(2026, 11, 25)),
        lambda: bouts.bout(record, bout.id),
        lambda: bouts.bouts_of_visit(record, visit.id),
        lambda: bouts.unfinished_bouts(record),
        lambda: bouts.unfinished_bouts(record, person=person.id),
        lambda: bouts.unfinished_bouts(record, episode=episode.id),
        lambda: bouts.events_of(record, bout.id),
        lambda: readings.reading(record, reading.id),
        lambda: readings.readings_of_person(record, person.id),
        lambda: readings.readings_of_person(record, person.id, "m1"),
        lambda: readings.readings_of_visit(record, visit.id),
        lambda: readings.readings_of_visit(record, visit.id, "m1"),
        lambda: readings.readings_of_bout(record, bout.id),
        lambda: readings.sides_of_visit(record, visit.id, "m1"),
        lambda: readings.last_saved(record, visit.id),
        lambda: episodes.not_seen_since(record, date(2026, 1, 1), date(2026, 11, 25), 3, 14),
        lambda: resprains.resprains_of(record, episode.id),
        lambda: rechecks.rechecks_of(record, person.id),
        lambda: everything.rechecks(record, person.id),
        lambda: tries.tries_of(record, "AB"),
        lambda: runs.last_plan(record, episode.id),
        lambda: runs.sessions_of(record, episode.id),
        lambda: runs.done_since(record, episode.id, date(2026, 1, 1)),
        lambda: everything.run_plans(record, person.id),
        lambda: everything.run_sessions(record, person.id),
        lambda: resprains.resprains_of_person(record, person.id),
        lambda: everything.resprains(record, person.id),
        lambda: programmes.programmes_of(record, episode.id),
        lambda: programmes.programmes_of_visit(record, episode.id, visit.id),
        lambda: programmes.last_programme(record, episode.id),
        lambda: programmes.last_taken_back(record, episode.id),
        lambda: programmes.days_of(record, "none"),
        lambda: everything.bouts(record, person.id),
        lambda: everything.amendments(record, "reading", [reading.id]),
        lambda: safety.screens_of(record, episode.id),
        lambda: safety.unsettled_in(record, [episode.id]),
        lambda: examiners.examiners(record),
        lambda: examiners.examiner_named(record, "AB"),
        lambda: amendments.amendments_of(record, "reading", reading.id),
    ]


def test_what_the_reads_really_ask_scans_nothing(large: Record) -> None:
    """The statements as SQLite saw them, not as the modules name them."""
    asked: list[str] = []
    calls = reads(large)
    large.db.set_trace_callback(asked.append)
    try:
        for call in calls:
            call()
    finally:
        large.db.set_trace_callback(None)
    selects = [sql for sql in asked if re.match(r"\s*(SELECT|WITH)\b", sql)]
    assert len(selects) >= len(calls)
    scanned = {
        sql: plan(large.db, sql) for sql in selects if any(SCAN.match(step) for step in plan(large.db, sql))
    }
    assert scanned == {}


def test_adding_an_event_scans_nothing(large: Record, clock: SetClock) -> None:
    bout = bouts.unfinished_bouts(large)[7]
    asked: list[str] = []
    large.db.set_trace_callback(asked.append)
    bouts.add_event(large, event(bout, clock, 4))
    large.db.set_trace_callback(None)
    selects = [sql for sql in asked if sql.startswith("SELECT")]
    assert selects
    assert not [step for sql in selects for step in plan(large.db, sql) if SCAN.match(step)]


def test_search_while_typing_works_on_all_of_them(large: Record) -> None:
    assert [person.label for person in people.find_people(large, ".09999")] == ["L.09999"]
    assert len(people.find_people(large, "a.", limit=20)) == 20
