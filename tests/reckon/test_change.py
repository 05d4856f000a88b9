"""Verdicts on a change: the right error, the better direction, and what can be said of caps and unables."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.words import Better, Moment, Side, Status, Verdict
from store.reckon.change import change, verdict_of
from tests.reckon.made import GIRTH, HEEL_RAISE, LUNGE, LUNGE_OF_PATIENTS, PAIN, STANCE, reading

BEFORE, AFTER = Moment.BEFORE, Moment.AFTER


def test_before_and_retest_are_held_against_the_error_within_a_visit() -> None:
    gained = change(reading(8.0, moment=BEFORE), reading(9.4, moment=AFTER), LUNGE)
    assert (gained.value, gained.verdict) == (1.4, Verdict.GAIN)
    assert gained.mdc == pytest.approx(1.386, abs=5e-4)
    assert change(reading(8.0, moment=BEFORE), reading(9.3, moment=AFTER), LUNGE).verdict is Verdict.WITHIN


def test_visit_and_visit_are_held_against_the_error_between_visits() -> None:
    later = reading(9.4, visit="second")
    assert change(reading(8.0), later, LUNGE).verdict is Verdict.WITHIN
    assert change(reading(8.0), later, LUNGE).mdc == 1.9


def test_the_span_may_be_given() -> None:
    assert change(reading(8.0), reading(9.4, visit="second"), LUNGE, span="within").verdict is Verdict.GAIN


def test_a_change_of_exactly_the_error_is_clear() -> None:
    assert 9.9 - 8.0 != 1.9, "the binary difference is not the decimal one"
    up = change(reading(8.0), reading(9.9, visit="second"), LUNGE)
    assert (up.value, up.verdict) == (1.9, Verdict.GAIN)
    assert 16.9 - 15.0 < 1.9
    assert change(reading(15.0), reading(16.9, visit="second"), LUNGE).verdict is Verdict.GAIN
    assert change(reading(16.9), reading(15.0, visit="second"), LUNGE).verdict is Verdict.LOSS
    assert change(reading(8.2), reading(10.0, visit="second"), LUNGE).verdict is Verdict.WITHIN


@given(st.integers(0, 300), st.integers(0, 300))
def test_the_edge_is_the_decimal_one_everywhere(later: int, earlier: int) -> None:
    found = change(reading(earlier / 10), reading(later / 10, visit="second"), LUNGE)
    assert (found.verdict is Verdict.WITHIN) == (abs(later - earlier) < 19)


@given(st.floats(-100, 100), st.floats(0.01, 50))
def test_turning_the_direction_turns_the_verdict(value: float, mdc: float) -> None:
    turned = {Verdict.GAIN: Verdict.LOSS, Verdict.LOSS: Verdict.GAIN, Verdict.WITHIN: Verdict.WITHIN}
    higher = verdict_of(value, mdc, Better.HIGHER)
    assert verdict_of(value, mdc, Better.LOWER) is turned[higher]
    assert verdict_of(-value, mdc, Better.HIGHER) is turned[higher]


def test_less_girth_is_a_gain() -> None:
    assert change(reading(53.4, GIRTH), reading(52.0, GIRTH, visit="second"), GIRTH).verdict is Verdict.GAIN
    assert change(reading(52.0, GIRTH), reading(53.4, GIRTH, visit="second"), GIRTH).verdict is Verdict.LOSS


def test_without_a_known_error_it_says_so() -> None:
    found = change(reading(12.0, STANCE), reading(30.0, STANCE, visit="second"), STANCE)
    assert (found.value, found.mdc, found.verdict) == (18.0, None, Verdict.UNKNOWN)


def test_other_conditions_and_protocol_are_compared_with_a_warning() -> None:
    other = reading(11.0, visit="second", conditions=("brace",), protocol="lunge 2")
    found = change(reading(8.0), other, LUNGE)
    assert found.verdict is Verdict.GAIN
    assert found.warnings == (
        "not by the same protocol: lunge 1, then lunge 2",
        "not under the same conditions: none noted, then brace",
    )
    unnamed = change(reading(8.0, protocol=""), reading(11.0, visit="second"), LUNGE)
    assert unnamed.warnings == ("not by the same protocol: not recorded, then lunge 1",)


def test_the_order_of_conditions_does_not_matter() -> None:
    found = change(
        reading(8.0, conditions=("brace", "shoe")),
        reading(9.0, visit="second", conditions=("shoe", "brace")),
        LUNGE,
    )
    assert found.warnings == ()


def test_after_treatment_against_before_is_said() -> None:
    found = change(reading(8.0, moment=AFTER), reading(9.0, visit="second", moment=BEFORE), LUNGE)
    assert found.warnings == ("not at the same moment of a visit: after, then before treatment",)
    assert change(reading(8.0), reading(9.0, visit="second", moment=BEFORE), LUNGE).warnings == ()
    assert change(reading(8.0, moment=BEFORE), reading(9.0, moment=AFTER), LUNGE).warnings == ()


def test_fewer_trials_than_the_error_is_of_are_said() -> None:
    found = change(reading(8.0), reading(9.0, visit="second", trials=1), LUNGE)
    assert found.warnings == ("only 1 trial of 3: the error is larger than the one used",)
    assert change(reading(8.0, trials=0), reading(9.0, visit="second"), LUNGE).warnings == (), "trials not kept"


def test_two_examiners_are_seen_from_the_readings() -> None:
    here, there = reading(8.0), reading(9.2, visit="second", examiner="A.D.")
    assert change(here, there, LUNGE_OF_PATIENTS).mdc == 1.6
    assert change(here, there._replace(examiner="K.B."), LUNGE_OF_PATIENTS).mdc == 1.0
    assert change(here, there._replace(examiner=""), LUNGE_OF_PATIENTS).mdc == 1.0
    girth = change(reading(53.0, GIRTH), reading(52.5, GIRTH, visit="second", examiner="A.D."), GIRTH)
    assert girth.warnings == (
        "two examiners, and the error between them is not known here: the true one may be larger",
    )


def test_an_examiners_own_error_replaces_the_published_one() -> None:
    found = change(reading(8.0, moment=BEFORE), reading(9.0, moment=AFTER), LUNGE, own_sem=0.3)
    assert found.verdict is Verdict.GAIN
    assert found.error is not None
    assert found.error.family == "own error"


def test_capped_both_times_has_no_verdict() -> None:
    capped = reading(45.0, STANCE, status=Status.CAP)
    found = change(capped, capped._replace(visit="second"), STANCE, own_sem=1.0)
    assert (found.value, found.verdict) == (None, None)
    assert found.warnings == ("cap reached both times: a change cannot be seen",)


def test_a_cap_at_the_end_is_a_lower_bound() -> None:
    capped = reading(45.0, STANCE, visit="second", status=Status.CAP)
    clear = change(reading(20.0, STANCE), capped, STANCE, own_sem=1.0)
    assert (clear.value, clear.verdict, clear.at_least) == (25.0, Verdict.GAIN, True)
    near = change(reading(44.0, STANCE), capped, STANCE, own_sem=1.0)
    assert (near.value, near.verdict, near.at_least) == (1.0, None, True), "it may be a gain, or may not"
    assert near.warnings == ("the later reading reached the cap: the true change is this or more",)
    assert change(reading(20.0, STANCE), capped, STANCE).verdict is Verdict.UNKNOWN


def test_a_cap_at_the_start_bounds_a_loss() -> None:
    capped = reading(45.0, STANCE, status=Status.CAP)
    lost = change(capped, reading(30.0, STANCE, visit="second"), STANCE, own_sem=1.0)
    assert (lost.value, lost.verdict, lost.at_least) == (-15.0, Verdict.LOSS, True)
    assert lost.warnings == ("the earlier reading reached the cap: the true change is this or more",)


def test_a_value_past_an_older_lower_cap_says_nothing_certain() -> None:
    old = reading(30.0, STANCE, status=Status.CAP, protocol="stance 30 s")
    found = change(old, reading(40.0, STANCE, visit="second"), STANCE, own_sem=1.0)
    assert (found.verdict, found.at_least) == (None, False)
    assert "the true change is not known" in found.warnings[-1]


def test_unable_is_never_a_nought() -> None:
    unable = reading(None)
    now = change(unable, reading(8.0, visit="second"), LUNGE)
    assert (now.value, now.verdict) == (None, None)
    assert now.warnings == ("unable, then measured: no change in figures",)
    never = change(unable, reading(None, visit="second"), LUNGE)
    assert never.warnings == ("unable both times: no change in figures",)
    lost = change(reading(8.0), reading(None, visit="second"), LUNGE)
    assert (lost.value, lost.verdict) == (None, None)


def test_importance_stands_beside_the_verdict() -> None:
    eased = change(reading(6.0, PAIN), reading(4.0, PAIN, visit="second"), PAIN)
    assert (eased.verdict, eased.important) == (Verdict.UNKNOWN, True)
    assert change(reading(6.0, PAIN), reading(5.0, PAIN, visit="second"), PAIN).important is False
    assert change(reading(8.0), reading(9.0, visit="second"), LUNGE).important is None, "no figure known"


def test_another_unit_is_not_compared() -> None:
    found = change(reading(80.0, unit="mm"), reading(9.0, visit="second"), LUNGE)
    assert (found.value, found.warnings) == (None, ("not in the same unit: mm, then cm",))


def test_what_is_not_one_measure_of_one_side_is_refused() -> None:
    with pytest.raises(ValueError, match="one side of one person"):
        change(reading(8.0), reading(9.0, side=Side.LEFT), LUNGE)
    with pytest.raises(ValueError, match="one side of one person"):
        change(reading(8.0), reading(9.0)._replace(person="T.M."), LUNGE)
    with pytest.raises(ValueError, match="not both"):
        change(reading(8.0), reading(20.0, HEEL_RAISE), LUNGE)
    with pytest.raises(ValueError, match="has a value"):
        change(reading(8.0), reading(9.0)._replace(value=None), LUNGE)
