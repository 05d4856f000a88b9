"""Running as plain data for JSON: words of the record, figures raw, with the rule they were judged by."""

from __future__ import annotations

from typing import Any

from store.care.care import Care
from store.care.run_against import stands_against
from store.care.run_goal import goal_ahead, goal_data
from store.care.running import RunStanding, running_standing
from store.care.standing import Standing
from store.knowledge.running import Ladder
from store.knowledge.runs import RunSession
from store.reckon.running import Judged


def running_data(care: Care, stands_as: Standing) -> dict[str, Any] | None:
    """Where running stands; None where nothing is planned."""
    held = running_standing(care, stands_as.episode.id)
    plan = held.plan
    if plan is None:
        return None
    climb = held.climb
    return {
        "ladder": plan.ladder,
        "weekdays": list(plan.weekdays),
        "begins_on": plan.begins_on.isoformat(),
        "start_rung": plan.rung,
        "reason": plan.reason or None,
        "rung": climb.rung if climb else None,
        "clean_in_a_row": climb.clean if climb else None,
        "earliest_on": climb.earliest.isoformat() if climb and climb.earliest else None,
        "last_rung_on": held.continuous_on.isoformat() if held.continuous_on else None,
        "behind_the_rule": held.stale,
        "against": list(stands_against(care, held, stands_as)),
        "done": [_done(held, one, judged) for one, judged in held.judged],
        "planned": [_session(held, one) for one in held.planned],
        "weeks": [
            {
                "monday_on": week.monday.isoformat(),
                "minutes": week.load.minutes,
                "longest_min": week.load.longest,
                "distance_km": week.load.km,
                "change_percent": week.change,
            }
            for week in held.weeks
        ],
        "next_run_at_most_km": round(held.check.most, 3) if held.check else None,
        "goal": goal_data(goal_ahead(care, held, stands_as)),
        "rule": _rule(held.ladder) if held.ladder else None,
    }


def _session(held: RunStanding, one: RunSession) -> dict[str, Any]:
    rung = held.rung(one.rung)
    return {
        "id": one.id,
        "planned_on": one.planned_on.isoformat() if one.planned_on else None,
        "rung": one.rung,
        "what": rung.words if rung else None,
    }


def _done(held: RunStanding, one: RunSession, judged: Judged) -> dict[str, Any]:
    return _session(held, one) | {
        "done_on": one.done_on.isoformat() if one.done_on else None,
        "minutes": one.minutes,
        "distance_km": one.distance_km,
        "pain_during": one.pain_during,
        "pain_morning": one.pain_morning,
        "pain_usual": one.pain_usual,
        "swelling": one.swelling,
        "note": one.note or None,
        "verdict": judged.verdict.value,
        "why": list(judged.why),
        "not_told": list(judged.missing),
        "too_soon": judged.too_soon,
    }


def _rule(ladder: Ladder) -> dict[str, Any]:
    return {
        name: {"value": figure.value, "mark": figure.mark.value, "source": figure.source or None}
        for name, figure in zip(ladder.rule._fields, ladder.rule, strict=True)
    }
