"""From readings to a forecast: which count, which way is better, and when there is none."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from store.knowledge.kinds import ErrorFamily, Figure, Measure
from store.knowledge.time import Stamp
from store.knowledge.words import Mark, Moment, Reading, Side, Status
from store.reckon.forecast import forecast, why_none
from tests.reckon.made import CONFIDENCE, GIRTH, HEEL_RAISE, LUNGE, LUNGE_ANGLE, PAIN, STANCE, measure, reading

INJURED = date(2026, 11, 1)
TODAY = date(2026, 11, 25)


def on(
    day: int, value: float | None, of: Measure = LUNGE, side: Side | None = Side.RIGHT, **more: object
) -> Reading:
    at = datetime.combine(INJURED + timedelta(days=day), datetime.min.time(), UTC) + timedelta(hours=9)
    found = reading(value, of, side, visit=f"day {day}", **more)  # type: ignore[arg-type]  # what `reading` takes
    return found._replace(taken=Stamp.of(at))


RIGHT = (on(3, 4.0), on(8, 5.2), on(13, 6.4), on(20, 7.1))
LEFT = tuple(on(day, 11.0, side=Side.LEFT) for day in (3, 8, 13, 20))


def test_a_forecast_lies_between_the_value_and_its_reference() -> None:
    told = forecast(LUNGE, RIGHT, LEFT, INJURED)
    now, later = told.at(TODAY), told.at(TODAY + timedelta(days=30))
    assert 6.5 < now.value < later.value < 11.5
    assert now.low80 < now.value < now.high80
    dates = told.dates(8.0, TODAY)
    assert dates.low is not None
    assert dates.median is not None
    assert TODAY <= dates.low <= dates.median


def test_the_order_of_entry_does_not_matter() -> None:
    told, turned = forecast(LUNGE, RIGHT, LEFT, INJURED), forecast(LUNGE, RIGHT[::-1], LEFT[::-1], INJURED)
    assert told.at(TODAY) == turned.at(TODAY)


def test_what_was_read_after_treatment_is_left_out() -> None:
    treated = on(22, 12.0, moment=Moment.AFTER)
    assert forecast(LUNGE, (*RIGHT, treated), LEFT, INJURED).at(TODAY) == forecast(LUNGE, RIGHT, LEFT, INJURED).at(
        TODAY
    )


def test_unable_is_no_value_and_the_cap_is_a_bound() -> None:
    unable = on(22, None, status=Status.UNABLE)
    assert forecast(LUNGE, (*RIGHT, unable), LEFT, INJURED).last_on == INJURED + timedelta(days=20)
    capped = forecast(LUNGE, (*RIGHT, on(22, 7.5, status=Status.CAP)), LEFT, INJURED).at(TODAY)
    measured = forecast(LUNGE, (*RIGHT, on(22, 7.5)), LEFT, INJURED).at(TODAY)
    assert capped.value > measured.value


def test_less_is_better_of_a_girth() -> None:
    swollen = tuple(on(day, value, GIRTH) for day, value in ((3, 55.0), (8, 54.0), (13, 53.4)))
    other = tuple(on(day, 52.0, GIRTH, Side.LEFT) for day in (3, 8))
    told = forecast(GIRTH, swollen, other, INJURED)
    soon, later = told.at(INJURED + timedelta(days=14)), told.at(INJURED + timedelta(days=60))
    assert soon.value > later.value
    assert soon.low80 < soon.value < soon.high80
    assert told.chance_past(53.0, INJURED + timedelta(days=90)) > 0.5
    assert told.chance_past(40.0, INJURED + timedelta(days=90)) < 0.01


def test_without_the_day_of_the_injury() -> None:
    told = forecast(LUNGE, RIGHT, LEFT, None)
    assert told.start == RIGHT[0].taken.on
    assert {path.ramp_days for path in told.course.paths} == {0.0}
    before = forecast(LUNGE, RIGHT, LEFT, INJURED + timedelta(days=40))
    assert before.start == RIGHT[0].taken.on


def test_a_line_beyond_the_reference_has_no_date() -> None:
    dates = forecast(LUNGE, RIGHT, LEFT, INJURED).dates(25.0, TODAY)
    assert (dates.low, dates.median, dates.high) == (None, None, None)


UNKNOWN = measure("unknown")
KNOWN_SCORE = PAIN._replace(errors=(ErrorFamily("e", "e", mdc_between=Figure(2.0, Mark.RECALLED)),))


@pytest.mark.parametrize(
    ("of", "says"),
    [
        (HEEL_RAISE, "a count"),
        (CONFIDENCE, "a grade or a score"),
        (KNOWN_SCORE, "a grade or a score"),
        (LUNGE_ANGLE, "error is not known"),
        (STANCE, "error is not known"),
        (UNKNOWN, "error is not known"),
    ],
)
def test_why_there_is_none(of: Measure, says: str) -> None:
    readings = (on(3, 1.0, of), on(9, 2.0, of))
    reason = why_none(of, readings, (on(3, 5.0, of, Side.LEFT),))
    assert says in reason
    with pytest.raises(ValueError, match=says):
        forecast(of, readings, readings, INJURED)


def test_too_little_to_go_by() -> None:
    assert "nothing measured" in why_none(LUNGE, (), LEFT)
    assert "nothing measured" in why_none(LUNGE, (on(3, None, status=Status.UNABLE),), LEFT)
    assert "two days" in why_none(LUNGE, RIGHT[:1], LEFT)
    assert "two days" in why_none(LUNGE, (RIGHT[0], on(3, 4.4)), LEFT)
    assert "recover towards" in why_none(LUNGE, RIGHT, ())
    assert why_none(LUNGE, RIGHT, LEFT) == ""


def test_its_plateau_is_in_the_unit_a_week() -> None:
    found = forecast(LUNGE, RIGHT, LEFT, INJURED).plateau()
    assert found.rate_a_week > 0
    assert not found.flat
    assert found.readings == 4
