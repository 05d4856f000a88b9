"""Signed notes, safety screens and decisions in a bundle that a library that is not ours takes.

The library is that of test_fhir.py, and it lets wrong codes pass: those are held against our own lists there.
"""

from __future__ import annotations

import json
from base64 import b64decode
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from store.care import noting, safety
from store.care.safety import Word
from store.care.stages import decide
from store.care.standing import standing
from store.knowledge.criteria import Stage
from store.knowledge.papers import SafetyScreen
from tests.care.begun import Begun, begun
from tests.outside.bundle import Found, written


def coded(found: list[Found], code: str) -> list[Found]:
    """The observations of one of our own codes."""
    return [
        one for one in found if one["resourceType"] == "Observation" and one["code"]["coding"][0]["code"] == code
    ]


def parts(one: Found) -> dict[str, Found]:
    return {part["code"]["coding"][0]["code"]: part for part in one["component"]}


def documents(found: list[Found]) -> list[Found]:
    return [one for one in found if one["resourceType"] == "DocumentReference"]


def words_of(one: Found) -> str:
    return b64decode(one["content"][0]["attachment"]["data"]).decode("utf-8")


def kept(now: Begun, **answers: Word) -> SafetyScreen:
    draft = safety.begin(now.care, now.episode.id)
    for key, word in answers.items():
        draft = safety.answer(draft, key, word)
    return safety.keep(now.care, draft)


def test_a_note_is_a_document_once_it_is_signed_and_additions_say_what_they_add_to(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 worst 4")
    noting.edit(now.care, now.visit_id, "plan", 'again "on Thursday"\n=1+1 é')
    assert documents(written(now)) == []
    noting.sign(now.care, now.visit_id, student=True)
    noting.add(now.care, now.visit_id, "called back")
    noting.countersign(now.care, now.visit_id, "C.D.")
    found = written(now)
    note, added = documents(found)
    signed = noting.note_of(now.care, now.visit_id).kept
    assert signed is not None
    assert signed.signed is not None
    assert (note["id"], note["status"], note["docStatus"]) == (signed.id, "current", "final")
    assert datetime.fromisoformat(note["date"]) == signed.signed.at
    assert note["author"] == [{"display": "AB (student)"}]
    assert note["authenticator"] == {"display": "C.D."}
    told = words_of(note)
    assert told.startswith("subjective\npain: now 2, worst 4")
    assert 'plan\nagain "on Thursday"\n=1+1 é' in told
    assert [told.index(name) for name in noting.SECTIONS] == sorted(told.index(name) for name in noting.SECTIONS)
    [encounter] = [one for one in found if one["resourceType"] == "Encounter"]
    assert note["context"]["encounter"] == [{"reference": f"urn:uuid:{encounter['id']}"}]
    assert added["relatesTo"] == [{"code": "appends", "target": {"reference": f"urn:uuid:{note['id']}"}}]
    assert words_of(added) == "addition\ncalled back"


def test_a_safety_screen_has_its_outcome_its_rules_and_only_what_was_answered(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = kept(now, calf_squeeze="yes", cold_foot="no", clot_suspected="yes", calf_cm=3.0, bed_days="none")
    [found] = coded(written(now), "safety-screen")
    assert (found["id"], found["status"]) == (one.id, "final")
    assert found["valueCodeableConcept"]["text"] == "refer today"
    assert found["bodySite"]["coding"][0]["code"] == "6685009"
    told = parts(found)
    assert told["calf_squeeze"]["valueBoolean"] is True
    assert told["cold_foot"]["valueBoolean"] is False
    assert told["calf_cm"]["valueQuantity"] == {"value": 3.0}
    assert told["bed_days"]["valueString"] == "none"
    assert {"clot_other", "tense_leg"}.isdisjoint(told)
    assert told["tendon"]["valueCodeableConcept"]["text"] == "refer today"
    assert told["emergency"]["valueCodeableConcept"]["text"] == "unknown"
    assert told["clot-form"]["valueString"] == "two_level"
    assert told["clot-without-other"]["valueRange"]["low"]["value"] == 1
    safety.settle(now.care, now.episode.id, "tendon is whole")
    [after] = coded(written(now), "safety-screen")
    assert (after["id"], after["status"]) == (one.id, "amended")
    assert after["note"][0]["text"] == "settled: tendon is whole"


def test_no_question_stands_in_its_words(tmp_path: Path) -> None:
    now = begun(tmp_path)
    kept(now, calf_squeeze="yes", cold_foot="no")
    told = json.dumps(written(now))
    asked = [question.asks for question in now.care.knowledge.safety.questions]
    assert asked
    assert not [words for words in asked if words in told]


def test_asked_as_a_group_is_no_answer_to_a_single_question(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = safety.reask(now.care, now.visit)
    [found] = coded(written(now), "safety-screen")
    assert found["valueCodeableConcept"]["text"] == "asked as a group, no change reported"
    assert parts(found) == {"on-show": found["component"][0]}
    assert found["component"][0]["valueString"].split(", ") == list(one.shown)
    assert "valueBoolean" not in json.dumps(found)


def test_a_decision_on_a_stage_has_its_reason_and_the_criteria_as_they_stood(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    made = decide(now.care, standing(now.care, now.episode.id), Stage.WALK, "walks well")
    [found] = coded(written(now), "stage-decision")
    assert (found["id"], found["status"]) == (made.id, "final")
    assert found["valueCodeableConcept"]["text"] == "walk"
    assert found["note"] == [{"text": "walks well"}]
    assert {part["valueString"] for part in found["component"]} >= {"not measured"}


def every_id(now: Begun) -> Iterator[tuple[str, str]]:
    for one in written(now):
        yield one["resourceType"], one["id"]


def test_taken_in_twice_it_adds_nothing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    kept(now, calf_squeeze="yes")
    decide(now.care, standing(now.care, now.episode.id), Stage.WALK, "walks well")
    noting.sign(now.care, now.visit_id)
    first = list(every_id(now))
    now.clock.move(3600)
    again = list(every_id(now))
    assert len(set(first)) == len(first)
    assert first == again
