from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from store.care.dates import day_text, how_long, stamp_text
from store.knowledge.time import Stamp

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (TODAY, "today"),
        (date(2026, 11, 24), "yesterday"),
        (date(2026, 11, 26), "tomorrow"),
        (date(2026, 11, 20), "5 days ago"),
        (date(2026, 9, 1), "12 weeks ago"),
        (date(2027, 3, 14), "in 15 weeks"),
    ],
)
def test_how_far_a_day_lies(day: date, words: str) -> None:
    assert how_long(day, TODAY) == words


def test_days_are_written_in_words() -> None:
    assert day_text(TODAY) == "25 Nov 2026"
    assert day_text(TODAY, weekday=True) == "Wed 25 Nov 2026"
    assert stamp_text(Stamp(datetime(2026, 11, 25, 9, 38, tzinfo=UTC), 60)) == "25 Nov 2026 10:38"
