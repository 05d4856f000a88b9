"""What a look at the sideline comes to: the gravest sign; what was not looked at is never a no."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.load import load
from store.knowledge.sideline import SIGNS, BenchOutcome, Sign
from store.knowledge.words import Side
from store.reckon import sideline
from store.reckon.safety import Outcome, findings, outcome_of
from store.reckon.sideline import Look

SAFETY, TABLE = load().safety, load().sideline
SIGNS_HERE = TABLE.signs
NO = {sign.id: False for sign in SIGNS_HERE}
ORDER = list(BenchOutcome)


def look(signs: tuple[Sign, ...], answers: dict[str, bool]) -> Look:
    return sideline.look(signs, answers, TABLE.ladder)


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


# The same finding is asked at the sideline and on the safety screen: it is never taken for less on the grass.

AS_ANSWERS: dict[str, dict[str, bool | float]] = {
    "cold_foot": {"cold_foot": True},
    "deformity": {"deformity": True},
    "tense_leg": {"tense_leg": True},
    "no_lift": {"no_lift.right": True},
    "bone_sore": {"malleolar_pain": True, "fibula_tip": True},
    "fibula_high": {"fibula_head": True},
    "numb": {"numb_web.right": True},
    "calf_still": {"calf_squeeze": True},
    "bleeding": {"bleeding": True},
}
NEVER_MILDER = {Outcome.EMERGENCY: BenchOutcome.EMERGENCY, Outcome.TODAY: BenchOutcome.TODAY}


@pytest.mark.parametrize("sign", AS_ANSWERS)
def test_a_sign_is_no_milder_here_than_on_the_safety_screen(sign: str) -> None:
    screened = outcome_of(findings(SAFETY, {"age": 24, **AS_ANSWERS[sign]}, Side.RIGHT))
    here = look(SIGNS_HERE, {sign: True}).outcome
    assert ORDER.index(here) <= ORDER.index(NEVER_MILDER[screened])


def test_the_ladder_comes_last_and_is_not_begun_after_a_yes() -> None:
    assert tuple(sign.id for sign in SIGNS_HERE[-len(TABLE.ladder) :]) == TABLE.ladder == ("no_hop", "limp")
    assert look(SIGNS_HERE, {}).barred == ()
    found = look(SIGNS_HERE, {"bone_sore": True})
    assert found.barred == TABLE.ladder
    assert not {sign.id for sign in found.open} & set(TABLE.ladder), "nobody is asked to hop on it"
    assert look(SIGNS_HERE, NO | {"no_hop": True}).barred == ()
    assert look(SIGNS_HERE, {"no_hop": True}).barred == ("limp",)
