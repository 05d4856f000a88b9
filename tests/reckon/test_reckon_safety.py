"""The safety screen worked out: three values, the gravest outcome, and nothing cleared that was not asked."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.knowledge.load import load
from store.knowledge.words import Side
from store.reckon.safety import Finding, Outcome, findings, gravest, outcome_of
from store.reckon.three import Answers, Tri, all_of, any_of, not_

SCREEN = load().safety
KEYS = [(key, bool(question.unit)) for question in SCREEN.questions for key in question.keys]
Given = dict[str, bool | float]


def of(rule: str, answers: Answers, side: Side = Side.RIGHT) -> Finding:
    return next(one for one in findings(SCREEN, answers, side) if one.rule == rule)


def no(group: str) -> Given:
    """Every yes or no of a group answered with no."""
    asked = (one for one in SCREEN.questions if one.group == group and not one.unit)
    return {key: False for question in asked for key in question.keys}


@pytest.mark.parametrize(
    ("parts", "any_", "all_"),
    [
        ((True, None), True, None),
        ((False, None), None, False),
        ((False, False), False, False),
        ((True, True), True, True),
        ((None, None), None, None),
        ((), False, True),
    ],
)
def test_three_values(parts: tuple[Tri, ...], any_: Tri, all_: Tri) -> None:
    assert (any_of(parts), all_of(parts)) == (any_, all_)
    assert [not_(part) for part in (True, False, None)] == [False, True, None]


def test_the_gravest_outcome_is_the_screens_and_unknown_outweighs_nothing_found() -> None:
    assert gravest([Outcome.NONE, Outcome.UNKNOWN]) is Outcome.UNKNOWN
    assert gravest([Outcome.REFER, Outcome.EMERGENCY, Outcome.TODAY]) is Outcome.EMERGENCY
    assert gravest([]) is Outcome.UNKNOWN


def test_with_nothing_asked_every_rule_is_unknown() -> None:
    assert {one.outcome for one in findings(SCREEN, {}, Side.LEFT)} == {Outcome.UNKNOWN}


@st.composite
def partly(draw: st.DrawFn) -> Given:
    found: Given = {}
    for key, figure in KEYS:
        value = draw(st.none() | (st.floats(0, 12) if figure else st.booleans()))
        if value is not None:
            found[key] = value
    return found


@settings(max_examples=60, deadline=None)
@given(partly(), partly(), st.sampled_from(list(Side)))
def test_what_is_found_clear_stays_so_whatever_else_is_asked(told: Given, later: Given, side: Side) -> None:
    """A rule is clear only if no answer to what was not asked could change it: unknown is never taken for no.

    But for the clot, whose form is only for whom one suspects of it.
    """
    before = {one.rule: one.outcome for one in findings(SCREEN, told, side) if one.outcome is Outcome.NONE}
    after = {one.rule: one.outcome for one in findings(SCREEN, later | told, side)}
    before.pop("clot", None)
    assert before.items() <= after.items()


@settings(max_examples=40, deadline=None)
@given(partly(), st.sampled_from(list(Side)))
def test_an_unknown_rule_names_what_it_hangs_on_or_why_it_does_not_hold(told: Given, side: Side) -> None:
    for one in findings(SCREEN, told, side):
        if one.outcome is Outcome.UNKNOWN:
            assert one.open or "does not hold" in one.reasons[0]
            assert not set(one.open) & set(told)


@pytest.mark.parametrize("key", ["cold_foot", "deformity", "open_wound", "tense_leg", "hot_joint", "breathless"])
def test_any_emergency_sign_is_one_by_itself(key: str) -> None:
    assert outcome_of(findings(SCREEN, {key: True}, Side.RIGHT)) is Outcome.EMERGENCY


def test_a_high_sprain_wants_a_sign_of_each_kind() -> None:
    base = no("syndesmosis")
    assert of("syndesmosis", base | {"cannot_hop": True}).outcome is Outcome.NONE
    assert of("syndesmosis", base | {"cannot_hop": True, "squeeze": True}).outcome is Outcome.REFER
    assert of("syndesmosis", {"cannot_hop": True, "squeeze": False}).open == (
        "high_tender", "rotation", "out_of_proportion",
    )  # fmt: skip
    both = of("syndesmosis", base | {"high_tender": True, "squeeze": True, "high_cm": 6.0})
    assert "sore 6 cm up: a rough guide is 10.6 days out of sport, 3.7 either way, recalled" in both.reasons


def test_the_tendon_by_the_squeeze_or_by_two_of_the_others() -> None:
    base = no("tendon")
    assert of("tendon", base | {"calf_squeeze": True}).outcome is Outcome.TODAY
    assert of("tendon", base | {"tendon_gap": True}).outcome is Outcome.REFER
    assert of("tendon", base | {"tendon_gap": True, "rest_angle": True}).outcome is Outcome.TODAY
    assert of("tendon", base).outcome is Outcome.NONE


def test_nerve_and_vessel_weigh_by_the_side() -> None:
    base = no("nerve") | {"refill.left": 1.0, "refill.right": 2.0}
    assert of("nerve", base).outcome is Outcome.NONE
    assert of("nerve", base | {"no_pulse.right": True}).outcome is Outcome.EMERGENCY
    assert of("nerve", base | {"no_pulse.right": True}, Side.LEFT).outcome is Outcome.REFER
    assert of("nerve", base | {"numb_web.right": True}).outcome is Outcome.TODAY
    assert of("nerve", base | {"refill.right": 2.1}).outcome is Outcome.TODAY
    one_side = {key: value for key, value in base.items() if not key.endswith(".left")}
    assert of("nerve", one_side).outcome is Outcome.UNKNOWN


def test_a_limit_leaves_a_no_unknown_and_never_undoes_a_yes() -> None:
    base = no("fracture") | no("limits") | {"age": 30, "days": 1}
    assert of("ankle", base).outcome is Outcome.NONE
    assert of("ankle", base | {"days": 10}).outcome is Outcome.NONE
    assert of("ankle", base | {"days": 11}).outcome is Outcome.UNKNOWN
    assert of("ankle", base | {"too_swollen": True}).outcome is Outcome.UNKNOWN
    positive = base | {"malleolar_pain": True, "fibula_tip": True, "too_swollen": True}
    assert of("ankle", positive).outcome is Outcome.TODAY
    unasked = {key: value for key, value in base.items() if key != "age"}
    assert of("ankle", unasked).open == ("age",)


def test_whoever_is_suspected_of_a_clot_is_seen_the_same_day_and_an_unlikely_score_clears_nobody() -> None:
    base = no("clot") | {"bed_days": False, "surgery_weeks": False, "calf_cm": False}
    assert of("clot", {"clot_suspected": False}).outcome is Outcome.NONE
    assert of("clot", base | {"clot_suspected": True, "clot_other": True}).outcome is Outcome.TODAY
    assert of("clot", {"clot_suspected": True}).open[-1] == "clot_other"
    assert of("clot", base | {"clot_plaster": True, "clot_leg": True}).outcome is Outcome.TODAY
