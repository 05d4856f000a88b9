"""Who is not grown up: the fracture rule says so in words, on the day of the birthday and before."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.care import safety
from store.care.note_words import facts, sections
from store.record.people import revise_person
from tests.care.begun import Begun, begun

BONES = ("fibula_edge", "fibula_tip", "tibia_edge", "tibia_tip", "no_weight_at_once", "no_weight_now")
LIMITS = ("seen_before", "pregnant", "not_alert", "no_feeling", "too_swollen")
UNDER_18 = "the adult rule is not validated at this age: with care, image or refer when in doubt"
UNDER_6 = "under 6 years: do not apply it"


def screened(tmp_path: Path, born: str | None, **more: str) -> tuple[Begun, str, str]:
    """On 25 November 2026: the outcome of the ankle rule and its reasons, everything else being no."""
    now = begun(tmp_path)
    person = now.care.person(now.episode.person)
    revise_person(now.care.record, person._replace(born=born), by="AB", because="told")
    draft = safety.begin(now.care, now.episode.id)
    answers = {**dict.fromkeys((*BONES, *LIMITS), "no"), "malleolar_pain": "yes", **more}
    for key, word in answers.items():
        draft = safety.answer(draft, key, word)
    one = safety.keep(now.care, safety.answer(draft, "days", 2.0))
    ankle = next(finding for finding in one.findings if finding["rule"] == "ankle")
    return now, ankle["outcome"], "; ".join(ankle["reasons"])


@pytest.mark.parametrize(
    ("born", "outcome", "says"),
    [
        ("2008-11-25", "no stop sign found", ""),  # 18 today
        ("2008-11-26", "unknown", UNDER_18),
        ("2020-11-25", "unknown", UNDER_18),  # 6 today
        ("2020-11-26", "unknown", UNDER_6),
        ("2026-11-25", "unknown", UNDER_6),  # born today
    ],
)
def test_a_clear_rule_is_unknown_under_18_and_not_for_whom_is_under_6(
    tmp_path: Path, born: str, outcome: str, says: str
) -> None:
    _, found, reasons = screened(tmp_path, born)
    assert found == outcome
    assert says in reasons
    assert (UNDER_18 in reasons, UNDER_6 in reasons) == (says == UNDER_18, says == UNDER_6)


@pytest.mark.parametrize("born", ["2012-01-01", "2022-01-01"])
def test_a_positive_rule_stays_one_and_the_note_says_for_whom_it_was_not_made(tmp_path: Path, born: str) -> None:
    now, found, reasons = screened(tmp_path, born, tibia_tip="yes")
    assert found == "refer today"
    assert "the rule does not hold here" in reasons
    now.says("pain 5")
    drafted = sections(now.care, facts(now.care, now.visit))["subjective"]
    assert "the rule does not hold here" in drafted


def test_an_age_that_nobody_knows_is_asked_first_and_leaves_the_rule_open(tmp_path: Path) -> None:
    now, found, _ = screened(tmp_path, None)
    assert found == "unknown"
    (one,) = safety.screens(now.care, now.episode.id)
    ankle = next(finding for finding in one.findings if finding["rule"] == "ankle")
    assert "age" in ankle["open"]
    asked = [question.id for question in now.care.knowledge.safety.questions if question.group == "fracture"]
    assert asked[0] == "age"
