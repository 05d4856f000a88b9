"""Plans of running and their sessions: kept with their rules, found, amended, merged, seen in a view."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from store.knowledge.runs import RunPlan, RunSession
from store.knowledge.time import SetClock
from store.knowledge.words import Visit
from store.record import runs
from store.record.amendments import amendments_of
from store.record.check import check
from store.record.file import Record, open_record
from store.record.merge import merge

MON = date(2026, 11, 23)


@pytest.fixture
def plan(record: Record, visit: Visit, clock: SetClock) -> RunPlan:
    assert visit.episode is not None
    made = RunPlan(
        "", visit.person, visit.episode, "nine_rungs", 2, ("mon", "thu"), MON, clock.now(), "AB", "eager"
    )
    return runs.PLAN.add(record, made, by="AB")


def session(plan: RunPlan, days: int, **other: object) -> RunSession:
    one = RunSession("", plan.person, plan.episode, plan.id, 2, planned_on=MON + timedelta(days=days))
    return one._replace(**other)  # type: ignore[arg-type]  # by name


def test_a_plan_comes_back_as_it_was_kept_and_the_last_one_is_in_force(
    record: Record, plan: RunPlan, clock: SetClock
) -> None:
    assert runs.last_plan(record, plan.episode) == plan
    clock.move(60)
    newer = runs.PLAN.add(record, plan._replace(id="", rung=3, made=clock.now()), by="AB")
    assert runs.last_plan(record, plan.episode) == newer
    runs.PLAN.retract(record, newer, by="AB", because="undo")
    assert runs.last_plan(record, plan.episode) == plan


def test_sessions_stand_by_day_done_or_planned(record: Record, plan: RunPlan) -> None:
    later = runs.SESSION.add(record, session(plan, 3), by="AB")
    first = runs.SESSION.add(record, session(plan, 0), by="AB")
    done = first._replace(
        done_on=MON + timedelta(days=1), minutes=10.0, pain_during=1, pain_usual=0, swelling=False
    )
    done = runs.SESSION.revise(record, done, by="AB", because="done")
    assert runs.sessions_of(record, plan.episode) == [done, later]
    assert runs.done_since(record, plan.episode, MON + timedelta(days=1)) == [done]
    assert runs.done_since(record, plan.episode, MON + timedelta(days=2)) == []
    assert [one.was["done_on"] for one in amendments_of(record, "run_session", first.id)] == [None]
    assert check(record) == []


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"rung": 0}, "rung is 1 or more"),
        ({"planned_on": None}, "planned or done"),
        ({"pain_during": 1}, "not done has no pain"),
        ({"done_on": MON, "pain_during": 11}, "pain_during is 0 to 10"),
        ({"done_on": MON, "pain_morning": -1}, "pain_morning is 0 to 10"),
        ({"done_on": MON, "minutes": 0.0}, "minutes is more than 0"),
        ({"done_on": MON, "distance_km": -1.0}, "distance_km is more than 0"),
    ],
)
def test_what_cannot_be_is_refused_with_its_sentence(
    record: Record, plan: RunPlan, wrong: dict[str, object], says: str
) -> None:
    with pytest.raises(Exception, match=says):
        runs.SESSION.add(record, session(plan, 0, **wrong), by="AB")


def test_another_file_s_sessions_come_in_and_the_later_revision_stands(
    record: Record, plan: RunPlan, clock: SetClock, tmp_path: Path
) -> None:
    kept = runs.SESSION.add(record, session(plan, 0), by="AB")
    other = tmp_path / "other.sqlite"
    with open_record(other, clock, create=True) as theirs:
        merge(theirs, record.path)
        moved = kept._replace(planned_on=MON + timedelta(days=2))
        runs.SESSION.revise(theirs, moved, by="CD", because="moved")
        runs.SESSION.add(theirs, session(plan, 4), by="CD")
    merge(record, other)
    assert [one.planned_on for one in runs.sessions_of(record, plan.episode)] == [
        MON + timedelta(days=2), MON + timedelta(days=4),
    ]  # fmt: skip
    assert [one.by for one in amendments_of(record, "run_session", kept.id)] == ["CD"]
    assert check(record) == []


def test_the_view_tells_them_in_words(record: Record, plan: RunPlan) -> None:
    runs.SESSION.add(record, session(plan, 0, done_on=MON, minutes=10.0, pain_during=1), by="AB")
    gone = runs.SESSION.add(record, session(plan, 2), by="AB")
    runs.SESSION.retract(record, gone, by="AB", because="undo")
    columns = "label, injured_side, planned_on, done_on, ladder, rung, minutes, pain_during, swelling"
    assert record.db.execute(f"SELECT {columns} FROM run_standing").fetchall() == [
        ("R.K.", "right", "2026-11-23", "2026-11-23", "nine_rungs", 2, 10.0, 1, None)
    ]
