"""The word at fault is pointed at wherever it stands, whatever the line holds."""

from __future__ import annotations

import pytest

from store.care.pointing import pointed
from store.entry.errors import EntryError


def pointing(line: str, word: str) -> list[str]:
    start = line.index(word)
    return pointed(line, EntryError(word, "why", start, start + len(word))).split("\n")


@pytest.mark.parametrize(
    ("line", "word", "shown", "below"),
    [
        ("lunch 10 4", "lunch", "  lunch 10 4", "  ^^^^^"),
        ("lunge 10 4x", "4x", "  lunge 10 4x", "           ^^"),
        ("lunge 腫れ x", "x", "  lunge 腫れ x", "             ^"),  # two columns to each wide letter
        ("lunge 腫れ x", "腫れ", "  lunge 腫れ x", "        ^^^^"),
        ("e\u0301 y", "y", "  e\u0301 y", "    ^"),  # an accent has no column of its own
        ("a\x1bb", "\x1b", "  aU+001Bb", "   ^^^^^^"),
    ],
)
def test_the_row_of_carets_stands_below_the_word(line: str, word: str, shown: str, below: str) -> None:
    assert pointing(line, word) == [shown, below]


@pytest.mark.parametrize("place", [0, 40, 500, 990])
def test_of_a_long_line_the_part_around_the_word_is_shown(place: int) -> None:
    line = "a" * place + " WRONG " + "b" * (1000 - place)
    shown, below = pointing(line, "WRONG")
    assert len(shown) <= 76
    assert shown[below.index("^") : below.rindex("^") + 1] == "WRONG"


def test_a_word_longer_than_the_row_is_pointed_at_as_far_as_it_shows() -> None:
    shown, below = pointing("lunge " + "9" * 5000, "9" * 5000)
    assert max(len(shown), len(below)) <= 76
    assert below.count("^") > 20


def test_nothing_is_pointed_at_in_an_empty_line() -> None:
    assert pointed("", EntryError("", "nothing to read", 0, 0)) == ""
    assert pointed("   ", EntryError("", "nothing to read", 0, 3)) == ""
