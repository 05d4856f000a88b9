"""The gap from visit to visit, and what made it move."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.kinds import Measure
from store.knowledge.words import Side, Status, Verdict
from store.reckon.change import change
from store.reckon.gaps import Pair, gap_change
from tests.reckon.made import GIRTH, LUNGE, LUNGE_OF_PATIENTS, STANCE, reading


def pair(injured: float | None, uninjured: float | None, visit: str = "first", of: Measure = LUNGE) -> Pair:
    return Pair(reading(injured, of, visit=visit), reading(uninjured, of, Side.LEFT, visit=visit))


def test_a_gap_is_held_against_the_error_of_a_gap() -> None:
    found = gap_change(pair(4.0, 10.0), pair(6.6, 10.0, "second"), LUNGE)
    assert (found.value, found.verdict) == (2.6, Verdict.WITHIN)
    assert found.mdc == pytest.approx(2.687, abs=5e-4)
    assert gap_change(pair(4.0, 10.0), pair(6.7, 10.0, "second"), LUNGE).verdict is Verdict.GAIN


def test_a_gap_that_closes_because_the_uninjured_side_fell_is_no_gain() -> None:
    found = gap_change(pair(8.0, 11.0), pair(8.0, 9.0, "second"), LUNGE_OF_PATIENTS)
    assert found.value == 2.0
    assert found.verdict is Verdict.WITHIN
    assert found.warnings == (
        "the gap closed because the uninjured side got worse: no clear gain of the injured side",
    )
    both_fell = gap_change(pair(8.0, 12.0), pair(6.9, 9.0, "second"), LUNGE_OF_PATIENTS)
    assert both_fell.verdict is Verdict.LOSS


def test_a_clear_gain_of_the_injured_side_stands_though_the_other_fell_too() -> None:
    assert gap_change(pair(6.0, 11.0), pair(8.0, 10.5, "second"), LUNGE).verdict is Verdict.WITHIN
    assert gap_change(pair(5.0, 11.0), pair(8.0, 10.5, "second"), LUNGE).verdict is Verdict.GAIN


def test_a_gap_that_opens_because_the_uninjured_side_rose_is_no_loss() -> None:
    found = gap_change(pair(8.0, 9.0), pair(8.0, 11.0, "second"), LUNGE_OF_PATIENTS)
    assert (found.value, found.verdict) == (-2.0, Verdict.WITHIN)
    assert "no clear loss of the injured side" in found.warnings[0]


def test_the_girth_gap_closes_downwards() -> None:
    assert gap_change(pair(54.0, 52.0, of=GIRTH), pair(52.2, 52.0, "second", GIRTH), GIRTH).verdict is Verdict.GAIN
    swollen = gap_change(pair(54.0, 52.0, of=GIRTH), pair(54.0, 53.9, "second", GIRTH), GIRTH)
    assert swollen.verdict is Verdict.WITHIN
    assert "uninjured side got worse" in swollen.warnings[0]


@given(*[st.integers(0, 300).map(lambda tenths: tenths / 10)] * 4)
def test_never_a_gain_while_the_injured_side_lost_or_stood_and_the_other_fell(
    injured_then: float, uninjured_then: float, injured_now: float, uninjured_now: float
) -> None:
    then, now = pair(injured_then, uninjured_then), pair(injured_now, uninjured_now, "second")
    found = gap_change(then, now, LUNGE)
    own = change(then.injured, now.injured, LUNGE)
    if found.verdict is Verdict.GAIN:
        assert injured_now > injured_then
        assert own.verdict is Verdict.GAIN


def test_caps_and_unables_have_no_gap() -> None:
    capped = Pair(
        reading(30.0, STANCE, visit="second"),
        reading(45.0, STANCE, Side.LEFT, visit="second", status=Status.CAP),
    )
    found = gap_change(pair(12.0, 40.0, of=STANCE), capped, STANCE)
    assert (found.value, found.verdict) == (None, None)
    assert found.warnings == ("cap reached on the left: the gap cannot be followed",)
    unable = gap_change(pair(None, 10.0), pair(6.0, 10.0, "second"), LUNGE)
    assert (unable.value, unable.verdict) == (None, None)
    assert unable.warnings == ("unable, then measured: no change in figures",)


def test_warnings_of_both_sides_are_said_once() -> None:
    now = Pair(reading(9.0, visit="second", trials=1), reading(10.0, side=Side.LEFT, visit="second", trials=1))
    found = gap_change(pair(8.0, 10.0), now, LUNGE)
    assert found.warnings == ("only 1 trial of 3: the error is larger than the one used",)


def test_an_unknown_error_stays_unknown() -> None:
    assert (
        gap_change(pair(12.0, 40.0, of=STANCE), pair(39.0, 40.0, "second", STANCE), STANCE).verdict
        is Verdict.UNKNOWN
    )


def test_a_pair_has_two_sides() -> None:
    with pytest.raises(ValueError, match="a left and a right"):
        Pair(reading(8.0), reading(9.0))
