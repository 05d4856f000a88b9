from __future__ import annotations

import string
from itertools import combinations

import pytest

from tui.widgets.letters import ALPHABET, SMALLEST, Scale, letter_dots, scale_for, word_dots, word_rows

SCALES = [SMALLEST, Scale(7, 8, 2), Scale(10, 17, 3), Scale(12, 19, 3), Scale(14, 20, 4), Scale(24, 41, 7)]
ALIKE = {("0", "O")}  # a zero and an O may look the same: they never stand in one word


def test_the_alphabet_is_covered() -> None:
    assert set(string.ascii_uppercase + string.digits + ".-: ") <= ALPHABET


@pytest.mark.parametrize("scale", SCALES, ids=str)
def test_no_two_letters_look_alike(scale: Scale) -> None:
    drawn = {
        letter: letter_dots(letter, scale.width_of(letter), scale.height, scale.stroke) for letter in ALPHABET
    }
    same = {(a, b) for a, b in combinations(sorted(ALPHABET - {" "}), 2) if drawn[a] == drawn[b]}
    assert same <= ALIKE


@pytest.mark.parametrize("scale", SCALES, ids=str)
@pytest.mark.parametrize("letter", sorted(ALPHABET - {" "}))
def test_each_letter_stays_in_its_box_and_reaches_its_edges(scale: Scale, letter: str) -> None:
    width = scale.width_of(letter)
    dots = letter_dots(letter, width, scale.height, scale.stroke)
    assert {x for x, _ in dots} <= set(range(width))
    assert min(x for x, _ in dots) <= (1 if letter == "J" else 0)
    assert max(x for x, _ in dots) >= width - 2
    assert max(y for _, y in dots) < scale.height
    if letter not in ".:-+":
        assert {y for _, y in dots} == set(range(scale.height))


@pytest.mark.parametrize("scale", SCALES, ids=str)
@pytest.mark.parametrize("letter", "AHIMOTUVWXY08")
def test_letters_that_are_alike_left_and_right_are_drawn_so(scale: Scale, letter: str) -> None:
    width = scale.width_of(letter)
    dots = letter_dots(letter, width, scale.height, scale.stroke)
    mirrored = {(width - 1 - x, y) for x, y in dots}
    unlike = len(dots ^ mirrored)
    assert unlike <= (0 if letter in "AHIOTU08" else len(dots) * 0.25)


def test_a_word_is_as_wide_as_it_says_and_leaves_gaps() -> None:
    scale = Scale(14, 20, 4)
    rows = word_rows("HOLD", scale)
    assert {len(row) for row in rows} == {scale.width_of_word("HOLD")}
    assert len(rows) == scale.rows == 10
    columns = {x for x, _ in word_dots("HOLD", scale)}
    assert set(range(14, 14 + scale.gap)).isdisjoint(columns)


@pytest.mark.parametrize("word", ["LUNGE", "HOLD", "BACK", "REST", "17", "45.0", "LEFT", "RIGHT", "FORWARD", "3"])
@pytest.mark.parametrize(("columns", "rows"), [(68, 10), (60, 10), (108, 20), (148, 30)])
def test_the_scale_grows_with_the_room_and_fits_it(word: str, columns: int, rows: int) -> None:
    scale = scale_for(word, columns, rows)
    assert scale is not None
    assert scale.rows <= rows
    assert scale.width_of_word(word) <= columns
    smaller = scale_for(word, columns // 2, rows // 2)
    assert smaller is None or smaller.height <= scale.height


def test_no_letters_where_they_do_not_fit_or_are_unknown() -> None:
    assert scale_for("LUNGE", 20, 10) is None
    assert scale_for("HOLD", 80, 2) is None
    assert scale_for("ÉTÉ", 80, 10) is None
    with pytest.raises(KeyError):
        letter_dots("É", 5, 5, 1)


def test_how_a_word_is_drawn() -> None:
    assert "\n".join(word_rows("HI5", Scale(7, 8, 2))) == (
        "██   ██  ██████  ███████\n"
        "██▄▄▄██    ██    ██▄▄▄▄ \n"
        "██▀▀▀██    ██    ▀▀▀▀▀█▄\n"
        "██   ██  ██████  ▀█████▀"
    )  # fmt: skip
