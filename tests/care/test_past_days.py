"""Where a reading without a visit came from: typed in a shell, or brought in from a table."""

from __future__ import annotations

from datetime import timedelta

import pytest

from store.care.past_days import ALONE, FROM_A_TABLE, came_from
from store.knowledge.time import Stamp
from store.knowledge.words import Reading
from store.record.uuid7 import milliseconds, uuid7
from tests.screens.made import NOW


@pytest.mark.parametrize(
    ("visit", "kept_after_s", "came"),
    [
        (None, 0, ALONE),  # `add` keeps it as it takes it
        (None, 2, ALONE),
        (None, 3600, FROM_A_TABLE),
        (None, 200 * 86_400, FROM_A_TABLE),
        ("v", 3600, ""),
    ],
)
def test_a_reading_kept_long_after_it_was_taken_is_of_a_table(
    visit: str | None, kept_after_s: int, came: str
) -> None:
    kept = uuid7(milliseconds(NOW + timedelta(seconds=kept_after_s)), 1)
    assert came_from(Reading(kept, "p", "lunge", "cm", Stamp.of(NOW), visit=visit)) == came


def test_an_id_that_tells_no_time_is_not_said_to_be_of_a_table() -> None:
    assert came_from(Reading("one", "p", "lunge", "cm", Stamp.of(NOW))) == ALONE
