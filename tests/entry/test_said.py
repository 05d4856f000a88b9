"""The first line of a visit."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.errors import EntryError
from store.entry.said import MEASURES, Said, is_said, parse_said
from store.knowledge.kinds import Measure
from store.knowledge.words import Status
from tests.reckon.made import find


def values(said: Said) -> dict[str, float]:
    return {entry.measure.id: entry.sides[0].trials[0] for entry in said.entries}


def fault(line: str) -> str:
    with pytest.raises(EntryError) as caught:
        parse_said(line, find)
    return str(caught.value)


def test_a_whole_line() -> None:
    said = parse_said("pain 2 worst 4 morning 1 walk 1 gaveway 0 home 5/7 confidence 6", find)
    assert values(said) == {
        "pain_now": 2.0,
        "pain_worst": 4.0,
        "pain_morning": 1.0,
        "pain_walk": 1.0,
        "confidence": 6.0,
    }
    assert (said.gave_way, said.home_done, said.home_planned) == (0, 5, 7)
    assert said.asks == ()
    assert all(entry.sides[0].side is None and entry.moment is None for entry in said.entries)
    assert all(entry.sides[0].status is Status.MEASURED for entry in said.entries)


def test_each_part_may_be_left_out_and_the_order_is_free() -> None:
    said = parse_said("home 5/7, Worst 4", find)
    assert values(said) == {"pain_worst": 4.0}
    assert (said.gave_way, said.home_done, said.home_planned) == (None, 5, 7)
    assert parse_said("gave_way 2", find) == Said(gave_way=2)


@pytest.mark.parametrize(("word", "agreed"), [("y", True), ("Yes", True), ("n", False), ("no", False)])
def test_consent_today_is_yes_or_no(word: str, agreed: bool) -> None:
    assert parse_said(f"pain 2 consent {word}", find).consent is agreed
    assert parse_said("pain 2", find).consent is None
    assert is_said("consent y")


def test_consent_is_neither_guessed_nor_said_twice() -> None:
    assert "y when the person agrees" in fault("consent 1")
    assert "no figure behind it" in fault("consent")
    assert "said twice" in fault("consent y consent n")


def test_out_of_ten_may_be_typed() -> None:
    assert values(parse_said("pain 2/10", find)) == {"pain_now": 2.0}


def test_more_done_than_planned_is_asked_about() -> None:
    assert parse_said("home 7/5", find).asks == ("home 7/5: more done than planned. Is it right?",)
    assert parse_said("home 0/0", find).asks == ()


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("pain", "pain: no figure behind it: type one, or leave the word out"),
        ("pain worst 4", "pain: no figure behind it: type one, or leave the word out"),
        ("pain 11", "11: pain now goes from 0 to 10"),
        ("pain -1", "-1: pain now goes from 0 to 10"),
        ("pain bad", "bad: not a number: type a figure such as 8 or 8.4"),
        ("pain ٢", "٢: write figures with the digits 0 to 9"),
        ("pain 2cm", "2cm: pain now is in figures from 0 to 10, not in cm"),
        ("pain 2 pain 3", "pain: said twice: leave one of the two"),
        ("gaveway 1 gave_way 1", "gave_way: said twice: leave one of the two"),
        ("home 5/7 home 5/7", "home: said twice: leave one of the two"),
        ("gaveway no", "no: not a count: type a whole number, 0 if it did not"),
        ("gaveway 1.5", "1.5: not a count: type a whole number, 0 if it did not"),
        ("gaveway ٢", "٢: not a count: type a whole number, 0 if it did not"),
        ("gaveway 100", "100: at most 99"),
        ("home 5", "5: type the days done and planned, such as home 5/7"),
        ("home 5/700", "5/700: at most 99"),
        ("pian 2", "pian: not a word of this line; did you mean pain?"),
        ("2", "2: not a word of this line: use pain, worst, morning, walk, confidence, gaveway, home, consent"),
        ('pain 2 "sore"', '"sore": no quotes here: type words and figures, such as pain 2'),
        ('pain "2"', "pain: no figure behind it: type one, or leave the word out"),
        ("pain 2\x1b", "U+001B: a character that cannot be shown: delete it and type the line again"),
        ("", "nothing to read: type a line such as pain 2 worst 4"),
    ],
)
def test_it_says_which_word_and_why(line: str, says: str) -> None:
    assert fault(line) == says


def test_a_measure_that_the_tables_do_not_have_is_named() -> None:
    def without_walk(word: str) -> Measure | None:
        return None if word == "pain_walk" else find(word)

    with pytest.raises(EntryError, match="walk: the tables of this copy have no measure pain_walk"):
        parse_said("pain 1 walk 2", without_walk)


@given(
    st.dictionaries(st.sampled_from(sorted(MEASURES)), st.integers(0, 10)),
    st.none() | st.integers(0, 99),
    st.none() | st.tuples(st.integers(0, 99), st.integers(0, 99)),
    st.randoms(use_true_random=False),
)
def test_what_was_said_reads_back(
    figures: dict[str, int], gave_way: int | None, home: tuple[int, int] | None, shuffle: Random
) -> None:
    parts = [f"{word} {figure}" for word, figure in figures.items()]
    parts += [] if gave_way is None else [f"gaveway {gave_way}"]
    parts += [] if home is None else [f"home {home[0]}/{home[1]}"]
    shuffle.shuffle(parts)
    if not parts:
        return
    said = parse_said(" ".join(parts), find)
    assert values(said) == {MEASURES[word]: float(figure) for word, figure in figures.items()}
    assert said.gave_way == gave_way
    assert (said.home_done, said.home_planned) == (home or (None, None))


def test_a_first_word_tells_what_is_said_from_a_measure() -> None:
    assert is_said("Pain 2 worst 4")
    assert is_said("gave-way 1")
    assert not is_said("lunge 10 8")
    assert not is_said("  ")
