"""What the page behind a figure says of its forecast: the model, what it supposes, how it did so far."""

from __future__ import annotations

from store.care.ahead_words import RE_EXAMINE, band_text, flat_text, line_text
from store.care.care import Care
from store.care.dates import day_text
from store.care.foreseeing import Foreseen, foresee
from store.care.in_words import many, rough
from store.care.measured import MeasureStanding
from store.care.scoring import score
from store.care.standing import Standing
from store.care.statements import Section, Statement
from store.knowledge.kinds import Measure
from store.reckon.plateau import LEAST_DAYS, LEAST_READINGS, UPPER

PROVEN = "proven on simulated recoveries only, and held against published courses of groups; not proven on people"


def expected(care: Care, held: Standing, one: MeasureStanding) -> Section:
    """The section on what is expected, or why there is no forecast."""
    told = foresee(care, held, one.measure.id)
    if told.forecast is None:
        return Section("what is expected", (Statement("forecast", told.why_none), *_lines(told, one)))
    readings = told.forecast.readings
    span = f"{day_text(readings[0].taken.on)} to {day_text(readings[-1].taken.on)}"
    found = [
        Statement("true value now", band_text(told.forecast.at(held.on), one.measure)),
        *_lines(told, one),
        Statement("rests on", f"{many(len(readings), 'reading')} before treatment or unmarked, {span}"),
        Statement(
            "model",
            "the value moves towards an end that stands still, fast at first and then slower; its rate, its "
            "noise, a slow start and whether a gap stays are weighed by how well each fits the readings",
            PROVEN,
        ),
        Statement("supposes", _supposes(told)),
        *_flat(told, one.measure),
        Statement("chance", "by the last value and its error, not by the forecast: P = Phi((value - line) / SEM)"),
    ]
    done = score(care, one.measure.id).words
    found.append(Statement("score", done or "no forecast made here has met its reading yet"))
    return Section("what is expected", tuple(found))


def _lines(told: Foreseen, one: MeasureStanding) -> list[Statement]:
    return [Statement("line", line_text(line, one.measure, told.on)) for line in told.lines]


def _supposes(told: Foreseen) -> str:
    forecast = told.forecast
    assert forecast is not None
    stays = forecast.course.share(lambda path: path.residual == "stays")
    learned = forecast.learned_from
    prior = f"learned in part from {many(learned, 'closed episode')} of this file" if learned else "of the program"
    by_now = f"by the readings so far {round(100 * stays)} % that part of the gap stays"
    return f"before a reading, what is {prior}; {by_now}"


def _flat(told: Foreseen, measure: Measure) -> list[Statement]:
    flat = told.plateau
    assert flat is not None
    unit = measure.unit
    rate = f"{rough(flat.rate_a_week)} {unit} a week expected, at most {rough(flat.upper_a_week)} with {UPPER:.0%}"
    rule = (
        f"flat once that bound is under {rough(told.small_a_week)} {unit} a week while a gap remains, on at least "
        f"{LEAST_READINGS} readings over {LEAST_DAYS:.0f} days; not proven is not flat"
    )
    found = [Statement("pace", rate, "common practice"), Statement("", rule, "derived")]
    if flat.flat:
        found.append(Statement("flat", flat_text(told, measure)))
        found += [Statement("", each, "common practice") for each in RE_EXAMINE]
    return found
