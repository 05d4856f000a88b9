"""A new sprain in one line, on a Wednesday."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.errors import EntryError
from store.entry.sprain import SaidSprain, parse_sprain
from store.knowledge.words import Side

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("line", "day", "side", "words"),
    [
        ("12 nov on the stairs", date(2026, 11, 12), None, "on the stairs"),
        ("yesterday, left, landed on a foot", date(2026, 11, 24), Side.LEFT, "landed on a foot"),
        ("2026-11-01 r", date(2026, 11, 1), Side.RIGHT, ""),
        ("mon", date(2026, 11, 23), None, ""),
        ("31 dec in snow", date(2025, 12, 31), None, "in snow"),
        ("today 3 days off work", TODAY, None, "3 days off work"),
        ('tue right "a kerb, in the dark"', date(2026, 11, 24), Side.RIGHT, "a kerb, in the dark"),
    ],
)
def test_it_is_read(line: str, day: date, side: Side | None, words: str) -> None:
    assert parse_sprain(line, TODAY) == SaidSprain(day, side, words)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("", "nothing to read"),
        (" , ", "nothing to read"),
        ("on the stairs", "no day"),
        ('"12 nov"', "type the day first"),
        ("2026-11-26 at home", "still to come"),
        ("2024-11-01 at home", "more than a year ago"),
        ("30 feb", "not in the calendar"),
    ],
)
def test_what_cannot_be_read_says_what_to_type(line: str, says: str) -> None:
    with pytest.raises(EntryError, match=says):
        parse_sprain(line, TODAY)


@given(st.text(max_size=60))
def test_any_line_is_read_or_refused_in_one_way_only(line: str) -> None:
    try:
        found = parse_sprain(line, TODAY)
    except EntryError:
        return
    assert found.day <= TODAY
