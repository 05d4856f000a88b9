"""All rows that are held on one person, also what was taken back, by tables and each by an index."""

from __future__ import annotations

from store.knowledge.appointment import Appointment
from store.knowledge.papers import Note, Programme, ProgrammeDay, SafetyScreen
from store.knowledge.planned import ForecastMade, StageDecision
from store.knowledge.rechecks import Recheck
from store.knowledge.resprain import Resprain
from store.knowledge.runs import RunPlan, RunSession
from store.knowledge.words import Amendment, BoutRow
from store.record.amendments import COLUMNS, amendment_of
from store.record.appointments import APPOINTMENT
from store.record.decisions import DECISION
from store.record.forecasts import FORECAST
from store.record.handle import Record
from store.record.notes import NOTE
from store.record.programmes import DAY, PROGRAMME
from store.record.rechecks import RECHECK
from store.record.resprains import RESPRAIN
from store.record.rows import BOUT_COLUMNS, as_json, bout_of
from store.record.runs import PLAN, SESSION
from store.record.safety import SCREEN

_EPISODES = "SELECT id FROM episode WHERE person = :person"
_VISITS = "SELECT id FROM visit WHERE person = :person"
_OF_PERSON = f"episode IN ({_EPISODES})"
_LOOSE = "visit IS NULL AND person = :person"

BOUTS = f"""SELECT {BOUT_COLUMNS} FROM bout WHERE visit IN ({_VISITS})
UNION ALL SELECT {BOUT_COLUMNS} FROM bout WHERE {_LOOSE} ORDER BY started_at, id"""
APPOINTMENTS = f"SELECT {APPOINTMENT.columns} FROM appointment WHERE person = :person ORDER BY due_at, id"
DECISIONS = f"SELECT {DECISION.columns} FROM stage_decision WHERE {_OF_PERSON} ORDER BY decided_at, id"
FORECASTS = (
    f"SELECT {FORECAST.columns} FROM forecast_made WHERE {_OF_PERSON} ORDER BY made_at, measure, for_on, id"
)
PROGRAMMES = f"SELECT {PROGRAMME.columns} FROM programme WHERE {_OF_PERSON} ORDER BY issued_at, id"
DAYS = f"""SELECT {DAY.columns} FROM programme_day
WHERE programme IN (SELECT id FROM programme WHERE {_OF_PERSON}) ORDER BY day_on, id"""
RUN_PLANS = f"SELECT {PLAN.columns} FROM run_plan WHERE {_OF_PERSON} ORDER BY made_at, id"
RUN_SESSIONS = f"""SELECT {SESSION.columns} FROM run_session
WHERE {_OF_PERSON} ORDER BY coalesce(done_on, planned_on), id"""
RESPRAINS = f"SELECT {RESPRAIN.columns} FROM resprain WHERE person = :person ORDER BY day_on, id"
RECHECKS = f"SELECT {RECHECK.columns} FROM recheck WHERE person = :person ORDER BY looked_at, id"
SCREENS = f"SELECT {SCREEN.columns} FROM safety_screen WHERE person = :person ORDER BY asked_at, id"
NOTES = f"""SELECT {NOTE.columns} FROM note WHERE visit IN ({_VISITS})
UNION SELECT {NOTE.columns} FROM note WHERE {_OF_PERSON}
UNION SELECT {NOTE.columns} FROM note WHERE {_LOOSE} ORDER BY drafted_at, id"""
AMENDMENTS = f"""SELECT {COLUMNS}
FROM json_each(:ids) AS ids CROSS JOIN amendment ON row_table = :row_table AND row_id = ids.value
ORDER BY row_id, was_revision"""
EVERYBODY = "SELECT id FROM person ORDER BY label COLLATE NOCASE, id"


def ids_of_everybody(record: Record) -> list[str]:
    """The ids of all people, by label."""
    return [row[0] for row in record.read(EVERYBODY, {})]


def bouts(record: Record, person: str) -> list[BoutRow]:
    """Every bout, oldest first."""
    return [bout_of(row) for row in record.read(BOUTS, {"person": person})]


def appointments(record: Record, person: str) -> list[Appointment]:
    """Every appointment, in order of time."""
    return APPOINTMENT.found(record, APPOINTMENTS, {"person": person})


def decisions(record: Record, person: str) -> list[StageDecision]:
    """Every decision, oldest first."""
    return DECISION.found(record, DECISIONS, {"person": person})


def forecasts(record: Record, person: str) -> list[ForecastMade]:
    """Every forecast that was kept, oldest first."""
    return FORECAST.found(record, FORECASTS, {"person": person})


def programmes(record: Record, person: str) -> list[Programme]:
    """Every home programme, oldest first."""
    return PROGRAMME.found(record, PROGRAMMES, {"person": person})


def programme_days(record: Record, person: str) -> list[ProgrammeDay]:
    """Every day at home that was told of."""
    return DAY.found(record, DAYS, {"person": person})


def screens(record: Record, person: str) -> list[SafetyScreen]:
    """Every safety screen, oldest first."""
    return SCREEN.found(record, SCREENS, {"person": person})


def resprains(record: Record, person: str) -> list[Resprain]:
    """Every new sprain that was told, by day."""
    return RESPRAIN.found(record, RESPRAINS, {"person": person})


def rechecks(record: Record, person: str) -> list[Recheck]:
    """Every look at the sideline, oldest first."""
    return RECHECK.found(record, RECHECKS, {"person": person})


def run_plans(record: Record, person: str) -> list[RunPlan]:
    """Every plan of running, oldest first."""
    return PLAN.found(record, RUN_PLANS, {"person": person})


def run_sessions(record: Record, person: str) -> list[RunSession]:
    """Every session of running, planned or done, by day."""
    return SESSION.found(record, RUN_SESSIONS, {"person": person})


def notes(record: Record, person: str) -> list[Note]:
    """Every note and addition, oldest first."""
    return NOTE.found(record, NOTES, {"person": person})


def amendments(record: Record, table: str, ids: list[str]) -> list[Amendment]:
    """What rows of one table were before each correction, row by row, the oldest first."""
    found = record.read(AMENDMENTS, {"row_table": table, "ids": as_json(ids)})
    return [amendment_of(row) for row in found]
