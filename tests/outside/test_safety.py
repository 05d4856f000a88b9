"""The safety screen against worked cases of its published rules. What was only recalled, and not read, says so."""

from __future__ import annotations

import pytest

from store.knowledge.load import load
from store.knowledge.words import Side
from store.reckon import clot, fracture
from store.reckon.safety import Finding, Outcome, findings, high_days
from store.reckon.three import Answers

SCREEN = load().safety
LINES = SCREEN.lines

# Nobody answers to anything: each case says what differs.
HOLDS: dict[str, bool | float] = {"age": 30, "days": 1, **dict.fromkeys(fracture.LIMITS, False)}
BONES: dict[str, bool | float] = {
    **HOLDS,
    **dict.fromkeys(("malleolar_pain", "fibula_edge", "fibula_tip", "tibia_edge", "tibia_tip"), False),
    **dict.fromkeys(("midfoot_pain", "fifth_base", "navicular", "cuboid", "no_weight_at_once"), False),
    **dict.fromkeys(("no_weight_now", "fibula_head", "physis"), False),
}
NO_CLOT: dict[str, bool | float] = {
    **dict.fromkeys(clot.PLAIN, False),
    **dict.fromkeys(("bed_days", "surgery_weeks", "calf_cm", "clot_previous", "clot_other"), False),
}


def rules(answers: Answers) -> tuple[bool | None, bool | None]:
    return fracture.ankle(answers, LINES), fracture.foot(answers)


def finding(rule: str, answers: Answers) -> Finding:
    return next(one for one in findings(SCREEN, answers, Side.RIGHT) if one.rule == rule)


# the fracture rule: Stiell and others 1992 and, as refined, 1993 (JAMA 269:1127)


def test_case_1_a_limp_is_weight_and_ligament_is_no_bone() -> None:
    # Weight is an item only when unable both times. That a limp counts as able: recalled from teaching aids.
    assert rules(BONES | {"malleolar_pain": True, "no_weight_at_once": True}) == (False, False)
    assert finding("ankle", BONES | {"malleolar_pain": True}).outcome is Outcome.NONE


def test_case_2_no_weight_both_times_is_enough() -> None:
    answers = BONES | {"malleolar_pain": True, "no_weight_at_once": True, "no_weight_now": True}
    assert rules(answers) == (True, False)
    assert finding("ankle", answers).outcome is Outcome.TODAY


def test_case_3_the_foot_by_itself() -> None:
    assert rules(BONES | {"midfoot_pain": True, "navicular": True}) == (False, True)


@pytest.mark.parametrize(("cm", "wanted"), [(5, True), (6, True), (6.1, False), (8, False)])
def test_case_4_the_zone_is_six_cm_of_bone(cm: float, wanted: bool) -> None:
    answers = BONES | {"malleolar_pain": True, "fibula_edge": True, "fibula_cm": cm}
    assert rules(answers) == (wanted, False)
    outside = "outside the rule's zone" in " ".join(finding("ankle", answers).reasons)
    assert outside is not wanted


def test_case_5_both_series() -> None:
    zones = {"malleolar_pain": True, "midfoot_pain": True}
    assert rules(BONES | zones | {"tibia_tip": True, "fifth_base": True}) == (True, True)


def test_case_6_age_of_55_is_no_item_of_the_refined_rule() -> None:
    assert rules(BONES | {"age": 60, "malleolar_pain": True}) == (False, False)
    assert finding("ankle", BONES | {"age": 60, "malleolar_pain": True}).outcome is Outcome.NONE


def test_case_7_the_cuboid_is_a_note() -> None:
    # That the cuboid was dropped in 1993: recalled; it is not among the items that teaching pages list.
    answers = BONES | {"midfoot_pain": True, "cuboid": True}
    assert rules(answers) == (False, False)
    assert "cuboid" in " ".join(finding("beside", answers).reasons)


@pytest.mark.parametrize(("age", "says"), [(15, "not validated at this age"), (6, "not validated"), (4, "do not")])
def test_case_8_children(age: int, says: str) -> None:
    # The limit of 18 is recalled; above 5 years 98.5 % were found: Dowling and others 2009, Acad Emerg Med 16:277.
    found = finding("ankle", BONES | {"age": age, "malleolar_pain": True})
    assert found.outcome is Outcome.UNKNOWN
    assert says in " ".join(found.reasons)
    positive = finding("ankle", BONES | {"age": age, "malleolar_pain": True, "tibia_tip": True})
    assert positive.outcome is Outcome.TODAY
    assert says in " ".join(positive.reasons)


