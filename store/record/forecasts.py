"""Forecasts as they were shown, kept so that they can be held against what came."""

from __future__ import annotations

from datetime import date

from store.knowledge.planned import ForecastMade
from store.knowledge.words import Side
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import instant, stamp_of


def _forecast(row: Row) -> ForecastMade:
    made = stamp_of(row[6], row[7])
    assert made is not None
    return ForecastMade(
        id=row[0],
        person=row[1],
        episode=row[2],
        visit=row[3],
        measure=row[4],
        side=Side(row[5]) if row[5] else None,
        made=made,
        for_on=date.fromisoformat(row[8]),
        value=row[9],
        low80=row[10],
        high80=row[11],
        reading_low80=row[12],
        reading_high80=row[13],
        flat=bool(row[14]),
        rate_a_week=row[15],
        over_days=row[16],
        retracted=stamp_of(row[17], row[18]),
        revision=row[19],
    )


FORECAST = Shelf(
    "forecast_made",
    "id, person, episode, visit, measure, side, made_at, made_offset_min, for_on, value, low80, high80, "
    "reading_low80, reading_high80, flat, rate_a_week, over_days, retracted_at, retracted_offset_min, revision",
    _forecast,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "visit": one.visit,
        "measure": one.measure,
        "side": one.side,
        **instant("made", one.made),
        "for_on": one.for_on.isoformat(),
        "value": one.value,
        "low80": one.low80,
        "high80": one.high80,
        "reading_low80": one.reading_low80,
        "reading_high80": one.reading_high80,
        "flat": int(one.flat),
        "rate_a_week": one.rate_a_week,
        "over_days": one.over_days,
        **instant("retracted", one.retracted, local_date=False),
    },
)


OF_VISIT = FORECAST.select("visit = :visit ORDER BY measure, for_on, id")
ALL = FORECAST.select("1 ORDER BY made_at, id")


NEWEST = FORECAST.select("episode = :episode ORDER BY made_at DESC, id DESC LIMIT 12")


def newest_of(record: Record, episode_id: str) -> list[ForecastMade]:
    """Those that were kept last in an episode: with its last visit that had any."""
    found = FORECAST.found(record, NEWEST, {"episode": episode_id})
    return [one for one in found if one.visit == found[0].visit]


def forecasts_of_visit(record: Record, visit_id: str) -> list[ForecastMade]:
    """Those kept with one visit."""
    return FORECAST.found(record, OF_VISIT, {"visit": visit_id})


def every_forecast(record: Record) -> list[ForecastMade]:
    """All that stand, oldest first: for the score of the whole file."""
    return FORECAST.found(record, ALL, {})
