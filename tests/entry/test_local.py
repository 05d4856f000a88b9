"""Days and times of a table: local, unless an offset says otherwise, and only those that there were."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.errors import EntryError
from store.entry.local import day_of, is_day, stamp_of
from store.knowledge.time import Stamp

BRUSSELS = ZoneInfo("Europe/Brussels")


def stamp(text: str, zone: ZoneInfo = BRUSSELS) -> tuple[str, int]:
    found = stamp_of(text, zone)
    return found.text, found.offset_min


@pytest.mark.parametrize(
    "text",
    [
        "2026-08-14T09:30", "2026-08-14 09:30:00", "2026-8-14 9:30", "14.8.2026 09:30", "14.08.2026  9:30:00.000",
        "2026-08-14T09:30+02:00", "2026-08-14 09:30 +0200", "2026-08-14T07:30Z", "2026-08-14t07:30:00z",
    ],
)  # fmt: skip
def test_a_time_is_read_in_many_ways(text: str) -> None:
    assert stamp(text) == ("2026-08-14T07:30:00.000Z", 120)


def test_a_time_has_the_offset_of_its_own_day_or_the_one_it_names() -> None:
    assert stamp("2026-01-14 09:30") == ("2026-01-14T08:30:00.000Z", 60)
    assert stamp("2026-01-14 09:30-05:30") == ("2026-01-14T15:00:00.000Z", -330)


def test_a_day_alone_is_its_first_moment_also_where_midnight_was_left_out() -> None:
    assert is_day("2026-08-14")
    assert not is_day("2026-08-14 00:00")
    assert stamp("14.8.2026") == ("2026-08-13T22:00:00.000Z", 120)
    first = stamp_of("2024-09-08", ZoneInfo("America/Santiago"))  # the clocks went from 0 to 1
    assert f"{first.local:%Y-%m-%d %H:%M}" == "2024-09-08 01:00"


def test_a_time_that_comes_twice_wants_its_offset() -> None:
    with pytest.raises(EntryError, match=r"showed this time twice: write \+02:00 or \+01:00 behind it"):
        stamp_of("2026-10-25 02:30", BRUSSELS)
    assert stamp("2026-10-25 02:30+01:00") == ("2026-10-25T01:30:00.000Z", 60)
    assert stamp("2026-10-25 03:00") == ("2026-10-25T02:00:00.000Z", 60)
    assert stamp("2026-10-25 01:59") == ("2026-10-24T23:59:00.000Z", 120)


def test_a_time_that_never_was_is_refused() -> None:
    with pytest.raises(EntryError, match="the clocks were put forward over this time"):
        stamp_of("2026-03-29 02:30", BRUSSELS)
    assert stamp("2026-03-29 03:00") == ("2026-03-29T01:00:00.000Z", 120)


@pytest.mark.parametrize(
    "text",
    [
        "yesterday", "14/08/2026 09:30", "2026-13-01 09:30", "2026-02-30", "2026-08-14 24:00", "2026-08-14 09:60",
        "2026-08-14 9", "09:30", "2026-08-14 09:30+25:00", "0001-01-01 00:00+14:00", "9999-12-31 23:59-14:00",
        "2026-08-14T", "٢٠٢٦-08-14", "20260814", "1969-12-31",
    ],
)  # fmt: skip
def test_what_is_no_time_is_refused_with_what_to_write(text: str) -> None:
    with pytest.raises(EntryError, match="write"):
        stamp_of(text, BRUSSELS)


def test_a_day_is_read_with_the_day_first_or_last() -> None:
    assert day_of("2026-09-01") == day_of("1.9.2026") == date(2026, 9, 1)
    for text in ("2026-09-01 10:00", "31.6.2026", "1/9/2026", "1899-01-01"):
        with pytest.raises(EntryError, match="2026-08-14"):
            day_of(text)


@given(st.integers(0, 4_000_000_000_000), st.booleans())
def test_every_instant_comes_back(ms: int, zulu: bool) -> None:
    at = datetime.fromtimestamp(0, UTC) + timedelta(days=1, milliseconds=ms)
    local = at.astimezone(BRUSSELS)
    text = at.isoformat().replace("+00:00", "Z") if zulu else local.isoformat()
    assert stamp_of(text, BRUSSELS) == Stamp.of(local)
