"""Sides: trials to a value, gap, deficit, LSI, and the words for them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.kinds import Measure
from store.knowledge.words import Better
from store.reckon.sides import (
    deficit,
    difference,
    gap,
    in_words,
    lsi,
    normalised_reach,
    perhaps_swapped,
    reach_composite,
    value_of,
    written,
)
from tests.reckon.made import CONFIDENCE, GIRTH, HEEL_RAISE, LUNGE, LUNGE_ANGLE, PAIN, SIDE_HOP, STANCE, measure

VALUES = st.floats(0.1, 200, allow_nan=False)
TENTHS = st.integers(0, 3000).map(lambda tenths: tenths / 10)


def test_the_mean_of_the_trials() -> None:
    assert value_of([10.0, 10.2, 10.4], LUNGE) == pytest.approx(10.2)


def test_the_best_of_the_trials_is_by_the_better_direction() -> None:
    assert value_of([12.0, 31.5, 20.0], STANCE) == 31.5
    fastest = measure("shuttle", "s", better=Better.LOWER, aggregate="best")
    assert value_of([12.0, 11.5, 13.0], fastest) == 11.5


def test_a_single_value_is_taken_as_it_is() -> None:
    assert value_of([18], HEEL_RAISE) == 18
    with pytest.raises(ValueError, match="takes one value, not 2"):
        value_of([18, 19], HEEL_RAISE)


def test_a_clock_that_ran_past_the_cap_counts_as_the_cap() -> None:
    assert value_of([46.3, 12.0], STANCE) == 45.0


def test_no_trials_have_no_value() -> None:
    with pytest.raises(ValueError, match="no trials"):
        value_of([], LUNGE)


def test_gap_is_raw_and_deficit_positive_when_worse() -> None:
    assert gap(4.8, 10.2) == -5.4
    assert deficit(4.8, 10.2, Better.HIGHER) == 5.4
    assert gap(53.4, 52.0) == 1.4
    assert deficit(53.4, 52.0, Better.LOWER) == 1.4
    assert deficit(10.2, 4.8, Better.HIGHER) == -5.4


def test_equal_sides_have_no_minus_nought() -> None:
    assert str(gap(8.4, 8.4)) == "0.0"
    assert str(deficit(8.4, 8.4, Better.LOWER)) == "0.0"


@given(TENTHS, TENTHS)
def test_a_difference_of_tenths_is_the_decimal_one(later: float, earlier: float) -> None:
    assert difference(later, earlier) == (round(later * 10) - round(earlier * 10)) / 10


def test_lsi_is_not_defined_without_both_sides_or_over_nought() -> None:
    assert lsi(None, 10.0, Better.HIGHER) is None
    assert lsi(8.5, None, Better.HIGHER) is None
    assert lsi(8.5, 0.0, Better.HIGHER) is None
    assert lsi(0.0, 10.0, Better.LOWER) is None
    assert lsi(0.0, 10.0, Better.HIGHER) == 0.0


@given(VALUES, VALUES)
def test_lsi_is_under_a_hundred_just_when_the_injured_side_is_worse(injured: float, uninjured: float) -> None:
    for better in Better:
        index = lsi(injured, uninjured, better)
        assert index is not None
        worse = injured < uninjured if better is Better.HIGHER else injured > uninjured
        assert index <= 100 if worse else index >= 100


@pytest.mark.parametrize(
    ("raw", "of", "words"),
    [
        (-5.4, LUNGE, "5.4 short"),
        (1.2, LUNGE, "1.2 more"),
        (-9.0, HEEL_RAISE, "9 short"),
        (-12.25, STANCE, "12.3 short"),
        (-4.0, LUNGE_ANGLE, "4 short"),
        (1.4, GIRTH, "1.4 larger"),
        (-0.3, GIRTH, "0.3 smaller"),
        (2.0, SIDE_HOP, "2.00 slower"),
        (-2.5, SIDE_HOP, "2.50 faster"),
        (2.0, PAIN, "2 higher"),
        (-1.0, PAIN, "1 lower"),
        (-3.0, CONFIDENCE, "3 lower"),
        (0.0, LUNGE, "equal"),
        (0.04, LUNGE, "equal"),
        (-0.05, LUNGE, "0.1 short"),
        (3.0, measure("foot_lift", "count", step=1.0, better=Better.LOWER), "3 more"),
        (-3.0, measure("foot_lift", "count", step=1.0, better=Better.LOWER), "3 fewer"),
    ],
)
def test_a_gap_in_words(raw: float, of: Measure, words: str) -> None:
    assert in_words(raw, of) == words


@given(st.floats(-100, 100, allow_nan=False), st.sampled_from([LUNGE, GIRTH, PAIN, SIDE_HOP, HEEL_RAISE]))
def test_the_words_never_carry_a_sign(raw: float, of: Measure) -> None:
    assert not {"-", "+", "−"} & set(in_words(raw, of))


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [(10.25, 0.1, "10.3"), (10.0, 0.1, "10.0"), (12.5, 1.0, "13"), (40.0, 10.0, "40"), (0.125, 0.01, "0.13")],
)
def test_a_value_is_written_to_the_measures_step(value: float, step: float, text: str) -> None:
    assert written(value, measure(step=step)) == text


def test_a_small_minus_is_written_as_nought() -> None:
    assert written(-0.01, LUNGE) == "0.0"


def test_the_sides_are_perhaps_swapped_when_the_injured_one_is_clearly_better() -> None:
    assert perhaps_swapped(10.2, 4.8, LUNGE, 1.9)
    assert perhaps_swapped(9.9, 8.0, LUNGE, 1.9), "exactly the error is clear"
    assert not perhaps_swapped(9.8, 8.0, LUNGE, 1.9)
    assert not perhaps_swapped(4.8, 10.2, LUNGE, 1.9)
    assert perhaps_swapped(51.0, 53.0, GIRTH, 0.83)
    assert not perhaps_swapped(53.0, 51.0, GIRTH, 0.83)


def test_without_a_known_error_nothing_is_clearly_better() -> None:
    assert not perhaps_swapped(40.0, 4.0, STANCE, None)


def test_a_reach_needs_a_limb_length() -> None:
    assert normalised_reach(65, 92) == pytest.approx(70.652, abs=5e-4)
    assert reach_composite(65, 100, 95, None) is None
    assert reach_composite(65, None, 95, 92) is None
    with pytest.raises(ValueError, match="limb length"):
        normalised_reach(65, 0)
    with pytest.raises(ValueError, match="limb length"):
        reach_composite(65, 100, 95, float("nan"))


def test_a_mean_carries_no_noise_of_binary_fractions() -> None:
    assert value_of([11.6, 11.7, 11.8], LUNGE) == 11.7
    assert value_of([6.8, 6.9, 7.0], LUNGE) == 6.9
