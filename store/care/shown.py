"""A person and the caseload in plain text, fit for a screen reader, and as JSON data."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from store.care.caseload import CaseloadRow
from store.care.in_words import change_text, sides_of, value_text
from store.care.measured import MeasureStanding
from store.care.standing import Standing
from store.knowledge.words import Reading
from store.reckon.change import Change

CAVEAT = "It supports, and does not replace, a licensed clinician's judgement and local protocol."


# text


def caseload_text(rows: Iterable[CaseloadRow]) -> str:
    """The caseload, a line a person."""
    rows = list(rows)
    lines = [f"{len(rows)} {'person' if len(rows) == 1 else 'people'}"]
    for row in rows:
        side = f"{row.injured_side} ankle" if row.injured_side else "no episode"
        parts = [
            row.label,
            side,
            row.injury,
            f"week {row.week}" if row.week else "",
            row.widest_words,
            row.stage_words,
        ]
        lines.append(", ".join(part for part in parts if part))
    return "\n".join(lines) + "\n"


def episode_text(standing: Standing) -> str:
    """One ankle: the head lines, then a line a measure, left before right."""
    episode, person = standing.episode, standing.person
    grade = f", grade {episode.grade}" if episode.grade else ", not yet graded"
    head = f"{person.label}, {episode.side} ankle injured, {episode.structure}{grade}"
    lines = [head + (f", week {standing.week}, day {standing.day}" if standing.week else "")]
    if episode.goal:
        days = f", in {standing.days_to_goal} days" if standing.days_to_goal is not None else ""
        lines.append(f"goal: {episode.goal}{days}")
    if standing.cautions:
        lines.append("caution: " + ", ".join(standing.cautions))
    shown = [one for one in standing.measures if one.measured or one.hidden]
    lines.extend(measure_text(one) for one in shown)
    if not shown:
        lines.append("nothing measured yet")
    lines.extend(f"{name}: in the file, but this copy does not know this measure" for name in standing.unknown)
    lines.append(CAVEAT)
    return "\n".join(lines) + "\n"


def measure_text(one: MeasureStanding) -> str:
    """One measure in a line of words."""
    measure = one.measure
    parts = [f"{side} {value_text(one.of(side), measure)}" for side in sides_of(measure)]
    if not measure.paired:
        parts = [value_text(one.of(None), measure)]
    if one.gap_words:
        held = one.reference.kind if one.reference else ""
        parts.append(f"{one.injured} {one.gap_words} against the {held}")
    if one.change is not None:
        parts.append(f"since the last visit {change_text(one.change, measure)}")
    if one.retest is not None:
        parts.append(f"re-test {change_text(one.retest.change, measure)}")
    if one.hidden:
        parts.append("today's values hidden until the re-test is in")
    return f"{measure.name}, {measure.unit}: " + "; ".join(parts)


# JSON


def caseload_data(rows: Iterable[CaseloadRow]) -> dict[str, Any]:
    """The caseload as plain data: open episodes in caseload order, then the rest."""
    return {
        "people": [
            {
                "label": row.label,
                "injured_side": row.injured_side,
                "stage": None,
                "id": row.person,
                "episode": row.episode,
                "week": row.week,
                "grade": row.grade,
                "open": row.is_open,
            }
            for row in rows
        ]
    }


def episode_data(standing: Standing) -> dict[str, Any]:
    """One ankle as plain data. Values hidden for a blind re-test are left out and said to be."""
    episode, person = standing.episode, standing.person
    return {
        "person": {"id": person.id, "label": person.label, "born": person.born, "age": standing.age},
        "episode": {
            "id": episode.id,
            "injured_side": episode.side,
            "structure": episode.structure,
            "grade": episode.grade,
            "injured_on": _iso(episode.injured_on),
            "opened_at": episode.opened.text,
            "closed_at": episode.closed.text if episode.closed else None,
            "goal": episode.goal,
            "goal_on": _iso(episode.goal_on),
            "week": standing.week,
            "day": standing.day,
            "main_measure": episode.main_measure,
            "stage": None,
        },
        "measures": [measure_data(one) for one in standing.measures if one.measured or one.hidden],
        "unknown_measures": list(standing.unknown),
    }


def measure_data(one: MeasureStanding) -> dict[str, Any]:
    """One measure as plain data: words of the record, figures raw, times in ISO 8601."""
    measure = one.measure
    sides: dict[str, Any] = {side.value: reading_data(one.of(side)) for side in sides_of(measure)}
    if not measure.paired:
        sides = {"single": reading_data(one.of(None))}
    reference = one.reference
    retest = one.retest
    return {
        "id": measure.id,
        "unit": measure.unit,
        **sides,
        "reference": {"kind": reference.kind, "value": reference.value} if reference else None,
        "gap": one.gap,
        "deficit": one.deficit,
        "lsi": one.lsi,
        "change": change_data(one.change),
        "retest": {"before": retest.before.value, "after": retest.after.value, **retest_change(retest.change)}
        if retest
        else None,
        "hidden": one.hidden,
    }


def reading_data(reading: Reading | None) -> dict[str, Any] | None:
    """One side's reading as plain data."""
    if reading is None:
        return None
    return {
        "value": reading.value,
        "trials": list(reading.trials),
        "status": reading.status,
        "moment": reading.moment,
        "conditions": list(reading.conditions),
        "taken_at": reading.taken.text,
        "taken_on": reading.taken.on.isoformat(),
        "taken_offset_min": reading.taken.offset_min,
        "examiner": reading.examiner,
    }


def change_data(change: Change | None) -> dict[str, Any] | None:
    """A change as plain data."""
    if change is None:
        return None
    return {
        "value": change.value,
        "mdc": change.mdc,
        "verdict": change.verdict,
        "at_least": change.at_least,
        "warnings": list(change.warnings),
    }


def retest_change(change: Change) -> dict[str, Any]:
    """The change part of a re-test, beside its two values."""
    return {
        "change": change.value,
        "mdc": change.mdc,
        "verdict": change.verdict,
        "warnings": list(change.warnings),
    }


def _iso(day: object) -> str | None:
    return str(day) if day is not None else None
