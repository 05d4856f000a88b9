"""Rows for tests, made short."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

from store.knowledge.appointment import Appointment
from store.knowledge.criteria import Stage
from store.knowledge.papers import Note, Programme, ProgrammeDay, SafetyScreen
from store.knowledge.planned import ForecastMade, Member, Squad, StageDecision
from store.knowledge.rechecks import Recheck
from store.knowledge.resprain import Resprain
from store.knowledge.runs import RunPlan, RunSession
from store.knowledge.sideline import BenchOutcome
from store.knowledge.time import Clock
from store.knowledge.tries import PracticeTry, TryKind
from store.knowledge.words import BoutEvent, BoutKind, BoutRow, Moment, Reading, Side, Visit
from store.record import (
    appointments,
    decisions,
    forecasts,
    notes,
    programmes,
    rechecks,
    resprains,
    runs,
    safety,
    squads,
    tries,
)
from store.record.handle import Record

START = datetime(2026, 11, 25, 10, 38, tzinfo=timezone(timedelta(hours=1)))


def lunge(visit: Visit, clock: Clock, side: Side, value: float, moment: Moment | None = None) -> Reading:
    """A lunge reading of a visit, not yet kept."""
    return Reading(
        "",
        visit.person,
        "lunge",
        "cm",
        clock.now(),
        side,
        value,
        moment=moment,
        episode=visit.episode,
        visit=visit.id,
        examiner="AB",
    )


def hold(visit: Visit, clock: Clock) -> BoutRow:
    """A hold of a visit, planned and not yet kept."""
    return BoutRow(
        "",
        visit.person,
        "single_leg_hold",
        BoutKind.HOLD_FIXED,
        clock.now(),
        plan={"sets": 3, "hold_s": 30.0, "sides": ["left", "right"]},
        episode=visit.episode,
        visit=visit.id,
        measure="stance_open",
        examiner="AB",
    )


def event(bout: BoutRow, clock: Clock, seq: int, kind: str = "started") -> BoutEvent:
    """Something that happened in a bout, not yet kept."""
    return BoutEvent(bout.id, seq, kind, seq * 100, clock.now(), {"pain": 10, "side": "left"})


def fill_later_tables(record: Record, visit: Visit, clock: Clock) -> None:
    """A row in each table that came after the first version."""
    squad = squads.SQUAD.add(record, Squad("", "hockey"), by="AB")
    squads.MEMBER.add(record, Member("", squad.id, visit.person), by="AB")
    appointments.APPOINTMENT.add(record, Appointment("", visit.person, clock.now(), visit.episode), by="AB")
    assert visit.episode is not None
    decisions.DECISION.add(
        record,
        StageDecision("", visit.person, visit.episode, Stage.JOG, clock.now(), "AB", "walks well", ({"id": "x"},)),
        by="AB",
    )
    forecasts.FORECAST.add(record, forecast(visit, clock), by="AB")
    asked = SafetyScreen("", visit.person, clock.now(), "full", "refer", {"pulse": "no"}, episode=visit.episode)
    safety.SCREEN.add(record, asked, by="AB")
    given = Programme("", visit.person, visit.episode, clock.now(), ({"activity": "hold_firm"},))
    programme = programmes.PROGRAMME.add(record, given, by="AB")
    programmes.DAY.add(record, ProgrammeDay("", programme.id, visit.person, clock.now().on, 2, 1), by="AB")
    again = Resprain("", visit.person, visit.episode, Side.RIGHT, clock.now().on, clock.now(), visit.id, "a kerb")
    resprains.RESPRAIN.add(record, again, by="AB")
    notes.NOTE.add(record, note(visit, clock), by="AB")
    day = clock.now().on
    plan = RunPlan("", visit.person, visit.episode, "nine_rungs", 1, ("mon", "wed"), day, clock.now(), "AB")
    plan = runs.PLAN.add(record, plan, by="AB")
    ran = RunSession("", visit.person, visit.episode, plan.id, 1, day, day, 5.0, 1.2, 1, None, 0, swelling=False)
    runs.SESSION.add(record, ran, by="AB")
    tries.TRY.add(record, PracticeTry("", TryKind.DRILL, "lunge", clock.now(), "AB", data={"ankles": 2}), by="AB")
    seen = Recheck("", visit.person, Side.RIGHT, clock.now(), BenchOutcome.REMOVE, {"limp": True}, clock.now())
    rechecks.RECHECK.add(record, seen, by="AB")
    notes.keep_rules(record, {"lunge": 1.9})


def note(visit: Visit, clock: Clock) -> Note:
    """The draft of a visit's note, not yet kept."""
    return Note(
        "", visit.person, clock.now(), {"plan": "again on Thursday"}, episode=visit.episode, visit=visit.id
    )


def forecast(visit: Visit, clock: Clock) -> ForecastMade:
    """A forecast of a visit, not yet kept."""
    assert visit.episode is not None
    return ForecastMade(
        "",
        visit.person,
        visit.episode,
        visit.id,
        "lunge",
        Side.RIGHT,
        clock.now(),
        clock.now().on + timedelta(days=14),
        8.1,
        7.0,
        9.2,
        6.6,
        9.6,
        rate_a_week=0.4,
        over_days=20,
    )
