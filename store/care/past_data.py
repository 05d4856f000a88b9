"""Visits of the past as plain data for JSON, in the words of the record."""

from __future__ import annotations

from typing import Any

from store.bout.result import Dose
from store.bout.state import SetResult
from store.care.as_data import change_data, plain_figure, reading_data
from store.care.pairs import Pair
from store.care.past_visits import PastBout, PastVisit
from store.entry.said import MEASURES
from store.knowledge.time import Stamp
from store.knowledge.words import Reading


def visit_data(past: PastVisit) -> dict[str, Any]:
    """One visit. Values that a blind re-test hides are left out, and `hidden` names their measures."""
    visit = past.visit
    return {
        "id": visit.id,
        "started_at": visit.started.text,
        "started_on": visit.started.on.isoformat(),
        "started_offset_min": visit.started.offset_min,
        "ended_at": _text(visit.ended),
        "kind": visit.kind,
        "week": past.week,
        "minutes": None if past.minutes is None else round(past.minutes, 1),
        "slot_min": visit.slot_min,
        "examiner": visit.examiner or None,
        "said": _said(past),
        "readings": [_reading(one) for one in past.readings],
        "retests": [_retest(pair) for pair in past.pairs if pair.change is not None],
        "bouts": [_bout(bout) for bout in past.bouts],
        "hidden": sorted(past.hidden),
    }


def _said(past: PastVisit) -> dict[str, Any]:
    """Pains and confidence by the ids of their measures, the rest by the columns of the visit; null: not said."""
    visit, said = past.visit, past.said
    return {
        **{measure: float(said[word]) if word in said else None for word, measure in MEASURES.items()},
        "gave_way": visit.gave_way,
        "home_done": visit.home_done,
        "home_planned": visit.home_planned,
        "consent": {"y": True, "n": False}.get(said.get("consent", "")),
        "consent_at": _text(visit.consent),
    }


def _reading(reading: Reading) -> dict[str, Any]:
    known = reading_data(reading)
    assert known is not None
    return {
        "measure": reading.measure,
        "side": reading.side,
        "unit": reading.unit,
        **known,
        "blind": reading.blind,
        "bout": reading.bout,
        "note": reading.note,
    }


def _retest(pair: Pair) -> dict[str, Any]:
    assert pair.before is not None
    assert pair.after is not None
    made = change_data(pair.change) or {}
    return {
        "measure": pair.measure.id,
        "side": pair.side,
        "before": plain_figure(pair.before.value),
        "after": plain_figure(pair.after.value),
        "change": made.pop("value", None),
        "blind": pair.after.blind,
        **made,
    }


def _bout(bout: PastBout) -> dict[str, Any]:
    row = bout.row
    sides = [side for side in bout.sides if side]
    return {
        "id": row.id,
        "activity": row.activity,
        "name": bout.name,
        "kind": row.kind,
        "side": sides[0] if len(sides) == 1 else None,
        "sides": sides,
        "measure": row.measure,
        "moment": row.moment,
        "started_at": row.started.text,
        "ended_at": _text(row.ended),
        "ended_early": bout.early,
        "pauses": bout.pauses,
        "planned": _dose(bout.planned),
        "done": _dose(bout.done),
        "sets": [_set(one) for one in bout.sets],
        "pain": [n for one in bout.sets for n in one.pains],
        "faults": sum(one.faults for one in bout.sets),
        "hidden": bout.hidden,
        "trouble": bout.trouble or None,
    }


def _set(one: SetResult) -> dict[str, Any]:
    return {
        "n": one.n,
        "side": one.side,
        "reps": one.reps,
        "paced": one.paced,
        "seconds": one.seconds,
        "faults": one.faults,
        "shifts": [{"direction": shift.direction, "controlled": shift.controlled} for shift in one.shifts],
        "intervals": [
            {"word": each.word, "seconds": each.worked_ms / 1000, "skipped": each.skipped}
            for each in one.intervals
        ],
        "pain_during": list(one.pain_during),
        "pain": one.pain,
        "control": one.control,
        "lost": one.lost,
        "cap_reached": one.cap_reached,
        "complete": one.complete,
    }


def _dose(dose: Dose | None) -> dict[str, Any] | None:
    return None if dose is None else dose._asdict()


def _text(stamp: Stamp | None) -> str | None:
    return stamp.text if stamp is not None else None
