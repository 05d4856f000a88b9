"""The criteria of a stage on a real record, the decisions on them, and what is expected when."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from store.care import stages
from store.care.caseload import caseload, flat_words
from store.care.faults import CareFault
from store.care.foreseeing import foresee
from store.care.scoring import keep_forecasts, score, tally
from store.care.standing import Standing, standing
from store.care.visits import end_visit, start_visit
from store.knowledge.criteria import Stage
from store.reckon.threshold import LineVerdict
from tests.care.begun import Begun, begun


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Begun]:
    found = begun(tmp_path)
    yield found
    found.care.close()


def held(room: Begun) -> Standing:
    return standing(room.care, room.episode.id)


def verdicts(room: Begun, stage: Stage = Stage.JOG) -> dict[str, LineVerdict]:
    found = stages.stage_standing(room.care, held(room), stage)
    return {one.criterion.id: one.answer.verdict for one in found.criteria}


def visit_after(room: Begun, days: int, *lines: str) -> None:
    """End the visit, let days pass, and measure in a new one, without a hands-on part."""
    end_visit(room.care, room.visit)
    room.clock.move(days * 86_400)
    room.visit_id = start_visit(room.care, room.episode).id
    for line in lines:
        room.line(line)


def test_nothing_measured_is_nothing_met(room: Begun) -> None:
    assert set(verdicts(room).values()) == {LineVerdict.NOT_MEASURED}
    found = stages.stage_standing(room.care, held(room), Stage.JOG)
    assert found.met == 0
    assert found.next is not None
    assert found.in_the_way == ()


def test_each_by_its_own_verdict(room: Begun) -> None:
    visit_after(
        room,
        3,
        "lunge 11.0 11.2",
        "lunge 11.4 11.5 after",  # so that the values before are no longer hidden
        "heel_raise 25 19",
        "stance_open left 30 30 30 right unable",
        "confidence 8",
        "hop_spot yes no",
        "pain_walk 2",
        "girth 52.0 52.1",
    )
    found = verdicts(room)
    assert found["range"] is LineVerdict.CLEARLY_MET
    assert found["raises"] is LineVerdict.SHORT_CLOSE
    assert found["stance"] is LineVerdict.CLEARLY_SHORT
    assert found["confidence"] is LineVerdict.MET_UNKNOWN
    assert found["hops"] is LineVerdict.SHORT
    assert found["brisk_walk"] is LineVerdict.MET_UNKNOWN
    assert found["swelling"].met
    assert found["hop_pain"] is LineVerdict.NOT_MEASURED


def test_a_value_after_treatment_alone_answers_nothing_and_says_so(room: Begun) -> None:
    visit_after(room, 3, "lunge 11.0 11.2 after")
    found = stages.stage_standing(room.care, held(room), Stage.JOG)
    one = next(one for one in found.criteria if one.criterion.id == "range")
    assert one.answer.verdict is LineVerdict.NOT_MEASURED
    assert one.answer.why == "measured after treatment only"


def test_today_unable_stands_in_the_way_of_everything(room: Begun) -> None:
    visit_after(room, 3, "stance_open left 30 30 30 right unable")
    found = stages.stage_standing(room.care, held(room), Stage.JOG)
    assert [one.criterion.id for one in found.in_the_way] == ["stance"]


def test_old_values_are_stale(room: Begun) -> None:
    visit_after(room, 3, "confidence 8")
    assert verdicts(room)["confidence"].met
    visit_after(room, 60)
    assert verdicts(room)["confidence"] is LineVerdict.STALE


def test_blind_values_answer_nothing(room: Begun) -> None:
    room.line("lunge 11.0 10.9")
    found = stages.stage_standing(room.care, held(room), Stage.JOG)
    one = next(one for one in found.criteria if one.criterion.id == "range")
    assert one.answer.verdict is LineVerdict.NOT_MEASURED
    assert one.answer.value is None
    assert "hidden" in one.answer.why
    told = foresee(room.care, held(room), "lunge")
    assert told.forecast is None


def recovering(room: Begun) -> None:
    for days, value in ((2, "5.0"), (5, "6.1"), (5, "6.9"), (6, "7.4")):
        visit_after(room, days, f"lunge 11.0 {value}")
        room.line("lunge 11.0 9.0 after")


def test_a_short_one_has_its_expected_days(room: Begun) -> None:
    recovering(room)
    found = stages.stage_standing(room.care, held(room), Stage.JOG)
    one = next(one for one in found.criteria if one.criterion.id == "range")
    assert not one.answer.verdict.met
    assert one.dates is not None
    assert one.dates.median is not None
    assert one.dates.median > held(room).on


def test_what_is_read_after_treatment_moves_no_forecast(room: Begun) -> None:
    recovering(room)
    told = foresee(room.care, held(room), "lunge")
    assert told.why_none == ""
    assert told.estimate is not None
    assert told.estimate.value < 8.2
    assert [ahead.word for ahead in told.lines] == ["jog", "run"]


def test_why_there_is_none(room: Begun) -> None:
    visit_after(room, 3, "heel_raise 20 10")
    assert "count" in foresee(room.care, held(room), "heel_raise").why_none
    assert "nothing measured" in foresee(room.care, held(room), "lunge").why_none


def test_a_decision_is_the_clinicians(room: Begun) -> None:
    assert stages.stage_of(room.care, room.episode.id) is None
    assert stages.coming_stage(room.care, room.episode.id) is Stage.WALK
    made = stages.decide(room.care, held(room), Stage.JOG, "  hops without  pain ")
    assert made.reason == "hops without pain"
    assert {answer["verdict"] for answer in made.answers} == {"not measured"}
    assert stages.stage_of(room.care, room.episode.id) is Stage.JOG
    assert stages.coming_stage(room.care, room.episode.id) is Stage.RUN
    stages.take_back(room.care, made)
    assert stages.stage_of(room.care, room.episode.id) is None
    assert stages.decisions_of(room.care, room.episode.id) == []


@pytest.mark.parametrize("reason", ["", "   ", "x" * 301])
def test_a_decision_wants_a_reason(room: Begun, reason: str) -> None:
    with pytest.raises(CareFault, match="reason"):
        stages.decide(room.care, held(room), Stage.JOG, reason)


def test_forecasts_are_kept_and_scored(room: Begun) -> None:
    recovering(room)
    kept = keep_forecasts(room.care, room.visit)
    assert [one.measure for one in kept] == ["lunge"]
    (made,) = kept
    assert made.for_on == held(room).on + timedelta(days=14)
    assert made.reading_low80 < made.low80 < made.value < made.high80 < made.reading_high80
    assert score(room.care, "lunge").made == 0
    visit_after(room, 15, f"lunge 11.0 {made.value:.1f}")
    room.line("lunge 11.0 9.9 after")
    assert score(room.care, "lunge").words.startswith("of 1 made here, 1 fell inside")
    assert tally(kept, []).words == ""
    assert made.made.on >= date(2026, 3, 1)


def test_the_caseload_tells_the_stage_and_what_is_flat(room: Begun) -> None:
    assert caseload(room.care)[0].stage_words == ""
    stages.decide(room.care, held(room), Stage.WALK, "no limp")
    assert caseload(room.care)[0].stage_words == "walk"
    chance = random.Random(5)
    for _ in range(16):
        visit_after(room, 4, f"lunge 11.0 {8.0 + chance.gauss(0, 0.4):.1f}")
        room.line("lunge 11.0 8.2 after")
        keep_forecasts(room.care, room.visit)
    assert flat_words(room.care, room.episode.id).startswith("lunge flat: ")
    assert flat_words(room.care, room.episode.id).endswith(" days, re-examine")
