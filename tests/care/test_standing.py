"""Where an ankle stands: what it may be held against, and what no longer belongs to it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from store.care import visits
from store.care.adding import add_line
from store.care.care import Care
from store.care.caseload import widest_words
from store.care.faults import CareFault
from store.care.in_cells import standing_cell
from store.care.origin import origin
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.care.stages import stage_standing
from store.care.standing import Standing, standing
from store.care.undoing import undo
from store.knowledge.criteria import Stage
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Side
from store.reckon.threshold import LineVerdict
from store.record.episodes import revise_episode
from tests.screens.made import opened

DAY = 24 * 3600


@dataclass(slots=True)
class Clinic:
    """One person, a right ankle, and the short ways to act."""

    care: Care
    clock: SetClock
    episode: Episode

    def add(self, line: str, days: float = 0) -> str:
        """Type a line, some days later."""
        self.clock.move(days * DAY)
        return add_line(self.care, self.care.person(self.episode.person), line)

    def sprain(self, side: Side) -> Episode:
        return new_episode(self.care, self.care.person(self.episode.person), EpisodeForm(side))

    def close(self, episode: Episode) -> Episode:
        """Discharge, the visit in hand ended."""
        episode = self.care.episode(episode.id)
        visit = visits.open_visit(self.care, episode)
        if visit is not None:
            visits.end_visit(self.care, visit)
        return close_episode(self.care, episode)

    def blind_retest(self) -> bool:
        retest = self.held().of("lunge").retest
        return retest is not None and retest.blind

    def held(self, episode: Episode | None = None) -> Standing:
        return standing(self.care, (episode or self.episode).id)


@pytest.fixture
def clinic(tmp_path: Path) -> Clinic:
    care, clock = opened(tmp_path)
    _, episode = new_person(care, "R.K.", "1995", EpisodeForm(Side.RIGHT))
    assert episode is not None
    return Clinic(care, clock, episode)


# the re-test


def test_a_before_value_that_was_typed_after_the_retest_is_told_and_not_called_blind(clinic: Clinic) -> None:
    visits.start_visit(clinic.care, clinic.episode)
    clinic.add("lunge l 10 10 10 r 5 5 5")
    clinic.add("lunge l 10 10 10 r 7 7 7", days=0.01)
    assert clinic.blind_retest()
    clinic.add("lunge l 10 10 10 r 6.5 6.5 6.5 before", days=0.01)
    retest = clinic.held().of("lunge").retest
    assert retest is not None
    assert not clinic.blind_retest()
    assert retest.change.warnings == ("the value before was entered after the one it is held against",)


# a closed episode


def test_what_was_taken_back_after_the_episode_was_closed_is_none_of_it(clinic: Clinic) -> None:
    clinic.add("lunge 10 8")
    clinic.close(clinic.episode)
    clinic.clock.move(30 * DAY)
    again = clinic.sprain(Side.RIGHT)
    clinic.add("lunge right 4.4")
    visit = visits.open_visit(clinic.care, again)
    assert visit is not None
    undo(clinic.care, visit)
    assert "4.4" not in repr(origin(clinic.care, clinic.episode.id, "lunge").of_person)
    assert "4.4" in repr(origin(clinic.care, again.id, "lunge").of_person)


def test_no_visit_begins_in_a_closed_episode(clinic: Clinic) -> None:
    stale = clinic.episode
    clinic.close(stale)
    with pytest.raises(CareFault, match="this episode is closed: a opens another one of this person"):
        visits.start_visit(clinic.care, stale)


# what this copy does not know


def test_a_main_measure_that_this_copy_lacks_takes_nothing_else_away(clinic: Clinic) -> None:
    clinic.add("girth 50 51")
    episode = clinic.care.episode(clinic.episode.id)
    other = episode._replace(main_measure="moon_phase")
    revise_episode(clinic.care.record, other, by="", because="merged from a later version")
    assert clinic.held().main is None
    said = repr(origin(clinic.care, episode.id, "girth").of_person)
    assert "girth is secondary here: the one main measure of this episode is moon_phase" in said


# cautions


@pytest.mark.parametrize(("born", "named"), [("2012", True), ("1995", False), ("", False)])
def test_open_growth_plates_are_a_caution_under_18(tmp_path: Path, born: str, named: bool) -> None:
    care, _ = opened(tmp_path)
    _, episode = new_person(care, "M.B.", born, EpisodeForm(Side.RIGHT, hypermobility=True))
    assert episode is not None
    growth = ("growth plates, under 18",) if named else ()
    assert standing(care, episode.id).cautions == ("hypermobility", *growth)


def test_a_baseline_from_an_earlier_sprain_of_the_same_ankle_is_said_to_be_one(clinic: Clinic) -> None:
    clinic.add("lunge 10 8")
    clinic.close(clinic.episode)
    clinic.clock.move(90 * DAY)
    again = clinic.sprain(Side.RIGHT)
    clinic.add("lunge 10 5")
    held = clinic.held(again)
    assert held.of("lunge").gap == -3
    earlier = "8.0 cm of 25 Nov 2026, taken in the care of an earlier injury of it: perhaps no healthy value"
    assert earlier in repr(origin(clinic.care, again.id, "lunge").of_person)


# both ankles


def test_a_sprain_after_discharge_leaves_the_closed_ankle_its_yardstick(clinic: Clinic) -> None:
    clinic.add("lunge 10 8")
    clinic.close(clinic.episode)
    clinic.clock.move(30 * DAY)
    clinic.sprain(Side.LEFT)
    held = clinic.held()
    assert not held.both_injured
    assert held.of("lunge").gap == -2


def test_two_ankles_discharged_on_one_day_were_no_yardstick_for_each_other(clinic: Clinic) -> None:
    left = clinic.sprain(Side.LEFT)
    clinic.add("lunge 9 8", days=1)
    clinic.close(clinic.episode)
    clinic.clock.move(60)
    clinic.close(left)
    for episode in (clinic.episode, left):
        held = clinic.held(episode)
        assert held.both_injured
        assert held.of("lunge").gap is None


def test_once_the_other_ankle_is_discharged_it_is_the_uninjured_side_again(clinic: Clinic) -> None:
    left = clinic.sprain(Side.LEFT)
    clinic.add("lunge 9 8", days=1)
    assert clinic.held().both_injured
    clinic.close(left)
    assert not clinic.held().both_injured


# what was measured after treatment alone


def test_values_after_treatment_alone_are_shown_and_no_gap_or_verdict_rests_on_them(clinic: Clinic) -> None:
    clinic.add("girth l 51 51 51 r 53 53 53 after")
    held = clinic.held()
    girth = held.of("girth")
    assert (girth.gap, girth.deficit, girth.multiples, girth.reference, girth.lsi) == (None,) * 5
    assert girth.gap_words == ""
    assert standing_cell(girth.of(Side.RIGHT), girth.measure) == "53.0 after"
    assert widest_words(held) == "after values only"
    answers = {one.criterion.measure: one.answer for one in stage_standing(clinic.care, held, Stage.JOG).criteria}
    assert answers["girth"].verdict is LineVerdict.NOT_MEASURED

    clinic.add("girth l 51 51 51 r 52 52 52", days=1)
    girth = clinic.held().of("girth")
    assert girth.gap_words == "1.0 larger"
    assert standing_cell(girth.of(Side.RIGHT), girth.measure) == "52.0"


def test_a_side_with_values_after_treatment_alone_is_no_yardstick(clinic: Clinic) -> None:
    clinic.add("girth r 53 53 53 before")
    clinic.add("girth l 51 51 51 after")
    held = clinic.held()
    assert held.of("girth").reference is None
    assert held.of("girth").gap is None
    said = repr(origin(clinic.care, clinic.episode.id, "girth").of_person)
    assert "a value after treatment is not the ankle as it stands" in said
