"""The acts of the safety screen: what is kept of answers, how they are amended, settled and taken back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from store.care import safety, visits
from store.care.asking import asks, go_on
from store.care.caseload import caseload, count
from store.care.faults import CareFault
from store.care.note_words import facts, sections
from store.care.past_visits import counts
from store.care.safety import Draft, Word
from store.care.safety_state import stands
from store.care.safety_words import answer_words, safety_data, safety_lines
from store.care.shown import caseload_text
from store.care.standing import standing
from store.care.undoing import newest, undo
from store.care.visit_view import view
from store.knowledge.papers import SafetyScreen
from store.record import notes
from store.record.amendments import amendments_of
from store.record.people import revise_person
from tests.care.begun import Begun, begun


def answered(now: Begun, **answers: Word) -> Draft:
    draft = safety.begin(now.care, now.episode.id)
    for key, word in answers.items():
        draft = safety.answer(draft, key.replace("__", "."), word)
    return draft


def kept(now: Begun, **answers: Word) -> SafetyScreen:
    return safety.keep(now.care, answered(now, **answers))


def all_no(now: Begun) -> SafetyScreen:
    """Every question answered with no, and each number with one that is not to be minded."""
    draft = safety.begin(now.care, now.episode.id)
    for _ in range(2):  # what is put follows from what was answered
        for question in safety.put(now.care, draft):
            for key in question.keys:
                if key not in draft.answers:
                    draft = safety.answer(draft, key, 1.0 if question.unit else "no")
    return safety.keep(now.care, safety.answer(draft, "days", 2.0))


def test_only_what_was_answered_is_kept_beside_what_the_record_knows(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = kept(now, cold_foot="no")
    assert one.answers == {"age": 30.0, "days": 269.0, "cold_foot": "no"}
    assert (one.outcome, one.kind, one.visit, one.examiner) == ("unknown", "full", now.visit_id, "AB")
    assert one.rules is not None
    rules = notes.rules(now.care.record, one.rules)
    assert rules is not None
    assert rules["safety"]["clot_form"] == "two_level"
    assert rules["safety"]["lines"]["zone_cm"]["value"] == 6


def test_nothing_answered_is_nothing_to_keep(tmp_path: Path) -> None:
    now = begun(tmp_path)
    with pytest.raises(CareFault, match="nothing was answered"):
        kept(now)


def test_every_question_answered_with_no_finds_no_stop_sign(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = all_no(now)
    assert one.outcome == "no stop sign found"
    assert [finding["open"] for finding in one.findings] == [[]] * len(one.findings)
    assert all(finding["misses"] for finding in one.findings)


@pytest.mark.parametrize(("born", "outcome"), [("2012-01-01", "unknown"), ("2022-01-01", "unknown")])
def test_no_rule_clears_who_is_not_grown_up(tmp_path: Path, born: str, outcome: str) -> None:
    now = begun(tmp_path)
    person = now.care.person(now.episode.person)
    revise_person(now.care.record, person._replace(born=born), by="AB", because="told")
    assert "physis" in {question.id for question in safety.put(now.care, answered(now))}
    one = all_no(now)
    ankle = next(finding for finding in one.findings if finding["rule"] == "ankle")
    assert (one.outcome, ankle["outcome"]) == (outcome, "unknown")


def test_the_clot_score_is_kept_with_its_form_and_the_judgement_left_open(tmp_path: Path) -> None:
    now = begun(tmp_path)
    words = dict.fromkeys(("clot_cancer", "clot_leg", "clot_tender", "clot_veins", "clot_previous"), "no")
    one = kept(
        now, clot_suspected="yes", clot_plaster="yes", calf_cm=3.0, clot_pitting="yes", bed_days="none",
        surgery_weeks="none", **words,
    )  # fmt: skip
    clot = next(finding for finding in one.findings if finding["rule"] == "clot")
    assert clot["score"] == {
        "form": "two_level",
        "name": "two-level form of 2003, ten items",
        "without_other": [3, 3],
        "band_without_other": "likely",
        "other_at_least_as_likely": None,
        "with_judgement": [1, 3],
        "band": None,
    }
    assert (clot["outcome"], clot["open"]) == ("refer today", ["clot_other"])
    assert "clot_other" not in one.answers


def test_answers_changed_later_keep_the_first(tmp_path: Path) -> None:
    now = begun(tmp_path)
    first = kept(now, cold_foot="no")
    now.clock.move(60)
    second = kept(now, cold_foot="yes")
    assert (second.id, second.asked, second.outcome) == (first.id, first.asked, "emergency")
    (before,) = amendments_of(now.care.record, "safety_screen", first.id)
    assert before.because == "answers changed"
    assert '"cold_foot": "no"' in before.was["answers"]


def test_on_another_day_a_new_screen_begins_with_nothing_answered(tmp_path: Path) -> None:
    now = begun(tmp_path)
    first = kept(now, cold_foot="yes")
    now.clock.move(24 * 3600)
    draft = safety.begin(now.care, now.episode.id)
    assert (set(draft.answers), draft.kept) == ({"age", "days"}, None)
    second = safety.keep(now.care, safety.answer(draft, "cold_foot", "no"))
    assert second.id != first.id
    assert [one.id for one in stands(now.care, now.episode.id)] == [first.id]  # a later no settles nothing


def test_a_settled_referral_stands_again_when_the_answers_say_another_thing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    kept(now, medial="yes")
    with pytest.raises(CareFault, match="type the reason"):
        safety.settle(now.care, now.episode.id, "  ")
    safety.settle(now.care, now.episode.id, "films are clean")
    assert stands(now.care, now.episode.id) == ()
    with pytest.raises(CareFault, match="nothing stands"):
        safety.settle(now.care, now.episode.id, "once more")
    kept(now, calf_squeeze="yes")
    assert [one.outcome for one in stands(now.care, now.episode.id)] == ["refer today"]


def test_asked_as_a_group_answers_no_single_question(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = safety.reask(now.care, now.visit)
    assert (one.kind, one.answers, one.findings, one.outcome) == ("asked as a group", {}, (), "unknown")
    assert {"breathless", "clot_suspected", "new_numb", "still_no_weight"} <= set(one.shown)
    assert now.line_of("safety") == ("no change reported", True)
    assert counts(now.care, now.visit)
    assert "safety: not screened yet" in safety_lines(now.care, now.episode.id)


def test_a_standing_referral_asks_each_time_and_is_told_everywhere(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = kept(now, calf_squeeze="yes")
    lunge = now.care.knowledge.measures["lunge"]
    for _ in range(2):
        found = asks(now.care, now.visit_id, lunge)
        assert [each.id for each in found] == [f"refer_{one.id}"]
        go_on(now.care, now.visit_id, found)
    assert asks(now.care, now.visit_id, now.care.knowledge.measures["girth"]) == ()
    minds = {shown.line.step.id: shown.minds for shown in now.view.lines}
    assert minds["lunge"] == minds["mobilisation"] == minds["hold"] == "refer today stands, 25 Nov"
    assert standing(now.care, now.episode.id).cautions[0] == "refer today stands, 25 Nov"
    told = "\n".join(safety_lines(now.care, now.episode.id))
    assert "safety screen of 25 Nov 2026, by AB: refer today, stands until it is settled" in told
    assert "heel tendon rupture: refer today; Prone, calf squeezed: the foot does not move" in told
    data = safety_data(now.care, now.episode.id)
    assert (data["screened"], data["stands"], data["last"]["outcome"]) == (True, [one.id], "refer today")
    safety.settle(now.care, now.episode.id, "seen, tendon whole")
    assert asks(now.care, now.visit_id, lunge) == ()


def test_acts_are_taken_back_one_by_one_from_the_visit(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    kept(now, cold_foot="no")
    kept(now, cold_foot="yes")
    assert newest(now.care, now.visit)
    assert undo(now.care, now.visit) == "took back the changed answers"
    (one,) = safety.screens(now.care, now.episode.id)
    assert (one.answers["cold_foot"], one.outcome) == ("no", "unknown")
    assert undo(now.care, now.visit) == "took back the safety screen"
    assert safety.screens(now.care, now.episode.id) == []
    assert undo(now.care, now.visit) == "took back what was said: pain 2"


def test_what_was_kept_last_is_taken_back_first(tmp_path: Path) -> None:
    now = begun(tmp_path)
    safety.reask(now.care, now.visit)
    now.says("pain 2")
    assert undo(now.care, now.visit) == "took back what was said: pain 2"
    assert undo(now.care, now.visit) == "took back the asking as a group"


@pytest.mark.parametrize("text", ["", "x", "-1", "nan", "1e3", "1234567", "٣", "1.2345", "41"])
def test_what_is_no_number_in_range_is_refused_with_a_sentence(tmp_path: Path, text: str) -> None:
    now = begun(tmp_path)
    question = next(one for one in now.care.knowledge.safety.questions if one.id == "fibula_cm")
    with pytest.raises(CareFault, match="cm"):
        safety.number_of(question, text)
    assert safety.number_of(question, "2,5") == 2.5


def test_the_caseload_knows_who_was_screened(tmp_path: Path) -> None:
    now = begun(tmp_path)
    safety.reask(now.care, now.visit)
    assert [row.screened for row in caseload(now.care)] == [False]
    kept(now, cold_foot="no")
    assert [row.screened for row in caseload(now.care)] == [True]


def test_the_caseload_tells_the_gravest_referral_until_it_is_settled(tmp_path: Path) -> None:
    now = begun(tmp_path)
    kept(now, cold_foot="yes", talus="yes")
    row = caseload(now.care)[0]
    assert (row.screened, row.refer_words) == (True, "emergency")
    assert "emergency stands, not settled" in caseload_text([row], count(now.care))
    safety.settle(now.care, now.episode.id, "seen in hospital, pulse there")
    row = caseload(now.care)[0]
    assert row.refer_words == ""
    assert "stands" not in caseload_text([row], count(now.care))


def test_a_screen_gone_through_just_before_the_visit_is_the_visits_own(tmp_path: Path) -> None:
    now = begun(tmp_path)
    visits.end_visit(now.care, now.visit)
    now.clock.move(300)
    kept(now, cold_foot="no")
    assert [one.visit for one in safety.screens(now.care, now.episode.id)] == [None]
    now.clock.move(300)
    second = visits.start_visit(now.care, now.episode)
    step = next(one for one in view(now.care, second.id).lines if one.line.step.kind == "safety")
    assert (step.line.open, step.says) == (False, "unknown")
    told = sections(now.care, facts(now.care, second))["subjective"]
    assert "safety screen: unknown" in told
    visits.end_visit(now.care, now.care.visit(second.id))
    now.clock.move(300)
    third = visits.start_visit(now.care, now.episode)
    step = next(one for one in view(now.care, third.id).lines if one.line.step.kind == "safety")
    assert step.line.open, "what the visit before rested on is not this one's"


def test_the_days_since_the_injury_are_those_of_today(tmp_path: Path) -> None:
    now = begun(tmp_path)
    draft = safety.begin(now.care, now.episode.id)
    assert draft.answers["days"] == float((now.visit.started.on - date(2026, 3, 1)).days)


def subjective(now: Begun) -> list[str]:
    """The lines on safety in the note of the visit in hand."""
    drafted = sections(now.care, facts(now.care, now.visit))["subjective"].split("\n")
    return [line for line in drafted if "safety" in line or "settled" in line]


def test_the_note_tells_in_one_line_what_was_asked(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    assert subjective(now) == []
    one = safety.reask(now.care, now.visit)
    assert subjective(now) == [f"safety asked as a group, no change reported, {len(one.shown)} signs on show"]
    kept(now, calf_squeeze="yes")
    (line,) = subjective(now)
    for words in (
        "safety screen: refer today, stands until it is settled; 3 questions answered",
        "heel tendon rupture: refer today; Prone, calf squeezed: the foot does not move",
        "unknown, not all was asked: emergency signs",
    ):
        assert words in line


def later(now: Begun, days: int = 7) -> None:
    """Another visit, so many days later."""
    visits.end_visit(now.care, now.visit)
    now.clock.move(days * 24 * 3600)
    now.visit_id = visits.start_visit(now.care, now.episode).id
    now.says("pain 1")


def test_the_note_tells_what_changed_and_what_still_stands(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    kept(now, calf_squeeze="yes", cold_foot="no")
    later(now)
    stands_still = "refer today of 25 Nov (heel tendon rupture) stands, not settled"
    assert subjective(now) == [stands_still]
    safety.reask(now.care, now.visit)
    assert [line.split(",")[0] for line in subjective(now)] == [
        "safety asked as a group",
        stands_still.split(",")[0],
    ]
    kept(now, calf_squeeze="no", cold_foot="yes")
    asked, stood = subjective(now)
    assert "since 25 Nov: Prone, calf squeezed: the foot does not move: yes, now no; " in asked
    assert "no, now yes" in asked
    assert stood == stands_still
    safety.settle(now.care, now.episode.id, "seen by the surgeon")
    assert subjective(now)[1] == "refer today of 25 Nov (heel tendon rupture) settled today: seen by the surgeon"
    later(now)
    assert subjective(now) == []


def test_a_number_of_days_is_told_in_its_number(tmp_path: Path) -> None:
    now = begun(tmp_path)
    days = next(one for one in now.care.knowledge.safety.questions if one.id == "days")
    assert [answer_words(days, n) for n in (0, 1, 2)] == ["0 days", "1 day", "2 days"]


def test_findings_that_are_unknown_are_told_apart(tmp_path: Path) -> None:
    """Their names hold commas."""
    now = begun(tmp_path)
    kept(now, calf_squeeze="yes")
    (line,) = subjective(now)
    assert "emergency signs; fracture rule, ankle films; " in line
