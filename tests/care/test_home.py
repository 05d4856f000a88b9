"""The home programme: made, carried over with one change, handed out and taken back."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from store.care import home, visits
from store.care.appointments import plan
from store.care.faults import CareFault
from store.care.home_items import change_words, changed, choices, item_says, parts
from store.knowledge.home_item import as_data
from store.knowledge.load import load
from store.knowledge.words import BoutKind, Side
from store.record import amendments, episodes, programmes
from tests.care.home_made import AtHome, at_home


@pytest.fixture
def ward(tmp_path: Path) -> AtHome:
    return at_home(tmp_path)


def test_an_item_has_the_dose_side_and_words_of_its_activity(ward: AtHome) -> None:
    band, hold, two = ward.item("band_mobilisation"), ward.item("hold_firm"), ward.item("heel_raises_two")
    assert item_says(band) == "2 x 10, right, once a day"
    assert "behind you" in band.words.steps[0]
    assert item_says(hold) == "3 x 30 s, left and right, once a day, 6 days a week"
    assert item_says(two) == "3 x 12, once a day, 4 days a week"
    assert item_says(ward.item("walk_run")) == "5 x walk 4 run 1 min, once a day, 3 days a week"
    assert item_says(ward.item("reaches")) == "2 x 5 each way, left and right, once a day, 5 days a week"
    assert item_says(ward.item("elevation")) == "15 min, right, 3 times a day"


def test_each_activity_for_home_is_kept_and_read_back(ward: AtHome) -> None:
    ids = sorted(load().home.words)
    made = ward.hand_out(*ids)
    again = home.items_of(programmes.PROGRAMME.get(ward.now.care.record, made.id) or made)
    assert [item.activity for item in again] == ids
    assert [as_data(item) for item in again] == list(made.items)
    assert all(part.says for item in again for part in parts(item))


def test_what_needs_a_hand_or_is_a_test_is_not_done_at_home(ward: AtHome) -> None:
    for activity in ("mobilisation_belt", "heel_raise_test", "direction_shifts"):
        with pytest.raises(CareFault, match="not done at home"):
            ward.item(activity)


def test_what_was_given_and_done_stands_first_to_choose(ward: AtHome) -> None:
    ward.hand_out("heel_raises")
    found = choices(ward.now.care, ward.now.episode, ward.now.visit, home.carried_over(ward.now.care, ward.held))
    assert (found[0].activity.id, found[0].group) == ("heel_raises", "given last time")
    assert len({one.activity.id for one in found}) == len(found)
    assert not any(one.activity.hands_on or one.activity.measure for one in found)
    assert {one.group for one in found} >= {"first days", "mobility", "after discharge"}


def test_a_programme_is_handed_out_in_its_visit_and_is_in_force(ward: AtHome) -> None:
    made = ward.hand_out()
    held = ward.held
    assert held.in_force is not None
    assert held.in_force.programme == made
    assert (made.visit, made.examiner, made.words) == (ward.now.visit_id, "AB", "first programme")
    assert home.programme_lines(held.in_force)[0] == "self-mobilisation, band: 2 x 10, right, once a day"
    assert held.of_visit(ward.now.visit_id) == held.in_force


def test_it_is_carried_over_with_one_change_on_top(ward: AtHome) -> None:
    ward.hand_out()
    ward.days_later(7)
    band, hold, raises = home.carried_over(ward.now.care, ward.held)
    raises = changed(raises, "sets", 1)
    made = home.issue(ward.now.care, ward.held, [band, hold, raises], ward.held.on, ward.now.visit)
    assert made.words == "carried over from 25 Nov; heel raises 4 sets instead of 3 sets"
    assert len(ward.held.handed) == 2
    unchanged = home.carried_over(ward.now.care, ward.held)
    assert home.origin_words(ward.held, unchanged) == "carried over from 2 Dec, unchanged"


def test_changes_are_told_item_by_item(ward: AtHome) -> None:
    band, hold, raises = (ward.item(each) for each in ("band_mobilisation", "hold_firm", "heel_raises"))
    other = band._replace(sides=(Side.LEFT,), a_day=2)
    assert change_words([band, hold], [other, raises]) == (
        "heel raises added, 3 x 12, right, once a day, 4 days a week; "
        "self-mobilisation, band left instead of right, twice a day instead of once a day; single-leg hold dropped"
    )
    assert change_words([band], [band]) == ""


@pytest.mark.parametrize(
    ("activity", "part", "by", "says"),
    [
        ("heel_raises", "reps", 1, "3 x 13, right"),
        ("heel_raises", "reps", -1, "3 x 11, right"),
        ("hold_firm", "hold_s", 1, "3 x 35 s"),
        ("elevation", "hold_s", -1, "870 s"),
        ("heel_raises", "sides", 1, "3 x 12, left and right"),
        ("heel_raises", "a_day", 1, "twice a day"),
        ("heel_raises", "days_a_week", -1, "3 days a week"),
        ("band_mobilisation", "days_a_week", 1, "2 x 10, right, once a day"),  # a week has seven
        ("band_mobilisation", "a_day", -1, "once a day"),
    ],
)
def test_a_key_changes_a_part_of_the_dose(ward: AtHome, activity: str, part: str, by: int, says: str) -> None:
    assert says in item_says(changed(ward.item(activity), part, by))


def test_the_keys_stop_at_what_is_sensible(ward: AtHome) -> None:
    item = ward.item("heel_raises")
    for part in ("sets", "reps", "a_day", "days_a_week"):
        low = high = item
        for _ in range(150):
            low, high = changed(low, part, -1), changed(high, part, 1)
        assert getattr(low, part) == 1
        assert getattr(high, part) == {"sets": 20, "reps": 100, "a_day": 6, "days_a_week": 7}[part]


def test_a_gentle_word_from_five_on_and_none_before(ward: AtHome) -> None:
    items = [ward.item(each) for each in ("band_mobilisation", "hold_firm", "heel_raises", "reaches", "step_down")]
    assert home.too_many(ward.now.care, items[:4]) == ""
    says = home.too_many(ward.now.care, items)
    assert says.startswith("5 exercises: more than the usual 4 (common practice).")
    assert "done better" in says
    assert "how often they were done was no different" in says
    ward.hand_out(*(item.activity for item in items))  # a word, and no bar


def test_the_review_is_at_the_next_visit_planned_or_in_two_weeks(ward: AtHome) -> None:
    assert home.review_day(ward.now.care, ward.held) == date(2026, 12, 9)
    plan(ward.now.care, ward.held.person, "thu 10:40")
    assert home.review_day(ward.now.care, ward.held) == date(2026, 11, 26)


def test_undo_takes_the_last_one_back_and_the_one_before_is_in_force(ward: AtHome) -> None:
    first = ward.hand_out()
    ward.days_later(7)
    second = ward.hand_out("hold_firm")
    assert "took back" in home.take_back(ward.now.care, second)
    assert ward.held.in_force is not None
    assert ward.held.in_force.programme == first
    kept = programmes.PROGRAMME.get(ward.now.care.record, second.id)
    assert kept is not None
    assert kept.retracted is not None  # it stays in the file
    assert amendments.amendments_of(ward.now.care.record, "programme", second.id)


def test_what_cannot_be_handed_out_says_why(ward: AtHome) -> None:
    item, held = ward.item("hold_firm"), ward.held
    with pytest.raises(CareFault, match="add something first"):
        home.issue(ward.now.care, held, [], held.on, ward.now.visit)
    with pytest.raises(CareFault, match="days ahead"):
        home.issue(ward.now.care, held, [item], held.on - timedelta(days=1), ward.now.visit)
    visit = visits.end_visit(ward.now.care, ward.now.visit)
    with pytest.raises(CareFault, match="has ended"):
        home.issue(ward.now.care, held, [item], held.on, visit)
    closed = ward.now.episode._replace(closed=ward.now.clock.now())
    episodes.revise_episode(ward.now.care.record, closed, by="AB", because="discharged")
    with pytest.raises(CareFault, match="open it again"):
        home.issue(ward.now.care, ward.held, [item], held.on)
    assert not ward.held.handed


def test_days_count_to_the_end_of_what_follows_a_discharge_and_no_further(ward: AtHome) -> None:
    """Eight weeks of balance work follow, and nothing is asked for after them."""
    ward.hand_out("hold_firm")
    ward.days_later(7)
    care = ward.now.care
    closed = care.episode(ward.now.episode.id)._replace(closed=care.clock.now())
    episodes.revise_episode(care.record, closed, by="AB", because="discharged")

    def counted() -> int:
        now = ward.held.in_force
        assert now is not None
        return now.kept_to.days

    assert counted() == 7
    ward.now.clock.move(56 * 86_400)
    assert counted() == 63
    assert ward.held.planned_week.holds
    ward.now.clock.move(10 * 86_400)
    assert counted() == 64  # with the day itself
    assert not ward.held.planned_week.holds


def test_what_a_person_puts_in_force_is_minded(ward: AtHome) -> None:
    thin = ward.now.episode._replace(anticoagulant=True)
    episodes.revise_episode(ward.now.care.record, thin, by="AB", because="asked")
    found = home.minded(ward.now.care, ward.held, [ward.item("band_mobilisation"), ward.item("hold_firm")])
    assert [one.id for one in found] == ["anticoagulants"]


def test_a_programme_that_cannot_be_read_says_so(ward: AtHome) -> None:
    made = ward.hand_out()
    programmes.PROGRAMME.revise(ward.now.care.record, made._replace(items=({"sets": 3},)), by="AB", because="slip")
    with pytest.raises(CareFault, match="home programme of 25 Nov 2026"):
        _ = ward.held


def test_old_words_stand_in_an_old_programme_and_todays_in_what_is_carried_over(ward: AtHome) -> None:
    made = ward.hand_out("hold_firm")
    told = dict(made.items[0]) | {"words": {"name": "old words", "steps": ["As it was."]}}
    programmes.PROGRAMME.revise(ward.now.care.record, made._replace(items=(told,)), by="AB", because="older copy")
    held = ward.held
    assert held.in_force is not None
    assert held.in_force.items[0].words.name == "old words"
    assert home.carried_over(ward.now.care, held)[0].words.name == "stand on one leg"
    assert held.in_force.items[0].kind is BoutKind.HOLD_FIXED
