"""What is practised: whole tables, budgets as named, and each paper case decided as the safety rules decide it."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.knowledge.fields import KnowledgeError
from store.knowledge.load import load
from store.knowledge.practice import Outcome
from store.knowledge.words import Side
from store.reckon.safety import Outcome as Found
from store.reckon.safety import findings, outcome_of
from store.reckon.three import Answers
from tests.knowledge.small_tables import write_tables

PRACTICE = load().practice
SAFETY = load().safety


def test_the_budgets_are_the_minutes_in_the_name() -> None:
    assert {one.name: one.budget_s / 60 for one in PRACTICE.sequences.values()} == {
        "whole ankle, ten minutes": 10,
        "short, five minutes": 5,
    }


def test_the_short_assessment_leaves_out_and_adds_nothing() -> None:
    whole = {step.id: step.asks for step in PRACTICE.sequences["whole"].steps}
    for step in PRACTICE.sequences["short"].steps:
        assert whole[step.id] == step.asks


def test_words_are_short_enough_to_be_giant() -> None:
    for one in PRACTICE.sequences.values():
        for block in one.blocks:
            assert block.word.isupper()
            assert len(block.word) <= 5


def test_a_case_tells_plain_findings_but_for_its_own() -> None:
    case = PRACTICE.cases["lunge"]
    assert PRACTICE.finding(case, "fifth") == "sore on the bone"
    assert PRACTICE.finding(case, "navicular") == "not sore"
    asked = {step.id for block in PRACTICE.case_blocks for step in block.steps}
    assert "greet" not in asked
    assert set(case.needed) <= asked


# Each case put to the safety screen, whose rules are held against published ones in tests/outside/test_safety.py:
# all is answered with no but what the case finds.

NOTHING: dict[str, bool | float] = {
    **{key: False for question in SAFETY.questions if not question.unit for key in question.keys},
    **dict.fromkeys(("bed_days", "surgery_weeks", "calf_cm"), False),  # none of these
    "refill.left": 1,
    "refill.right": 1,
    "days": 3,
}
AS_ANSWERS: dict[str, dict[str, bool | float]] = {
    "root": {"age": 31, "malleolar_pain": True},
    "lunge": {"age": 24, "days": 1, "midfoot_pain": True, "fifth_base": True},
    "turf": {
        "age": 19,
        "days": 2,
        "high_tender": True,
        "high_cm": 8,
        "cannot_hop": True,
        "rotation": True,
        "squeeze": True,
    },
    "rally": {"age": 44, "days": 1, "calf_squeeze": True, "tendon_gap": True},
    "round": {
        "age": 52,
        "days": 12,
        "clot_suspected": True,
        "clot_plaster": True,
        "clot_tender": True,
        "calf_cm": 3.5,
        "clot_pitting": True,
    },
    "fall": {"age": 17, "days": 0, "cold_foot": True, "deformity": True, "physis": False},
}
COMES_TO = {
    Outcome.EMERGENCY: {Found.EMERGENCY},
    Outcome.REFER: {Found.TODAY, Found.REFER},
    Outcome.FILMS: {Found.TODAY},
    Outcome.TREAT: {Found.NONE},
}


@pytest.mark.parametrize("case", PRACTICE.cases)
def test_the_rules_come_to_what_the_case_says(case: str) -> None:
    answers: Answers = NOTHING | AS_ANSWERS[case]
    found = findings(SAFETY, answers, Side.RIGHT)
    assert outcome_of(found) in COMES_TO[PRACTICE.cases[case].outcome], found
    films = any(one.rule in ("ankle", "foot") and one.outcome is Found.TODAY for one in found)
    assert films == (PRACTICE.cases[case].outcome is Outcome.FILMS)


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("id = 'hands'", "id = 'greet'", r"\[sequences.whole\] blocks: greet stands in it twice"),
        ("budget_s = 60", "budget_s = 0", r"budget_s: a block has more than 0 seconds"),
        ("needed = ['fifth', ", "needed = ['sixth', ", r"\[cases.lunge\] needed: no step .* is called sixth"),
        ("outcome = 'films'", "outcome = 'rays'", r"\[cases.lunge\] outcome: unknown 'rays'"),
        ("[sequences.whole]", "[sequences.all]", r"sequences: missing: whole"),
        ("source = 'sman_2015'", "source = 'nobody'", r"'nobody' is not in sources.toml"),
        ("finds = { sore = 'the outer", "finds = { sour = 'the outer", r"\[cases.lunge.finds\] sour: unknown key"),
    ],
)
def test_what_is_wrong_in_the_table_is_named(was: str, now: str, says: str, tmp_path: Path) -> None:
    file = write_tables(tmp_path) / "practice.toml"
    text = file.read_text(encoding="utf-8")
    assert was in text
    file.write_text(text.replace(was, now, 1), encoding="utf-8")
    with pytest.raises(KnowledgeError, match=says):
        _ = load(tmp_path).practice


def test_who_is_treated_here_was_asked_for_everything_that_would_send_them_on() -> None:
    """A right answer by luck is told: each thing that makes another outcome in another case had to be asked."""
    sends_on = {
        step for case in PRACTICE.cases.values() if case.outcome is not Outcome.TREAT for step in case.needed
    } - {"how", "stand"}  # the story of it, which decides nothing by itself
    for case in PRACTICE.cases.values():
        if case.outcome is Outcome.TREAT:
            assert sends_on | {"feeling"} <= set(case.needed), case.id


def test_nothing_has_to_be_loaded_before_it_is_sent_on() -> None:
    loads = {"raise", "hop", "balance", "lunge"}
    for case in PRACTICE.cases.values():
        assert case.outcome is Outcome.TREAT or not loads & set(case.needed), case.id


def test_a_clot_in_the_lung_is_asked_for() -> None:
    for one in PRACTICE.sequences.values():
        (asks,) = [step.asks for step in one.steps if step.id == "unwell"]
        assert "short breath" in asks
    assert "breath" in PRACTICE.finding(PRACTICE.cases["round"], "unwell")
