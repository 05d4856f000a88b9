"""The machine's own zone knows what its clocks will do."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, date, datetime
from datetime import time as clock

import pytest

from tui.clock.system import SystemClock


@pytest.fixture(autouse=True)
def brussels(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "Europe/Brussels")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(("day", "hours"), [(date(2027, 3, 27), 1), (date(2027, 3, 28), 2), (date(2027, 7, 1), 2)])
def test_a_time_ahead_has_the_offset_of_its_own_day(day: date, hours: int) -> None:
    offset = datetime.combine(day, clock(10), SystemClock().zone).utcoffset()
    assert offset is not None
    assert offset.total_seconds() == hours * 3600


@pytest.mark.parametrize("at", [datetime(2027, 10, 31, hour, 30, tzinfo=UTC) for hour in range(4)])
def test_each_instant_comes_back_from_the_wall(at: datetime) -> None:
    assert at.astimezone(SystemClock().zone).astimezone(UTC) == at
