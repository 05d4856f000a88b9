"""No test of this room hangs on the time of day: where it runs it is morning, however late it is here."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.terminal.driver import clean_environment
from tests.terminal.morning import hours_ahead, zone_name

DAY = datetime(2026, 11, 29, tzinfo=UTC)
NEAR_MIDNIGHT = (
    timedelta(0),
    timedelta(minutes=1),
    timedelta(hours=22, minutes=59),
    timedelta(hours=23, minutes=59, seconds=59),
)


def _shown_in(zone: str, instant: datetime, monkeypatch: pytest.MonkeyPatch) -> datetime:
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    return datetime.fromtimestamp(instant.timestamp()).astimezone()


@pytest.mark.parametrize("since", [*NEAR_MIDNIGHT, *(timedelta(hours=n, minutes=30) for n in range(24))], ids=str)
def test_whenever_it_begins_it_is_morning_and_the_day_lasts(
    since: timedelta, monkeypatch: pytest.MonkeyPatch
) -> None:
    hours = hours_ahead(DAY + since)
    assert -12 <= hours <= 14
    began = _shown_in(zone_name(hours), DAY + since, monkeypatch)
    assert began.hour == 9
    assert _shown_in(zone_name(hours), DAY + since + timedelta(hours=14), monkeypatch).date() == began.date()
    monkeypatch.undo()
    time.tzset()


def test_programs_and_the_test_itself_have_the_same_morning(tmp_path: Path) -> None:
    asks = "from datetime import datetime; print(datetime.now().isoformat())"
    told = subprocess.run(
        [sys.executable, "-c", asks], env=clean_environment(tmp_path), capture_output=True, text=True, check=True
    )
    found = datetime.fromisoformat(told.stdout.strip())
    assert found.hour in {9, 10}  # ten, where the run itself has lasted so long
    assert found.date() == date.today()  # noqa: DTZ011 - the day here is what is asked about
    assert os.environ["TZ"] == clean_environment(tmp_path)["TZ"]
