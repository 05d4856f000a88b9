"""The views answer with the same figures that were entered."""

from __future__ import annotations

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Moment, Side, Status, Visit
from store.record import bouts, episodes, readings
from store.record.file import Record
from tests.record.made import event, hold, lunge


def test_gap_by_visit_is_injured_minus_uninjured(record: Record, visit: Visit, clock: SetClock) -> None:
    given = [
        lunge(visit, clock, Side.LEFT, 10.2, Moment.BEFORE),
        lunge(visit, clock, Side.RIGHT, 9.9, Moment.BEFORE),
        lunge(visit, clock, Side.LEFT, 10.4, Moment.AFTER),
        lunge(visit, clock, Side.RIGHT, 0, Moment.AFTER)._replace(value=None, status=Status.UNABLE),
    ]
    kept = readings.add_readings(record, given)
    clock.move(30)
    readings.add_readings(record, [lunge(visit, clock, Side.RIGHT, 4.8, Moment.BEFORE)])  # measured once more
    readings.retract_readings(record, [kept[2].id], by="AB", because="undo")
    columns = 'label, visit_on, measure, moment, injured_side, "left", "right", gap, unit'
    rows = record.db.execute(f"SELECT {columns} FROM gap_by_visit ORDER BY moment DESC").fetchall()
    assert rows == [
        ("R.K.", "2026-11-25", "lunge", "before", "right", 10.2, 4.8, pytest.approx(-5.4), "cm"),
        ("R.K.", "2026-11-25", "lunge", "after", "right", None, None, None, "cm"),
    ]


def test_reading_standing_leaves_out_the_retracted(record: Record, visit: Visit, clock: SetClock) -> None:
    one, other = readings.add_readings(
        record, [lunge(visit, clock, Side.LEFT, 10.2), lunge(visit, clock, Side.RIGHT, 4.8)]
    )
    readings.retract_readings(record, [other.id], by="AB", because="undo")
    rows = record.db.execute("SELECT id, label, side, injured_side, value FROM reading_standing").fetchall()
    assert rows == [(one.id, "R.K.", "left", "right", 10.2)]
    assert record.db.execute("SELECT row_id, revised_because FROM correction").fetchall() == [(other.id, "undo")]


def test_open_caseload_and_bouts(record: Record, visit: Visit, clock: SetClock) -> None:
    bout = bouts.add_bout(record, hold(visit, clock))
    bouts.add_event(record, event(bout, clock, 1))
    assert record.db.execute("SELECT label, activity, ended, events FROM bout_standing").fetchall() == [
        ("R.K.", "single_leg_hold", 0, 1)
    ]
    caseload = "SELECT label, injured_side, structure, last_visit_on, visits, stage FROM open_caseload"
    assert record.db.execute(caseload).fetchall() == [("R.K.", "right", "lateral ligament", None, 0, None)]
    bouts.add_event(record, event(bout, clock, 2, "set_started"))
    assert record.db.execute(caseload).fetchall()[0][3:5] == ("2026-11-25", 1)
    [(_, episode)] = episodes.open_episodes(record)
    episodes.revise_episode(record, episode._replace(closed=clock.now()), by="AB", because="discharged")
    assert record.db.execute(caseload).fetchall() == []