def test_case_9_what_was_not_asked_is_unknown() -> None:
    base = {key: value for key, value in BONES.items() if not key.startswith("no_weight")}
    base["malleolar_pain"] = True
    assert fracture.no_weight(base | {"no_weight_now": False}) is False
    assert rules(base | {"no_weight_now": True}) == (None, False)
    found = finding("ankle", base | {"no_weight_now": True})
    assert (found.outcome, found.open) == (Outcome.UNKNOWN, ("no_weight_at_once",))


def test_case_10_a_chance_of_15_per_cent_falls_under_1_4() -> None:
    # Bachmann and others 2003, BMJ 326:417: "less than 1.4 %" at a likelihood ratio of 0.08.
    ratio = next(line.figure.value for line in SCREEN.rules["ankle"].figures if line.figure.value == 0.08)
    assert fracture.chance_after(0.15, ratio) == pytest.approx(0.0139, abs=0.00005)


# the clot score: NICE guideline 158, table of the two-level form (2003); tables of the three-level form (1997)

TWO, THREE = SCREEN.forms["two_level"], SCREEN.forms["three_level"]


def test_case_11_with_and_without_another_diagnosis() -> None:
    answers = NO_CLOT | {"clot_plaster": True, "calf_cm": 3.5, "clot_pitting": True}
    judged = clot.score(TWO, answers | {"clot_other": True})
    assert (judged.low, judged.band_without, judged.final(), judged.band) == (3, "likely", (1, 1), "unlikely")
    assert clot.score(TWO, answers).band == "likely"
    unjudged = clot.score(TWO, {key: value for key, value in answers.items() if key != "clot_other"})
    assert (unjudged.final(), unjudged.band, unjudged.band_without) == ((1, 3), None, "likely")


@pytest.mark.parametrize(("cm", "two", "three"), [(2.9, 0, 0), (3.0, 1, 0), (3.1, 1, 1)])
def test_case_12_a_calf_of_exactly_three_cm(cm: float, two: int, three: int) -> None:
    # "At least 3 cm" in the guideline's table; "more than 3 cm" in the tables of 1997.
    answers = NO_CLOT | {"calf_cm": cm}
    assert (clot.score(TWO, answers).low, clot.score(THREE, answers).low) == (two, three)


def test_case_13_the_forms_differ_in_window_and_items() -> None:
    answers = NO_CLOT | {"clot_previous": True, "surgery_weeks": 6}
    two, three = clot.score(TWO, answers), clot.score(THREE, answers)
    assert (two.low, two.band) == (2, "likely")
    assert (three.low, three.band) == (0, "low")


@pytest.mark.parametrize(("days", "two", "three"), [(2, 0, 0), (3, 1, 0), (4, 1, 1)])
def test_three_days_in_bed_count_in_one_form_only(days: int, two: int, three: int) -> None:
    # "3 days or more" (2003) against "more than 3 days" (1997).
    answers = NO_CLOT | {"bed_days": days}
    assert (clot.score(TWO, answers).low, clot.score(THREE, answers).low) == (two, three)


def test_case_14_the_score_can_be_negative() -> None:
    answers = NO_CLOT | {"clot_other": True}
    assert (clot.score(TWO, answers).final(), clot.score(TWO, answers).band) == ((-2, -2), "unlikely")
    assert (clot.score(THREE, answers).final(), clot.score(THREE, answers).band) == ((-2, -2), "low")


def test_the_two_level_score_runs_from_minus_2_to_9() -> None:
    # Nine items of one point and one of minus two (arithmetic).
    all_there = dict.fromkeys((*clot.PLAIN, "clot_previous"), True)
    most = clot.score(TWO, NO_CLOT | all_there | {"bed_days": 5, "calf_cm": 4})
    assert most.final() == (9, 9)


@pytest.mark.parametrize(
    ("score", "two", "three"),
    [(0, "unlikely", "low"), (1, "unlikely", "moderate"), (2, "likely", "moderate"), (3, "likely", "high")],
)
def test_the_bands_of_both_forms(score: int, two: str, three: str) -> None:
    assert (TWO.band(score), THREE.band(score)) == (two, three)


# the high sprain


def test_case_34_days_by_length_of_tenderness() -> None:
    # Nussbaum and others 2001, Am J Sports Med 29:31. The line itself is recalled, not read: provisional.
    assert high_days(SCREEN, 6) == pytest.approx(10.6, abs=0.05)
