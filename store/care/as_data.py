"""A person and the caseload as plain data for JSON: words of the record, figures raw, times in ISO 8601."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from datetime import date
from typing import Any

from store.care.ahead_data import Ahead
from store.care.caseload import CaseloadRow
from store.care.measured import MeasureStanding, Reference, Retest
from store.care.recall import Recall, Tail
from store.care.standing import Standing
from store.entry.errors import hidden
from store.knowledge.appointment import Appointment
from store.knowledge.words import Reading
from store.reckon.change import Change

PLACES = 9
"""Decimals of a figure: far under any measure's step, and without the noise of binary fractions."""


_NOT_PLAIN = re.compile(r"[^\n -~]")


def json_text(data: dict[str, Any]) -> str:
    """The data as JSON text that is safe to print: what cannot be seen is escaped."""
    text = json.dumps(data, ensure_ascii=False, indent=2)
    return _NOT_PLAIN.sub(lambda found: json.dumps(found[0])[1:-1] if hidden(found[0]) else found[0], text)


def caseload_data(rows: Iterable[CaseloadRow], *, invented: bool = False) -> dict[str, Any]:
    """The caseload: open episodes in its order, then the closed ones, then people without one."""
    return {"people": [_row(row) for row in rows], "invented": invented}


def _row(row: CaseloadRow) -> dict[str, Any]:
    return {
        "label": row.label,
        "injured_side": row.injured_side,
        "stage": row.stage_words or None,
        "id": row.person,
        "episode": row.episode,
        "week": row.week,
        "grade": row.grade,
        "open": row.is_open,
        "screened": row.screened if row.is_open else None,
        "referral": row.refer_words or None,
        "closed_on": _iso(row.closed_on),
        "recall_due": recall_data(row.recall) if row.recall else None,
        "due_at": row.due.text if row.due else None,
        "due_offset_min": row.due.offset_min if row.due else None,
    }


def recall_data(one: Recall) -> dict[str, Any]:
    """A recall: so many months after discharge, its day, and whether that has come and nobody was seen since."""
    return {"months": one.months, "on": one.on.isoformat(), "due": one.due}


def tail_data(tail: Tail | None) -> dict[str, Any] | None:
    """What follows a discharge; None while the episode is open."""
    if tail is None:
        return None
    return {
        "balance_until": tail.balance_until.isoformat(),
        "recalls": [recall_data(one) for one in tail.recalls],
    }


def episode_data(
    standing: Standing,
    *,
    ahead: Ahead | None = None,
    visits: Iterable[dict[str, Any]] = (),
    due: Appointment | None = None,
    safety: dict[str, Any] | None = None,
    looks: Iterable[dict[str, Any]] = (),
    resprains: Iterable[dict[str, Any]] = (),
    running: dict[str, Any] | None = None,
    tail: Tail | None = None,
    invented: bool = False,
) -> dict[str, Any]:
    """One ankle, what lies ahead of it, and its visits as data. What is hidden for a blind re-test is left out."""
    person = standing.person
    return {
        "person": {"id": person.id, "label": person.label, "born": person.born, "age": standing.age},
        "episode": _episode(standing) | {"stage": ahead.stage if ahead else None},
        "measures": [
            measure_data(one) | (ahead.measures.get(one.measure.id, {}) if ahead else {})
            for one in standing.measures
            if one.measured or one.hidden
        ],
        "criteria": ahead.criteria if ahead else {},
        "unknown_measures": list(standing.unknown),
        "visits": list(visits),
        "safety": safety,
        "looks": list(looks),
        "resprains": list(resprains),
        "running": running,
        "after_discharge": tail_data(tail),
        "appointment": appointment_data(due) if due else None,
        "invented": invented,
    }


def appointment_data(one: Appointment) -> dict[str, Any]:
    """A planned contact as data."""
    return {
        "due_at": one.due.text,
        "due_on": one.due.on.isoformat(),
        "due_offset_min": one.due.offset_min,
        "minutes": one.minutes,
        "note": one.note,
    }


def _episode(standing: Standing) -> dict[str, Any]:
    episode = standing.episode
    return {
        "id": episode.id,
        "injured_side": episode.side,
        "structure": episode.structure,
        "grade": episode.grade,
        "injured_on": _iso(episode.injured_on),
        "opened_at": episode.opened.text,
        "closed_at": episode.closed.text if episode.closed else None,
        "goal": episode.goal,
        "goal_on": _iso(episode.goal_on),
        "sport": episode.sport,
        "level": episode.level,
        "sprains_left": episode.sprains_left,
        "sprains_right": episode.sprains_right,
        "anticoagulant": episode.anticoagulant,
        "loss_of_feeling": episode.loss_of_feeling,
        "hypermobility": episode.hypermobility,
        "brace": episode.brace,
        "week": standing.week if episode.closed is None else None,
        "day": standing.day if episode.closed is None else None,
        "main_measure": episode.main_measure,
        "linked_episode": episode.linked_episode,
    }


def measure_data(one: MeasureStanding) -> dict[str, Any]:
    """One measure: `left` and `right`, or `single`; the gap raw and signed, the deficit positive when worse.

    Where a side reached the cap, `gap_at_least` is true and `lsi_bound` says `at most` or `at least`.
    """
    measure = one.measure
    return {
        "id": measure.id,
        "unit": measure.unit,
        **{side or "single": reading_data(one.of(side)) for side in measure.sides},
        "reference": _reference(one.reference),
        "gap": plain_figure(one.gap),
        "deficit": plain_figure(one.deficit),
        "gap_at_least": one.gap_at_least,
        "gap_warnings": list(one.gap_warnings),
        "lsi": plain_figure(one.lsi),
        "lsi_bound": one.lsi_bound or None,
        "change": change_data(one.change),
        "retest": _retest(one.retest),
        "hidden": one.hidden,
    }


def reading_data(reading: Reading | None) -> dict[str, Any] | None:
    """One side's reading."""
    if reading is None:
        return None
    return {
        "value": plain_figure(reading.value),
        "trials": [plain_figure(trial) for trial in reading.trials],
        "status": reading.status,
        "moment": reading.moment,
        "conditions": list(reading.conditions),
        "taken_at": reading.taken.text,
        "taken_on": _iso(reading.taken.on),
        "taken_offset_min": reading.taken.offset_min,
        "examiner": reading.examiner or None,
    }


def _reference(reference: Reference | None) -> dict[str, Any] | None:
    if reference is None:
        return None
    return {"kind": reference.kind, "value": plain_figure(reference.value)}


def change_data(change: Change | None) -> dict[str, Any] | None:
    """A change with its error and verdict; None where there is none."""
    return {"value": plain_figure(change.value), **_verdict(change)} if change else None


def _retest(retest: Retest | None) -> dict[str, Any] | None:
    if retest is None:
        return None
    return {
        "before": plain_figure(retest.before.value),
        "after": plain_figure(retest.after.value),
        "change": plain_figure(retest.change.value),
        "blind": retest.blind,
        **_verdict(retest.change),
    }


def _verdict(change: Change) -> dict[str, Any]:
    return {
        "mdc": plain_figure(change.mdc),
        "verdict": change.verdict,
        "at_least": change.at_least,
        "warnings": list(change.warnings),
    }


def plain_figure(figure: float | None) -> float | None:
    """The figure as it is, but for the noise of binary fractions; a minus nought is a nought."""
    return None if figure is None else round(figure, PLACES) + 0.0


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day is not None else None
