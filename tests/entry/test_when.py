"""When a contact is planned, in one short line."""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.errors import EntryError
from store.entry.when import parse_when
from store.knowledge.time import WEEKDAYS, Stamp

BRUSSELS = ZoneInfo("Europe/Brussels")
NOW = datetime(2026, 11, 25, 10, 38, tzinfo=BRUSSELS)  # a Wednesday
DECADE = datetime(2020, 1, 1, tzinfo=UTC)


def due(line: str, now: datetime = NOW) -> str:
    return f"{parse_when(line, Stamp.of(now), BRUSSELS).due.local:%Y-%m-%d %H:%M}"


def fault(line: str, now: datetime = NOW) -> str:
    with pytest.raises(EntryError) as caught:
        parse_when(line, Stamp.of(now), BRUSSELS)
    return str(caught.value)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("thu 10:40", "2026-11-26 10:40"),
        ("Thursday 9:05", "2026-11-26 09:05"),
        ("wed 10:39", "2026-11-25 10:39"),
        ("wed 10:38", "2026-12-02 10:38"),
        ("mon 8.30", "2026-11-30 08:30"),
        ("3 dec 14:00", "2026-12-03 14:00"),
        ("dec 3 14:00", "2026-12-03 14:00"),
        ("3. december 2027 14h00", "2027-12-03 14:00"),
        ("3 nov 14:00", "2027-11-03 14:00"),
        ("25 nov 10:00", "2027-11-25 10:00"),
        ("3.12. 14:00", "2026-12-03 14:00"),
        ("3.12.2027 14:00", "2027-12-03 14:00"),
        ("2026-12-03 14:00", "2026-12-03 14:00"),
        ("+7 10:40", "2026-12-02 10:40"),
        ("+2w 10:40", "2026-12-09 10:40"),
        ("today 16:00", "2026-11-25 16:00"),
        ("tomorrow 0:00", "2026-11-26 00:00"),
    ],
)
def test_a_day_and_a_time(line: str, says: str) -> None:
    assert due(line) == says


def test_how_long_may_stand_behind_it() -> None:
    assert parse_when("thu 10:40 45min", Stamp.of(NOW), BRUSSELS).minutes == 45
    assert parse_when("thu 10:40", Stamp.of(NOW), BRUSSELS).minutes is None
    assert "1 to 240 minutes" in fault("thu 10:40 0min")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("today 10:00", "in the past"),
        ("+0 10:38", "in the past"),
        ("2026-11-24 10:00", "in the past"),
        ("thu", "no time of day"),
        ("10:40", "a time without a day"),
        ("thu 25:00", "from 0:00 to 23:59"),
        ("soon 10:40", "no day"),
        ("31 nov 10:40", "not in the calendar"),
        ("2026-02-30 10:40", "not in the calendar"),
        ("2999-01-01 10:40", "more than two years ahead"),
        ("9999-12-31 23:59", "more than two years ahead"),
        ("th 10:40", "no day"),
        ('"thu" "10:40"', "no time of day"),
        ("", "nothing to read"),
    ],
)
def test_what_cannot_be_says_why(line: str, says: str) -> None:
    assert says in fault(line)


def test_the_offset_is_the_one_in_force_on_that_day() -> None:
    """The clocks go forward on 28 March 2027: ten o'clock is an hour earlier in UTC from then on."""
    saturday = parse_when("27 mar 10:00", Stamp.of(NOW), BRUSSELS).due
    sunday = parse_when("28 mar 10:00", Stamp.of(NOW), BRUSSELS).due
    assert (saturday.offset_min, sunday.offset_min) == (60, 120)
    assert sunday.at - saturday.at == timedelta(hours=23)
    assert "left out that day" in fault("28 mar 2:30")


def test_an_hour_that_comes_twice_is_the_first_of_the_two() -> None:
    assert parse_when("31 oct 2:30", Stamp.of(NOW), BRUSSELS).due.at == datetime(2027, 10, 31, 0, 30, tzinfo=UTC)


NOWS = st.integers(0, 10 * 525_600).map(lambda minutes: (DECADE + timedelta(minutes=minutes)).astimezone(BRUSSELS))


@given(NOWS, st.sampled_from(WEEKDAYS), st.integers(3, 23), st.integers(0, 59))
def test_a_day_of_the_week_is_the_coming_one(now: datetime, name: str, hour: int, minute: int) -> None:
    at = Stamp.of(now)
    found = parse_when(f"{name[:3]} {hour}:{minute:02}", at, BRUSSELS).due
    assert at < found
    assert (found.on - at.on).days <= 7
    assert found.local.weekday() == WEEKDAYS.index(name)
    assert (found.local.hour, found.local.minute) == (hour, minute)


@given(NOWS, st.integers(1, 700), st.integers(3, 23), st.integers(0, 59))
def test_what_is_shown_can_be_typed_again(now: datetime, days: int, hour: int, minute: int) -> None:
    at = Stamp.of(now)
    found = parse_when(f"+{days} {hour}:{minute:02}", at, BRUSSELS).due
    assert (found.on - at.on).days == days
    assert parse_when(f"{found.local:%Y-%m-%d %H:%M}", at, BRUSSELS).due == found


@given(
    NOWS,
    st.text() | st.lists(st.sampled_from(["thu", "3", "dec", "+7", "10:40", "2026", '"', "45min"])).map(" ".join),
)
def test_anything_else_is_refused_with_a_sentence(now: datetime, line: str) -> None:
    with suppress(EntryError):
        assert parse_when(line, Stamp.of(now), BRUSSELS).due > Stamp.of(now)
