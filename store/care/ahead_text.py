"""What is expected of an ankle and what its next stage still wants, as lines fit for a screen reader."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from store.care import stages
from store.care.ahead_data import day_ahead
from store.care.ahead_words import (
    ADVICE,
    band_text,
    count_text,
    criterion_text,
    flat_text,
    line_text,
    next_text,
    reached_text,
)
from store.care.care import Care
from store.care.dates import day_text
from store.care.foreseeing import foresee, line_of_interest
from store.care.standing import Standing
from store.knowledge.criteria import Stage


def ahead_lines(care: Care, held: Standing, on: date | None = None) -> tuple[list[str], list[str]]:
    """The lines of the forecasts, and those of the next stage. Raises CareFault on a day that has no forecast."""
    day = day_ahead(held, on)
    coming = stages.coming_stage(care, held.episode.id)
    if held.episode.closed is not None:
        return [], []
    return list(_forecasts(care, held, coming, day)), list(_stage(care, held, coming))


def _forecasts(care: Care, held: Standing, coming: Stage, on: date) -> Iterator[str]:
    for one in held.measures:
        told = foresee(care, held, one.measure.id) if one.measured and not one.hidden else None
        if told is None or told.forecast is None:
            continue
        when = "today" if on == held.on else f"on {day_text(on)}"
        said = [f"{one.measure.name} {when}: {band_text(told.forecast.at(on), one.measure)}"]
        line = line_of_interest(told, coming)
        said += [line_text(line, one.measure, held.on)] if line else []
        flat = flat_text(told, one.measure)
        yield "; ".join([*said, flat] if flat else said)


def _stage(care: Care, held: Standing, coming: Stage) -> Iterator[str]:
    last = stages.reached_last(care, held.episode.id)
    if last is not None:
        yield reached_text(last)
        return
    decided = stages.stage_of(care, held.episode.id)
    if decided is not None:
        yield f"decided by the clinician: {decided}"
    found = stages.stage_standing(care, held, coming)
    yield f"wanted for {count_text(found)}; {next_text(found)}"
    for one in found.criteria:
        yield criterion_text(one, care.knowledge.measures[one.criterion.measure], held.on)
    yield ADVICE
