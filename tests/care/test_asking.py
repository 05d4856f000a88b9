"""What is asked before hands-on work or loading: for each reason once a visit."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from store.care import safety
from store.care.asking import GOES_ON, asks, go_on, question
from store.care.bout_setting import setting
from store.knowledge.kinds import Activity, Measure
from store.record.amendments import amendments_of
from store.record.episodes import revise_episode
from tests.care.begun import Begun, begun


def told(now: Begun, **changed: bool | date) -> None:
    episode = now.care.episode(now.episode.id)
    changed_episode = episode._replace(**changed)  # type: ignore[arg-type]  # the field is named by the test
    revise_episode(now.care.record, changed_episode, by="AB", because="told")


def thing(now: Begun, name: str) -> Activity | Measure:
    known = now.care.knowledge
    return known.activities[name] if name in known.activities else known.measures[name]


def asked(now: Begun, name: str) -> list[str]:
    return [one.id for one in asks(now.care, now.visit_id, thing(now, name))]


def test_nothing_is_asked_where_nothing_is_in_force(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert asked(now, "mobilisation_belt") == asked(now, "lunge") == asked(now, "hold_firm") == []
    assert [shown.minds for shown in now.view.lines] == [""] * len(now.view.lines)


def test_refused_consent_asks_before_hands_on_work_and_loading_alone(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("consent n")
    assert asked(now, "mobilisation_belt") == asked(now, "lunge") == asked(now, "hold_firm") == ["no_consent"]
    assert asked(now, "girth") == []
    now.says("consent y")
    assert asked(now, "mobilisation_belt") == []


def test_what_was_told_of_the_person_asks_and_marks_the_steps(tmp_path: Path) -> None:
    now = begun(tmp_path)
    told(now, anticoagulant=True, loss_of_feeling=True, injured_on=now.visit.started.on - timedelta(days=1))
    assert {"anticoagulants", "loss_of_feeling"} <= set(asked(now, "lunge"))
    assert "first_days" in asked(now, "mobilisation_belt")
    minds = {shown.line.step.id: shown.minds for shown in now.view.lines}
    assert all(word in minds["mobilisation"] for word in ("day 1", "anticoagulants", "loss of feeling"))
    assert minds["said"] == minds["note"] == ""


def test_a_yes_is_kept_in_the_record_and_not_asked_again_in_this_visit(tmp_path: Path) -> None:
    now = begun(tmp_path)
    told(now, anticoagulant=True)
    go_on(now.care, now.visit_id, asks(now.care, now.visit_id, thing(now, "lunge")))
    assert amendments_of(now.care.record, "visit", now.visit_id)[-1].because == f"{GOES_ON}anticoagulants"
    assert asked(now, "mobilisation_belt") == asked(now, "hold_firm") == []
    now.says("consent n")
    assert asked(now, "hold_firm") == ["no_consent"]
    minds = {shown.line.step.id: shown.minds for shown in now.view.lines}
    assert minds["hold"] == "no consent, anticoagulants"


def test_one_reason_is_asked_in_its_sentence_and_several_by_name(tmp_path: Path) -> None:
    now = begun(tmp_path)
    told(now, anticoagulant=True)
    found = asks(now.care, now.visit_id, thing(now, "lunge"))
    assert question(found, "space").startswith("On anticoagulants: ask first")
    now.says("consent n")
    found = asks(now.care, now.visit_id, thing(now, "lunge"))
    assert question(found, "space") == "Ask first: no consent, anticoagulants. space again goes on."


def test_what_is_asked_before_a_bout_is_named_where_it_is_read_before_it_starts(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("consent n")
    draft = safety.begin(now.care, now.episode.id)
    safety.keep(now.care, safety.answer(draft, "tense_leg", "yes"))
    for name in ("mobilisation_belt", "hold_firm"):
        referred, refused, *_ = [one for one in setting(now.care, now.visit_id, name).warned if one.in_force]
        assert referred.text.startswith("emergency stands, 25 Nov: settle it on the safety screen")
        assert refused.text == "Consent was refused today: ask again first."
    assert not [one for one in setting(now.care, now.visit_id, "elevation").warned if one.in_force]
