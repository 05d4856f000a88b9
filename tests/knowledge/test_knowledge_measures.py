"""The measures of the whole course: all there, in the order of the screen, each with its place in the evidence."""

from __future__ import annotations

import pytest

from store.knowledge.kinds import Measure
from store.knowledge.load import KnowledgeError, load
from store.knowledge.measures import DOMAINS
from store.knowledge.scoring import total
from store.knowledge.units import YES_NO
from store.knowledge.words import Better, Mark

KNOWN = load()
MEASURES = list(KNOWN.measures.values())

IN_ORDER = {
    "range of motion": "lunge lunge_angle active_df active_pf active_inv active_ev",
    "arthrokinematics": "talar_glide",
    "swelling": "girth pitting",
    "gait": "weight_bearing limp",
    "static balance": "stance_open stance_closed time_in_balance foot_lift balance_errors balance_errors_firm",
    "dynamic balance": "leg_length reach_ant reach_pm reach_pl reach_composite",
    "strength": "heel_raise force_df force_pf force_inv force_ev",
    "sport and function": "hop_spot single_hop triple_hop crossover_hop timed_hop side_hop figure8_hop drills "
    "full_session",
    "pain": "pain_now pain_rest pain_worst pain_morning pain_walk pain_hop pain_sport",
    "athlete perception": "confidence cait sane tsk_17 tsk_11 alr_rsi",
    "patient-reported": "own_activity_1 own_activity_2 own_activity_3 change_rating change_rating_11 faam_adl "
    "faam_sport lefs",
    "physical activity level": "activity_level",
    "ligaments": "anterior_drawer talar_tilt sprain_grade",
}

EVIDENCE = """
wblt_cm wblt_deg figure8_girth pitting_edema_grade nrs_pain_24h nrs_pain_sport nrs_pain_walk sls_eyes_open
sls_eyes_closed time_in_balance foot_lift bess_total bess_modified leg_length sebt_ant sebt_pm sebt_pl
sebt_composite heel_raise_count hhd_evertors hhd_invertors hhd_dorsiflexors hhd_plantarflexors single_hop
triple_hop crossover_hop timed_hop_6m side_hop figure8_hop anterior_drawer talar_tilt sprain_grade
posterior_talar_glide faam_adl faam_sport cait lefs sane_ankle tsk_17 tsk_11 alr_rsi grc_15 grc_11
gait_antalgic activity_level sport_drills full_session
"""
"""Every measure of the evidence tables, by its name there."""

WITHOUT_ERROR = """
active_df active_pf active_inv active_ev talar_glide pitting weight_bearing limp stance_open stance_closed
time_in_balance foot_lift leg_length reach_composite force_df force_pf force_inv force_ev hop_spot single_hop
triple_hop crossover_hop timed_hop drills full_session pain_now pain_rest pain_worst pain_morning pain_walk
pain_hop pain_sport confidence own_activity_1 own_activity_2 own_activity_3 change_rating change_rating_11
activity_level sane alr_rsi anterior_drawer talar_tilt sprain_grade
"""


def by_id(measure: Measure) -> str:
    return measure.id


def test_every_measure_of_the_course_is_there_in_its_domain() -> None:
    found = {domain: [one.id for one in MEASURES if one.domain == domain] for domain in DOMAINS}
    assert found == {domain: ids.split() for domain, ids in IN_ORDER.items()}


def test_every_measure_of_the_evidence_is_there_once() -> None:
    assert sorted(one.evidence_id for one in MEASURES if one.evidence_id) == sorted(EVIDENCE.split())


def test_where_no_error_is_known_none_is_made_up() -> None:
    assert [one.id for one in MEASURES if one.error is None] == WITHOUT_ERROR.split()


@pytest.mark.parametrize("measure", [one for one in MEASURES if one.unit in ("grade", "level")], ids=by_id)
def test_a_grade_has_neither_mean_nor_error_nor_index(measure: Measure) -> None:
    assert measure.ordinal
    assert (measure.aggregate, measure.errors, measure.symmetry) == ("single", (), "none")


def test_of_leg_length_neither_way_is_better() -> None:
    assert [one.id for one in MEASURES if one.better is Better.NEITHER] == ["leg_length"]


def test_yes_and_no_are_of_what_is_done_or_not() -> None:
    assert [one.id for one in MEASURES if one.unit == YES_NO] == ["hop_spot", "drills", "full_session"]


SYMMETRY = {
    "difference": "lunge lunge_angle active_df active_pf active_inv active_ev talar_glide girth reach_ant cait",
    "lsi": "stance_open stance_closed time_in_balance reach_pm reach_pl reach_composite heel_raise force_df "
    "force_pf force_inv force_ev single_hop triple_hop crossover_hop timed_hop side_hop figure8_hop",
}


def test_sides_are_compared_as_the_evidence_says() -> None:
    """Foot lifts are not: with one unstable ankle both legs lift more (Hiller 2007)."""
    for symmetry, ids in SYMMETRY.items():
        assert [one.id for one in MEASURES if one.symmetry == symmetry] == ids.split()
    timed = [one for one in MEASURES if one.unit == "s" and one.domain == "sport and function"]
    assert {one.better for one in timed} == {Better.LOWER}


@pytest.mark.parametrize("measure", [one for one in MEASURES if one.scoring], ids=by_id)
def test_the_best_and_the_worst_answers_reach_the_ends_of_the_scale(measure: Measure) -> None:
    how = measure.scoring
    assert how is not None
    assert total(how, how.lowest * how.items, how.items) == measure.low
    assert total(how, how.highest * how.items, how.items) == measure.high
    assert total(how, how.lowest * (how.wanted - 1), how.wanted - 1) is None


def test_answers_that_cannot_be_are_refused() -> None:
    how = KNOWN.measures["faam_adl"].scoring
    assert how is not None
    for given, answered in ((81, 20), (-1, 20), (10, 22)):
        with pytest.raises(ValueError, match=r"answers|items"):
            total(how, given, answered)


def test_what_is_worked_out_names_what_it_is_made_of() -> None:
    made = {one.id: one.made_of for one in MEASURES if one.made_of}
    assert made == {"reach_composite": ("reach_ant", "reach_pm", "reach_pl", "leg_length")}


def test_what_was_not_confirmed_is_recalled() -> None:
    """The times of hops and of balance that were never seen in print, and the errors of the two."""
    for name in ("side_hop", "figure8_hop"):
        family = KNOWN.measures[name].error
        assert family is not None
        assert family.sem_between is not None
        assert family.mdc_between is not None
        assert family.sem_between.mark is family.mdc_between.mark is Mark.RECALLED
    recalled = {one.id for one in MEASURES for line in one.cut_offs if line.figure.source == "linens_2014"}
    balance = {"time_in_balance", "foot_lift", "balance_errors", "balance_errors_firm", "reach_pm"}
    assert recalled == balance | {"side_hop", "figure8_hop"}


def test_an_unknown_measure_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        KNOWN.measures["nothing"]
    assert issubclass(KnowledgeError, ValueError)
