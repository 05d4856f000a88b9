"""The error that holds: by span, side or gap, one examiner or two, published or the examiner's own."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.kinds import ErrorFamily, Figure
from store.knowledge.words import Mark
from store.reckon.error import UNSHARED, Error, Span, error_for, mdc_from_sem, sem_from_mdc
from tests.reckon.made import (
    ANKLE_PATIENTS,
    GIRTH,
    LUNGE,
    LUNGE_OF_PATIENTS,
    PAIN,
    REVIEW,
    STANCE,
    measure,
)

SPANS: list[Span] = ["within", "between"]


def known(error: Error | None) -> Error:
    assert error is not None
    return error


@given(st.floats(0.001, 1000))
def test_there_and_back(sem: float) -> None:
    assert sem_from_mdc(mdc_from_sem(sem)) == pytest.approx(sem)


def test_the_lunge_within_a_visit_rests_on_its_sem() -> None:
    error = known(error_for(LUNGE, "within"))
    assert error.sem == 0.5
    assert error.mdc == pytest.approx(1.386, abs=5e-4)
    assert error.figure.source == "konor_2012"
    assert error.family == REVIEW.name


def test_the_lunge_between_visits_rests_on_its_published_mdc() -> None:
    error = known(error_for(LUNGE, "between"))
    assert (error.mdc, error.sem) == (1.9, 0.69)
    assert error.figure.source == "powden_2015"
    assert error.figure.mark is Mark.READ


def test_a_gap_has_root_two_times_a_sides_error() -> None:
    for span in SPANS:
        side, gap = known(error_for(LUNGE, span)), known(error_for(LUNGE, span, gap=True))
        assert gap.mdc == pytest.approx(side.mdc * math.sqrt(2))
        assert gap.sem == pytest.approx(side.sem * math.sqrt(2))
    assert known(error_for(LUNGE, "between", gap=True)).mdc == pytest.approx(2.7, abs=0.05)


def test_one_study_may_give_both_side_and_gap() -> None:
    assert known(error_for(LUNGE_OF_PATIENTS, "between")).mdc == 1.0
    gap = known(error_for(LUNGE_OF_PATIENTS, "between", gap=True))
    assert gap.mdc == 1.5
    assert gap.sem == pytest.approx(1.5 / 2.772, rel=1e-3)


def test_an_sem_alone_gives_its_mdc() -> None:
    error = known(error_for(GIRTH, "between"))
    assert error.mdc == pytest.approx(0.83, abs=5e-3)
    assert error.figure.value == 0.3


def test_an_unknown_error_is_none_and_not_nought() -> None:
    assert error_for(STANCE, "within") is None
    assert error_for(STANCE, "between", gap=True, examiners=2) is None
    assert error_for(LUNGE_OF_PATIENTS, "within") is None
    assert error_for(measure(errors=(ErrorFamily("none", "none"),)), "between") is None


def test_two_examiners_never_have_less_error_than_one() -> None:
    for of in (LUNGE, LUNGE_OF_PATIENTS, GIRTH):
        for span in SPANS:
            for gap in (False, True):
                one = error_for(of, span, gap=gap)
                two = error_for(of, span, gap=gap, examiners=2)
                assert one is None or known(two).mdc >= one.mdc


def test_two_examiners_take_the_larger_of_what_is_known() -> None:
    assert known(error_for(LUNGE, "between", examiners=2)).mdc == 1.9, (
        "the review prints less for two than for one"
    )
    assert known(error_for(LUNGE_OF_PATIENTS, "between", examiners=2)).mdc == 1.6


def test_two_examiners_within_a_visit_have_the_error_between_them() -> None:
    assert known(error_for(LUNGE, "within", examiners=2)).mdc == 1.6
    assert known(error_for(LUNGE_OF_PATIENTS, "within", examiners=2)).mdc == 1.6


def test_where_the_error_of_two_is_not_known_it_says_so() -> None:
    assert known(error_for(GIRTH, "between", examiners=2)).warning == UNSHARED
    assert known(error_for(GIRTH, "between", examiners=1)).warning == ""
    assert known(error_for(LUNGE, "between", examiners=2)).warning == ""


def test_what_a_person_reports_has_no_examiner() -> None:
    family = ErrorFamily("custom", "custom", mdc_between=Figure(2.0, Mark.RECALLED))
    asked = measure("pain_now", "0-10", paired=False, errors=(family,), asks="how much?")
    assert known(error_for(asked, "between", examiners=2)).warning == ""
    assert error_for(PAIN, "between") is None


def test_an_examiners_own_sem_replaces_the_published_one() -> None:
    own = known(error_for(LUNGE, "within", own_sem=0.3))
    assert own.sem == 0.3
    assert own.mdc == pytest.approx(0.8316, abs=5e-4)
    assert own.family == "own error"
    assert known(error_for(LUNGE, "within", own_sem=0.3, gap=True)).mdc == pytest.approx(own.mdc * math.sqrt(2))
    assert known(error_for(STANCE, "within", own_sem=2.0)).sem == 2.0, "also where none is published"


def test_one_examiners_own_sem_does_not_shrink_the_error_of_two() -> None:
    assert known(error_for(LUNGE, "between", own_sem=0.1, examiners=2)).mdc == 1.9
    assert known(error_for(LUNGE, "between", own_sem=2.0, examiners=2)).sem == 2.0


@pytest.mark.parametrize("own", [0.0, -1.0, math.nan, math.inf])
def test_an_own_sem_that_is_none_is_refused(own: float) -> None:
    with pytest.raises(ValueError, match="own SEM"):
        error_for(LUNGE, "within", own_sem=own)


def test_a_reading_has_an_examiner() -> None:
    with pytest.raises(ValueError, match="examiner"):
        error_for(LUNGE, "within", examiners=0)


def test_it_says_what_the_error_is_of() -> None:
    assert known(error_for(LUNGE, "within")).says == "the error of the mean of 3 trials"
    best = measure(aggregate="best", errors=(ANKLE_PATIENTS,))
    assert known(error_for(best, "between")).says == "the error of the best of 3 trials"
    one = measure(aggregate="single", counted=1, errors=(ANKLE_PATIENTS,))
    assert known(error_for(one, "between")).says == "the error of one trial"
