"""What is expected and what a stage still wants, as plain data for JSON."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from store.care import stages
from store.care.care import Care
from store.care.compared import HIDDEN
from store.care.faults import CareFault
from store.care.foreseeing import Foreseen, LineAhead, foresee, line_of_interest
from store.care.stages import answer_data
from store.care.standing import Standing
from store.knowledge.criteria import Stage
from store.reckon.forecast import Band
from store.reckon.prior import HORIZON_DAYS

PLACES = 6
"""Decimals of a forecast: far under any measure's step."""


NOTHING: dict[str, Any] = {
    "estimate": None,
    "forecast": None,
    "no_forecast": HIDDEN,
    "threshold": None,
    "flat": None,
}
"""What is told of a measure while its values are blind."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """What lies ahead of an ankle: its stage, the forecast of each measure for a day, and the criteria of each
    stage."""

    stage: Stage | None
    on: date
    measures: dict[str, dict[str, Any]]
    criteria: dict[str, list[dict[str, Any]]]


def ahead(care: Care, held: Standing, on: date | None = None) -> Ahead:
    """What lies ahead, looked at on a day from the readings up to today. Raises CareFault on a day that is no such
    day."""
    on = day_ahead(held, on)
    coming = stages.coming_stage(care, held.episode.id)
    shown = [one for one in held.measures if one.measured or one.hidden]
    return Ahead(
        stage=stages.stage_of(care, held.episode.id),
        on=on,
        measures={
            one.measure.id: NOTHING if one.hidden else _measure(foresee(care, held, one.measure.id), coming, on)
            for one in shown
        },
        criteria={
            stage.value: [
                answer_data(one) for one in stages.stage_standing(care, held, stage, dated=False).criteria
            ]
            for stage in care.knowledge.criteria
        },
    )


def day_ahead(held: Standing, on: date | None) -> date:
    """The day to look at, today where none is named. Raises CareFault on one that has passed or is too far."""
    if on is None:
        return held.on
    if on < held.on:
        raise CareFault(f"{on.isoformat()} is past: a forecast is for today or later")
    if on > held.on + timedelta(days=HORIZON_DAYS):
        raise CareFault(f"{on.isoformat()} is too far: a forecast reaches {HORIZON_DAYS} days")
    return on


def _measure(told: Foreseen, coming: Stage, on: date) -> dict[str, Any]:
    line = line_of_interest(told, coming)
    return {
        "estimate": _band(told.estimate),
        "forecast": _forecast(told, on),
        "no_forecast": told.why_none or None,
        "threshold": _line(line) if line else None,
        "flat": told.plateau.flat if told.plateau else None,
    }


def _forecast(told: Foreseen, on: date) -> dict[str, Any] | None:
    band = _band(told.forecast.at(on) if told.forecast else None)
    return band | {"on": on.isoformat()} if band else None


def _band(band: Band | None) -> dict[str, Any] | None:
    if band is None:
        return None
    return {key: round(getattr(band, key), PLACES) for key in ("value", "low80", "high80")}


def _line(ahead: LineAhead) -> dict[str, Any]:
    dates, past = ahead.dates, ahead.past
    return {
        "stage": ahead.word,
        "line": round(ahead.line.value, PLACES),
        "probability": None if past is None or past.probability is None else round(past.probability, PLACES),
        "verdict": past.verdict.value if past else "not measured",
        "median_date": _iso(dates.median if dates else None),
        "low_date": _iso(dates.low if dates else None),
        "high_date": _iso(dates.high if dates else None),
    }


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
