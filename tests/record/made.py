"""Rows for tests, made short."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

from store.knowledge.time import Clock
from store.knowledge.words import BoutEvent, BoutKind, BoutRow, Moment, Reading, Side, Visit

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
