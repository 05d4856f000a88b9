"""What a look at the sideline comes to: the gravest sign; what was not looked at is never a no."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.load import load
from store.knowledge.sideline import SIGNS, BenchOutcome, Sign
from store.reckon.sideline import look

SIGNS_HERE = load().sideline.signs
NO = {sign.id: False for sign in SIGNS_HERE}
ORDER = list(BenchOutcome)


@pytest.mark.parametrize("sign", SIGNS_HERE, ids=lambda sign: sign.id)
def test_each_sign_alone_comes_to_what_the_table_says(sign: Sign) -> None:
    found = look(SIGNS_HERE, NO | {sign.id: True})
    assert (found.outcome, found.because, found.open) == (sign.comes_to, (sign,), ())


def test_nothing_looked_at_is_a_re_check_and_no_clearance() -> None:
    assert look(SIGNS_HERE, {}).outcome is BenchOutcome.RECHECK


@pytest.mark.parametrize("sign", [sign.id for sign in SIGNS_HERE])
def test_one_thing_not_looked_at_is_enough_for_a_re_check(sign: str) -> None:
    found = look(SIGNS_HERE, {key: False for key in NO if key != sign})
    assert found.outcome is BenchOutcome.RECHECK
    assert [one.id for one in found.open] == [sign]


def test_only_when_all_is_looked_at_no_stop_sign_is_found() -> None:
    assert look(SIGNS_HERE, NO).outcome is BenchOutcome.NONE


@given(st.dictionaries(st.sampled_from(sorted(NO)), st.booleans()), st.sampled_from(sorted(NO)))
def test_a_further_yes_never_makes_it_milder(answers: dict[str, bool], sign: str) -> None:
    before, after = look(SIGNS_HERE, answers).outcome, look(SIGNS_HERE, answers | {sign: True}).outcome
    if not answers.get(sign):
        assert ORDER.index(after) <= ORDER.index(before)


@given(st.dictionaries(st.sampled_from(sorted(NO)), st.booleans()))
def test_a_yes_always_stops(answers: dict[str, bool]) -> None:
    assert (look(SIGNS_HERE, answers).outcome in SIGNS) == any(answers.values())
