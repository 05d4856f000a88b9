"""What is done under a clinic's settings: their examiner, slot, plan, doses, days and lines, and sets in a row."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from store.care import visits
from store.care.ahead_words import count_text, criterion_text
from store.care.care import Care, name_examiner, open_care
from store.care.choosing import choices
from store.care.own_settings import fault_line, own_settings, settings_path
from store.care.people import EpisodeForm, new_person
from store.care.stages import stage_standing
from store.care.standing import standing
from store.care.timing import Mode, begin
from store.knowledge.criteria import Stage
from store.knowledge.settings import NOTHING_SET
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Mark, Side
from store.reckon.threshold import LineVerdict
from tests.screens.made import NOW, take


@dataclass(slots=True)
class Clinic:
    """A record under a settings file, with one ankle in it."""

    care: Care
    clock: SetClock
    episode: Episode


def clinic(tmp_path: Path, text: str, examiner: str = "") -> Clinic:
    file = tmp_path / "settings.toml"
    file.write_text(text, encoding="utf-8")
    settings = own_settings(file)
    assert not settings.faults, fault_line(settings)
    clock = SetClock(NOW)
    care = open_care(tmp_path / "ward.sqlite", clock, examiner=examiner, create=True, settings=settings)
    _, episode = new_person(care, "R.K.", "1995", EpisodeForm(Side.RIGHT))
    assert episode is not None
    return Clinic(care, clock, episode)


def test_a_byte_order_mark_and_the_line_ends_of_another_system_do_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_bytes(b'\xef\xbb\xbfclinic = "Room 2"\r\nslot_min = 40\r\n')
    found = own_settings(file)
    assert (found.clinic, found.slot_min, found.faults) == ("Room 2", 40, ())


def test_without_a_file_the_defaults_hold(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    assert settings_path().name == "settings.toml"
    assert own_settings() is NOTHING_SET


def test_the_first_fault_is_said_in_a_line_and_the_others_are_counted(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text("blnd = 1\ntheme = 3\nslot_min = 0\n", encoding="utf-8")
    told = fault_line(own_settings(file))
    assert told == "settings: line 1 (blnd) and 2 more cannot be used: `bothfeet settings` says why."
    assert fault_line(NOTHING_SET) == ""


@pytest.mark.parametrize(
    ("named", "text", "wanted"),
    [("N.N.", 'examiner = "S.E."', "N.N."), ("", 'examiner = "S.E."', "S.E."), ("", "", "K.E.")],
    ids=["named", "set", "kept"],
)
def test_who_is_named_measures_then_who_is_set_then_who_did_last(
    tmp_path: Path, named: str, text: str, wanted: str
) -> None:
    care = open_care(tmp_path / "ward.sqlite", SetClock(NOW), create=True)
    name_examiner(care, "K.E.")
    care.close()
    file = tmp_path / "settings.toml"
    file.write_text(text, encoding="utf-8")
    care = open_care(tmp_path / "ward.sqlite", SetClock(NOW), examiner=named, settings=own_settings(file))
    assert care.examiner == wanted
    care.close()


def test_a_visit_has_the_slot_and_the_plan_of_the_clinic(tmp_path: Path) -> None:
    here = clinic(
        tmp_path, "slot_min = 20\n[[plan]]\nid = 'girth'\nkind = 'measure'\nref = 'girth'\nminutes = 5\n"
    )
    visit = visits.start_visit(here.care, here.episode)
    assert (visit.slot_min, [step.ref for step in visit.plan]) == (20, ["girth"])


def test_a_bout_has_the_dose_of_the_clinic_and_its_next_set_starts_by_itself(tmp_path: Path) -> None:
    here = clinic(tmp_path, "next_set_by_itself = true\n[doses.hold_firm]\nsets = 2\nhold_s = 10\nrest_s = 15\n")
    visit = visits.start_visit(here.care, here.episode)
    live = begin(here.care, here.care.knowledge.activities["hold_firm"], visit)
    assert (live.plan.sets, live.plan.hold_s, live.plan.rest_s, live.plan.auto_next) == (2, 10, 15, True)
    live.press()
    for _ in range(3 + 10 + 15 + 1):
        here.clock.move(1)
        live.tick()
    assert live.state.mode is Mode.COUNTDOWN, "the second set begins without a key"


def test_the_default_waits_for_a_key(tmp_path: Path) -> None:
    here = clinic(tmp_path, "")
    live = begin(
        here.care, here.care.knowledge.activities["hold_firm"], visits.start_visit(here.care, here.episode)
    )
    assert live.plan.auto_next is False


def test_blind_off_compares_at_once(tmp_path: Path) -> None:
    here = clinic(tmp_path, "blind_retest = false\n", examiner="X")
    visit = visits.start_visit(here.care, here.episode)
    take(here.care, visit, "lunge 10.2 4.8 before")
    held = standing(here.care, here.episode.id)
    assert (here.care.blind, held.of("lunge").hidden) == (False, False)


def test_a_reading_is_stale_after_the_days_of_the_clinic_and_a_line_is_theirs(tmp_path: Path) -> None:
    text = "[fresh_days]\nlunge = 3\n[criteria.jog]\nrange = { needs = { within = 6 } }\n"
    here = clinic(tmp_path, text, examiner="X")
    visit = visits.start_visit(here.care, here.episode, planned=False)
    take(here.care, visit, "lunge 10.2 8.8")
    visits.end_visit(here.care, visit)

    def told() -> tuple[LineVerdict, Mark]:
        stage = stage_standing(here.care, standing(here.care, here.episode.id), Stage.JOG, dated=False)
        one = next(each for each in stage.criteria if each.criterion.id == "range")
        return one.answer.verdict, one.criterion.mark

    assert told() == (LineVerdict.CLEARLY_MET, Mark.CLINIC)
    here.clock.move(4 * 86400)
    assert told() == (LineVerdict.STALE, Mark.CLINIC)


def test_an_activity_of_the_clinic_can_be_chosen(tmp_path: Path) -> None:
    text = (
        "[activities.pull]\nname = 'towel pulls'\nkind = 'counted reps'\ndomain = 'strength'\nshows = 'x'\n"
        "sides = 'injured'\nhands_on = false\nloading = true\nminutes = 4\ndose = { sets = 3, reps = 15 }\n"
    )
    here = clinic(tmp_path, text)
    found = choices(here.care, visits.start_visit(here.care, here.episode))
    assert (found[-1].activity.id, found[-1].group) == ("pull", "of this clinic")


def test_what_still_is_wanted_says_what_the_clinic_changed_and_left_out(tmp_path: Path) -> None:
    text = "[criteria.walk]\npain_now = { needs = { at_most = 1 } }\nlimp = false\n"
    here = clinic(tmp_path, text, examiner="X")
    visit = visits.start_visit(here.care, here.episode, planned=False)
    take(here.care, visit, "pain_now 2")
    stage = stage_standing(here.care, standing(here.care, here.episode.id), Stage.WALK, dated=False)
    assert count_text(stage).endswith("1 left out by this clinic")
    pain = next(one for one in stage.criteria if one.criterion.id == "pain_now")
    told = criterion_text(pain, here.care.knowledge.measures["pain_now"], here.clock.now().on)
    assert told.startswith("pain now at most 1 of 10 (set by this clinic): short")
    weight = next(one for one in stage.criteria if one.criterion.id == "weight")
    told = criterion_text(weight, here.care.knowledge.measures["weight_bearing"], here.clock.now().on)
    assert "clinic" not in told
