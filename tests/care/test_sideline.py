"""A squad at the sideline: own baseline and today, entry at speed, looks and when the next is due. Invented."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.care import looked, sideline, squads
from store.care.adding import add_line
from store.care.bare_person import person_view
from store.care.care import Care, open_care
from store.care.faults import FAULTS, CareFault
from store.care.measuring import Saved
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.care.sideline import BenchRow
from store.knowledge.planned import Squad
from store.knowledge.sideline import BenchOutcome
from store.knowledge.time import SetClock
from store.knowledge.words import Person, Side, VisitKind
from store.record import episodes, readings, visits

DAY_S = 24 * 3600


@pytest.fixture
def clock() -> SetClock:
    return SetClock(datetime(2026, 9, 12, 14, 0, tzinfo=UTC))


@pytest.fixture
def care(tmp_path: Path, clock: SetClock) -> Iterator[Care]:
    care = open_care(tmp_path / "bench.sqlite", clock, examiner="AB", create=True)
    yield care
    care.close()


@pytest.fixture
def squad(care: Care) -> Squad:
    made = squads.make(care, "Field hockey")
    for label, born in (("C.D.", "2009"), ("A.B.", "1995"), ("E.F.", "")):
        squads.add_new(care, made, label, born)
    return made


def rows(care: Care, squad: Squad, measure: str = "lunge") -> dict[str, BenchRow]:
    return {row.person.label: row for row in sideline.bench(care, squad.id, care.knowledge.measures[measure])}


def someone(care: Care, squad: Squad, label: str = "A.B.") -> Person:
    return rows(care, squad)[label].person


def take(care: Care, squad: Squad, text: str, label: str = "A.B.", measure: str = "lunge") -> Saved:
    return sideline.take(care, someone(care, squad, label), care.knowledge.measures[measure], text)


# measuring


def test_people_stand_by_label_with_nothing_measured(care: Care, squad: Squad) -> None:
    found = rows(care, squad)
    assert list(found) == ["A.B.", "C.D.", "E.F."]
    assert found["A.B."] == BenchRow(found["A.B."].person, {}, {}, "", worse=False, looks=())


def test_two_figures_are_left_then_right_and_stand_with_the_person_alone(care: Care, squad: Squad) -> None:
    saved = take(care, squad, "10,2 9.8")
    assert saved.says == "saved lunge left 10.2, right 9.8 cm; left: 1 of 3 trials; right: 1 of 3 trials"
    assert [(one.side, one.value, one.episode) for one in saved.readings] == [
        (Side.LEFT, 10.2, None),
        (Side.RIGHT, 9.8, None),
    ]
    found = rows(care, squad)["A.B."]
    assert found.today == {Side.LEFT: "10.2", Side.RIGHT: "9.8"}
    assert found.says == "none before today"
    (visit,) = visits.visits_of_person(care.record, found.person.id)
    assert visit.kind is VisitKind.SIDELINE


def test_today_is_held_against_the_last_baseline_by_the_error_between_visits(
    care: Care, squad: Squad, clock: SetClock
) -> None:
    take(care, squad, "9 9")
    clock.move(30 * DAY_S)
    take(care, squad, "11.0 10.8")
    clock.move(60 * DAY_S)
    for text, says, worse in (
        ("10.9 9.0", "within error", False),  # 1.8: under the MDC of 1.9 cm
        ("10.9 8.9", "right -1.9 clear loss", True),
        ("8.0 10.8", "left -3.0 clear loss", True),
        ("13.0 10.8", "left +2.0 clear gain", False),
    ):
        saved = take(care, squad, text)
        found = rows(care, squad)["A.B."]
        assert (found.says, found.worse) == (says, worse)
        assert found.baseline == {Side.LEFT: "11.0", Side.RIGHT: "10.8"}
        sideline.take_back(care, saved)
    assert rows(care, squad)["A.B."].today == {}


def test_what_was_measured_of_a_hurt_ankle_is_no_baseline_the_next_day(
    care: Care, squad: Squad, clock: SetClock
) -> None:
    person = someone(care, squad)
    take(care, squad, "11 11")
    take(care, squad, "2", measure="pain_now")
    clock.move(30 * DAY_S)
    take(care, squad, "10.8 8.2")
    take(care, squad, "7", measure="pain_now")
    sideline.keep(care, person, Side.RIGHT, {"limp": True})
    clock.move(DAY_S)
    take(care, squad, "10.9 8.0")
    found = rows(care, squad)["A.B."]
    assert found.baseline == {Side.LEFT: "10.8", Side.RIGHT: "11.0"}
    assert (found.says, found.worse) == ("right -3.0 clear loss", True)
    assert rows(care, squad, "pain_now")["A.B."].baseline == {None: "2"}
    own, hurt = person_view(care, person.id).sections[-2:]
    assert (own.title, hurt.title) == ("own baseline, before any injury", "measured while hurt: no baseline")
    assert [one.says for one in own.statements if one.about == "lunge"] == ["left 10.9, right 11.0 cm"]
    assert [one.says for one in hurt.statements if one.about == "lunge"] == ["right 8.0 cm"]
    sideline.keep(care, person, Side.RIGHT, {sign.id: False for sign in care.knowledge.sideline.signs})
    clock.move(DAY_S)
    assert rows(care, squad)["A.B."].baseline == {Side.LEFT: "10.9", Side.RIGHT: "8.0"}


def test_of_two_losses_the_larger_is_said_and_a_lower_girth_is_no_loss(
    care: Care, squad: Squad, clock: SetClock
) -> None:
    take(care, squad, "11 10.8")
    take(care, squad, "50 50", measure="girth")
    clock.move(DAY_S)
    take(care, squad, "8.9 5.0")
    assert rows(care, squad)["A.B."].says == "right -5.8 clear loss"
    take(care, squad, "47 54", measure="girth")
    assert rows(care, squad, "girth")["A.B."].says == "right +4.0 clear loss"
    take(care, squad, "47 50", measure="girth")
    found = rows(care, squad, "girth")["A.B."]
    assert (found.says, found.worse) == ("left -3.0 clear gain", False)


def test_unable_is_said_and_no_figure_is_made_up(care: Care, squad: Squad, clock: SetClock) -> None:
    take(care, squad, "11 10")
    clock.move(DAY_S)
    take(care, squad, "right unable")
    found = rows(care, squad)["A.B."]
    assert found.today == {Side.RIGHT: "unable"}
    assert found.says.startswith("right ")
    assert "no change in figures" in found.says


def test_unable_is_told_before_a_loss_of_the_other_side(care: Care, squad: Squad, clock: SetClock) -> None:
    take(care, squad, "11 11")
    clock.move(DAY_S)
    take(care, squad, "unable 8")
    assert rows(care, squad)["A.B."].says.startswith("left ")


def test_what_is_taken_back_stays_in_the_file(care: Care, squad: Squad) -> None:
    saved = take(care, squad, "11 10")
    assert sideline.take_back(care, saved).startswith("took back: saved lunge")
    everything = readings.every_of_person(care.record, someone(care, squad).id)
    assert len(everything) == 2
    assert all(one.retracted is not None for one in everything)


@pytest.mark.parametrize("text", ["eleven", "11 10 9 8", "99 98", "11kg 10kg"])
def test_what_cannot_be_is_refused_and_nothing_is_kept(care: Care, squad: Squad, text: str) -> None:
    with pytest.raises(FAULTS):
        take(care, squad, text)
    assert visits.visits_of_person(care.record, someone(care, squad).id) == []


def test_an_odd_value_is_asked_about_and_kept_when_it_is_sure(care: Care, squad: Squad) -> None:
    person, lunge = someone(care, squad), care.knowledge.measures["lunge"]
    with pytest.raises(CareFault, match="Enter again keeps it"):
        sideline.take(care, person, lunge, "25 10")
    assert len(sideline.take(care, person, lunge, "25 10", sure=True).readings) == 2


def test_whose_ankle_is_in_care_is_measured_in_the_visit(care: Care, squad: Squad, clock: SetClock) -> None:
    person, episode = new_person(care, "G.H.", form=EpisodeForm(side=Side.LEFT))
    squads.add(care, squad, person)
    add_line(care, person, "lunge 4.0 10.0")
    clock.move(DAY_S)
    found = rows(care, squad)["G.H."]
    assert (found.baseline, found.today, found.says) == ({}, {}, "in care, left ankle")
    with pytest.raises(CareFault, match=r"the left ankle of G\.H\. is in care: measure it in the visit"):
        take(care, squad, "4.2 10.1", "G.H.")
    new_episode(care, person, EpisodeForm(side=Side.RIGHT))
    assert rows(care, squad)["G.H."].says == "in care: both ankles"
    assert episode is not None
    for one in episodes.episodes_of_person(care.record, person.id):
        close_episode(care, one)
    take(care, squad, "9.2 10.1", "G.H.")
    found = rows(care, squad)["G.H."]
    assert (found.baseline, found.says) == ({}, "none before today")


# looking

NO = ("not_awake", "cold_foot", "deformity", "open_wound", "tense_leg", "no_lift")


def test_a_look_is_kept_with_its_outcome_and_when_the_next_is_due(
    care: Care, squad: Squad, clock: SetClock
) -> None:
    person = someone(care, squad)
    kept = sideline.keep(care, person, Side.RIGHT, dict.fromkeys(NO, False))
    assert kept.outcome is BenchOutcome.RECHECK
    now = clock.now()
    assert looked.last_words([kept], now).startswith("re-check ")
    assert not looked.is_due(kept, now)
    clock.move(10 * 60)
    assert looked.is_due(kept, clock.now())
    found = rows(care, squad)
    assert found["A.B."].looks == (kept,)
    assert sideline.due_words(found.values(), clock.now()) == "look again now: A.B."
    again = sideline.keep(care, person, Side.RIGHT, dict.fromkeys(NO, False) | {"limp": True})
    assert again.outcome is BenchOutcome.REMOVE
    assert sideline.due_words(rows(care, squad).values(), clock.now()) == ""
    sideline.take_back_look(care, again)
    assert rows(care, squad)["A.B."].looks == (kept,)


def test_who_goes_to_others_has_no_next_look_of_ours(care: Care, squad: Squad, clock: SetClock) -> None:
    kept = sideline.keep(care, someone(care, squad), Side.LEFT, {"cold_foot": True})
    assert (kept.outcome, kept.due) == (BenchOutcome.EMERGENCY, None)
    assert looked.last_words([kept], clock.now()) == "emergency"


def test_a_look_wants_a_side_and_something_looked_at(care: Care, squad: Squad) -> None:
    person = someone(care, squad)
    with pytest.raises(CareFault, match="left or right ankle"):
        sideline.keep(care, person, None, {"limp": True})
    with pytest.raises(CareFault, match="nothing was looked at"):
        sideline.keep(care, person, Side.LEFT, {})


def cell(care: Care, squad: Squad, clock: SetClock) -> str:
    return looked.last_words(rows(care, squad)["A.B."].looks, clock.now())


@pytest.mark.parametrize(
    ("sign", "today", "tomorrow"),
    [
        ("cold_foot", "emergency", "12 Sep emerg."),
        ("bone_sore", "refer today", "12 Sep refer"),
        ("limp", "remove 14:10", "12 Sep remove"),
        ("", "re-check 14:10", "12 Sep again"),
    ],
)
def test_a_look_of_another_day_is_told_with_its_day_and_is_not_due(
    care: Care, squad: Squad, clock: SetClock, sign: str, today: str, tomorrow: str
) -> None:
    sideline.keep(care, someone(care, squad), Side.LEFT, {"swells": False} | ({sign: True} if sign else {}))
    assert cell(care, squad, clock) == today
    clock.move(DAY_S)
    assert cell(care, squad, clock) == tomorrow
    assert len(tomorrow) <= 14
    assert sideline.due_words(rows(care, squad).values(), clock.now()) == ""


def test_a_look_that_found_nothing_is_not_told_another_day(care: Care, squad: Squad, clock: SetClock) -> None:
    nothing = {sign.id: False for sign in care.knowledge.sideline.signs}
    sideline.keep(care, someone(care, squad), Side.LEFT, nothing)
    assert cell(care, squad, clock) == "no sign 14:10"
    clock.move(DAY_S)
    assert cell(care, squad, clock) == ""


def test_a_match_past_midnight_forgets_no_look(care: Care, squad: Squad, clock: SetClock) -> None:
    clock.move(9 * 3600 + 55 * 60)
    sideline.keep(care, someone(care, squad), Side.LEFT, {"limp": True})
    clock.move(10 * 60)
    assert cell(care, squad, clock) == "remove now"
    assert sideline.due_words(rows(care, squad).values(), clock.now()) == "look again now: A.B."


def test_the_graver_ankle_is_told_and_a_look_at_the_other_does_not_hide_it(
    care: Care, squad: Squad, clock: SetClock
) -> None:
    person = someone(care, squad)
    sideline.keep(care, person, Side.LEFT, {"cold_foot": True})
    clock.move(60)
    sideline.keep(care, person, Side.RIGHT, {"limp": True})
    assert cell(care, squad, clock) == "emergency"
    assert [one.side for one in rows(care, squad)["A.B."].looks] == [Side.LEFT, Side.RIGHT]
    clock.move(11 * 60)
    assert sideline.due_words(rows(care, squad).values(), clock.now()) == "look again now: A.B."


def test_a_clock_set_back_hides_no_later_look(care: Care, squad: Squad, clock: SetClock) -> None:
    person = someone(care, squad)
    sideline.keep(care, person, Side.LEFT, {"limp": False})
    clock.move(-3600)
    sideline.keep(care, person, Side.LEFT, {"cold_foot": True})
    assert cell(care, squad, clock) == "emergency"


def test_the_page_of_a_person_tells_the_last_look_of_each_ankle_first(
    care: Care, squad: Squad, clock: SetClock
) -> None:
    person = someone(care, squad)
    assert person_view(care, person.id).sections[0].title == "squads"
    sideline.keep(care, person, Side.RIGHT, {"limp": True})
    sideline.keep(care, person, Side.RIGHT, {"bone_sore": True, "limp": True})
    sideline.keep(care, person, Side.LEFT, {"not_awake": False})
    clock.move(30 * DAY_S)
    section = person_view(care, person.id).sections[0]
    assert section.title == "last look at the sideline"
    right, left = section.statements
    assert right.about == "right ankle"
    assert right.says.startswith("refer today (Bone sore: back edge")
    assert "Limp" not in right.says
    assert right.known == "12 Sep 2026 14:00, AB"
    assert (left.about, left.says) == ("left ankle", "re-check")


def test_the_reason_comes_first_then_what_is_done_then_what_is_not_known(care: Care) -> None:
    says = sideline.reasons(care, sideline.looked_at(care, {"bone_sore": True}))
    assert says[0].startswith("Bone sore")
    assert says[1].startswith("Off the field")
    assert says[2].startswith("Not looked at: Not fully awake")
    assert says[2].endswith("; and 15 more")
    two = sideline.reasons(care, sideline.looked_at(care, {"cold_foot": True, "deformity": True, "limp": True}))
    assert two[0] == "Foot cold or pale, or no pulse in it; and 1 more"
    clear = sideline.looked_at(care, {sign.id: False for sign in care.knowledge.sideline.signs})
    assert sideline.outcome_word(clear.outcome) == "YOUR DECISION"
    assert sideline.reasons(care, clear)[0] == "No stop sign found"


def test_the_young_are_named_and_an_unknown_age_is_said(care: Care, squad: Squad) -> None:
    assert "growth plates" in sideline.warns(care, someone(care, squad, "C.D."))
    assert sideline.warns(care, someone(care, squad, "A.B.")) == ""
    assert sideline.warns(care, someone(care, squad, "E.F.")) == "age not known"
