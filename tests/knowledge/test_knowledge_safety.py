"""The table of the safety screen: whole, marked, and refused in a sentence where it is wrong."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

import pytest

from store.knowledge import safety as module
from store.knowledge.fields import KnowledgeError
from store.knowledge.load import load
from store.knowledge.settings import CLOT_FORMS, NOTHING_SET
from store.knowledge.words import Mark, Side

SCREEN = load().safety


def test_emergency_is_asked_first_and_age_before_the_fracture_rule() -> None:
    assert [group.id for group in SCREEN.groups][:2] == ["emergency", "fracture"]
    order = [question.id for question in SCREEN.questions]
    assert order.index("age") < order.index("malleolar_pain")


def test_every_rule_says_what_it_leaves_out_and_how_it_is_known() -> None:
    assert set(SCREEN.rules) == set(module.RULES)
    assert all(rule.misses and (rule.source or rule.mark is Mark.COMMON) for rule in SCREEN.rules.values())


def test_recalled_lines_are_not_presented_as_read() -> None:
    recalled = {key for key, line in SCREEN.lines.items() if line.mark is Mark.RECALLED}
    assert recalled >= {"valid_days", "adult_years", "high_days", "high_days_per_cm", "no_weight_days"}
    assert SCREEN.lines["zone_cm"].mark is Mark.READ


def test_nerve_and_vessel_are_asked_of_both_sides() -> None:
    sided = [question for question in SCREEN.questions if question.group == "nerve" and not question.again]
    assert sided
    assert all(question.keys == tuple(f"{question.id}.{side}" for side in Side) for question in sided)


def test_the_group_that_a_visit_asks_again_holds_the_emergencies() -> None:
    again = {question.id for question in SCREEN.again}
    assert {"cold_foot", "tense_leg", "hot_joint", "breathless", "clot_suspected", "new_numb", "new_drop"} <= again


def test_a_clinic_chooses_the_form_of_the_clot_score_by_its_id() -> None:
    assert tuple(SCREEN.forms) == CLOT_FORMS
    assert (SCREEN.form.id, SCREEN.clot_form_set) == (CLOT_FORMS[0], False)
    own = load(settings=NOTHING_SET._replace(clot_form="three_level")).safety
    assert (own.form.id, own.clot_form_set) == ("three_level", True)


def data() -> dict[str, Any]:
    path = Path(module.__file__).with_name(module.FILE)
    return copy.deepcopy(tomllib.loads(path.read_text(encoding="utf-8")))


def question(found: dict[str, Any], name: str) -> dict[str, Any]:
    return next(one for group in found["group"] for one in group["question"] if one["id"] == name)


def test_the_table_as_shipped_can_be_read_anew() -> None:
    assert module.safety(data()) == SCREEN


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda d: question(d, "age").pop("unit"), "a number has a unit"),
        (lambda d: question(d, "cold_foot").update(none=True), "only a number can be none"),
        (lambda d: question(d, "fibula_tip").update(when="navicular"), "not asked before it"),
        (lambda d: question(d, "pregnant").update(id="age"), "used twice"),
        (lambda d: question(d, "age").update(colour="red"), "unknown key"),
        (lambda d: d.update(clot_form="four_level"), "four_level"),
        (lambda d: d["rules"]["clot"].pop("misses"), "does not cover"),
        (lambda d: d["rules"].pop("nerve"), "missing"),
        (lambda d: d["rules"].update(stars={}), "unknown; known are"),
        (lambda d: d["lines"]["zone_cm"].pop("source"), "names where it was read"),
        (lambda d: d["forms"]["two_level"].update(bands=[["likely", 2]]), "two bands"),
        (lambda d: d["forms"]["two_level"].update(calf="about"), "about"),
        (lambda d: d["group"][0].update(question=[]), "asks something"),
    ],
)
def test_what_is_wrong_is_refused_in_a_sentence(change: Any, says: str) -> None:  # noqa: ANN401 - any edit
    wrong = data()
    change(wrong)
    with pytest.raises(KnowledgeError, match=says):
        module.safety(wrong)
