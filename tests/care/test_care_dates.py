from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from store.care.dates import day_text, how_long, read_date, stamp_text
from store.care.faults import CareFault
from store.knowledge.time import Stamp

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026-11-20", date(2026, 11, 20)),
        ("20.11.2026", date(2026, 11, 20)),
        ("20/11", date(2026, 11, 20)),
        ("20 11", date(2026, 11, 20)),
        ("20 Nov", date(2026, 11, 20)),
        ("20 november 2025", date(2025, 11, 20)),
        ("1. Sept", date(2026, 9, 1)),
        ("Yesterday", date(2026, 11, 24)),
        (" today ", TODAY),
        ("5 days ago", date(2026, 11, 20)),
        ("2 weeks ago", date(2026, 11, 11)),
        ("25 Nov", TODAY),
        ("26 Nov", date(2025, 11, 26)),  # a day that has not come this year was last year's
        ("29 Feb", date(2024, 2, 29)),
    ],
)
def test_a_day_is_read_as_people_write_it(typed: str, day: date) -> None:
    assert read_date(typed, TODAY) == day


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("14 Mar", date(2027, 3, 14)),
        ("14 Mar 2027", date(2027, 3, 14)),
        ("25 Nov", TODAY),
        ("in 3 weeks", date(2026, 12, 16)),
        ("29.2.", date(2028, 2, 29)),
    ],
)
def test_a_goal_lies_ahead(typed: str, day: date) -> None:
    assert read_date(typed, TODAY, ahead=True) == day


def test_nothing_typed_is_no_date() -> None:
    assert read_date("  ", TODAY) is None


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("last tuesday", "last tuesday is no date"),
        ("20 mai", "20 mai is no date"),
        ("31 Nov 2026", "31 Nov 2026 is no day that exists"),
        ("30.02.2026", "is no day that exists"),
        ("2026-13-01", "is no day that exists"),
        ("0000-01-01", "is no day that exists"),
        ("9999 weeks ago", "is no date"),
        ("٢٠.١١.٢٠٢٦", "is no date"),
        ("20" * 40, "is no date"),
    ],
)
def test_what_is_no_day_is_refused_with_what_to_type(typed: str, says: str) -> None:
    with pytest.raises(CareFault, match=says) as refused:
        read_date(typed, TODAY)
    assert "5 days ago" in str(refused.value)
    assert len(str(refused.value)) < 130


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
