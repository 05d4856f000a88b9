"""Squads, and people without an episode."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.care.adding import add_line
from store.care.bare_person import person_view, start_visit
from store.care.care import Care
from store.care.caseload import more_rows, without_episode
from store.care.faults import CareFault
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.care.squads import (
    add,
    add_new,
    every_squad,
    make,
    others,
    people_of,
    remove,
    squad,
    squads_of,
    take_back,
)
from store.knowledge.words import Side
from tests.screens.made import opened, take


@pytest.fixture
def care(tmp_path: Path) -> Care:
    return opened(tmp_path)[0]


def labels(care: Care, squad_id: str, find: str = "") -> list[str]:
    return [row.label for row in people_of(care, squad_id, find)]


def test_a_squad_is_made_filled_and_thinned_out(care: Care) -> None:
    hockey = make(care, "  hockey  first team ")
    assert hockey.name == "hockey first team"
    injured, episode = new_person(care, "A.O.", form=EpisodeForm(Side.LEFT))
    assert episode is not None
    add(care, hockey, injured)
    add_new(care, hockey, "B.B.")
    assert labels(care, hockey.id) == ["A.O.", "B.B."]
    assert [row.episode for row in people_of(care, hockey.id)] == [episode.id, None]
    (row,) = every_squad(care, "HOCK")
    assert (row.squad.name, row.says) == ("hockey first team", "2 people: A.O., B.B.")
    assert every_squad(care, "fencing") == ()
    assert [one.name for one in squads_of(care, injured.id)] == ["hockey first team"]
    gone = remove(care, hockey, injured)
    assert gone.says == "A.O. no longer belongs to hockey first team"
    assert labels(care, hockey.id) == ["B.B."]
    assert take_back(care, gone) == f"took back: {gone.says}"
    assert labels(care, hockey.id, "a.") == ["A.O."]


def test_what_was_added_can_be_taken_back(care: Care) -> None:
    hockey = make(care, "hockey")
    joined = add_new(care, hockey, "B.B.")
    take_back(care, joined)
    assert labels(care, hockey.id) == []
    assert [row.label for row in without_episode(care)] == ["B.B."]  # the person stays


def test_what_cannot_be_says_why(care: Care) -> None:
    hockey = make(care, "hockey")
    with pytest.raises(CareFault, match="already"):
        make(care, "hockey")
    with pytest.raises(CareFault, match="type the name"):
        make(care, "  ")
    with pytest.raises(CareFault, match="at most 40"):
        make(care, "x" * 41)
    add_new(care, hockey, "B.B.")
    person = care.person(people_of(care, hockey.id)[0].person)
    with pytest.raises(CareFault, match="belongs to hockey already"):
        add(care, hockey, person)
    remove(care, hockey, person)
    with pytest.raises(CareFault, match="does not belong"):
        remove(care, hockey, person)
    with pytest.raises(CareFault, match="short label"):
        add_new(care, hockey, " ")
    with pytest.raises(CareFault, match="no longer in the record"):
        squad(care, "nothing")


def test_others_are_offered_only_once_something_is_typed(care: Care) -> None:
    hockey = make(care, "hockey")
    add_new(care, hockey, "B.B.")
    new_person(care, "B.C.")
    assert others(care, hockey.id, "") == ()
    assert [row.label for row in others(care, hockey.id, "b")] == ["B.C."]


def test_people_without_an_episode_come_last_page_by_page(care: Care) -> None:
    for label in ("d", "c"):
        new_person(care, label)
    for label in ("a", "b"):
        new_person(care, label, form=EpisodeForm(Side.LEFT))
    _, done = new_person(care, "z", form=EpisodeForm(Side.LEFT))
    assert done is not None
    close_episode(care, done)
    found = more_rows(care, (), 2, closed_too=True)
    while more := more_rows(care, found, 2, closed_too=True):
        found = (*found, *more)
    assert [row.label for row in found] == ["a", "b", "z", "c", "d"]
    assert [row.label for row in more_rows(care, (), 9)] == ["a", "b"]
    assert [row.label for row in more_rows(care, (), 9, "D", closed_too=True)] == ["d"]


def test_the_page_of_a_person_tells_squads_episodes_and_the_baseline(care: Care) -> None:
    hockey = make(care, "hockey")
    add_new(care, hockey, "B.B.", "2010")
    person = care.person(people_of(care, hockey.id)[0].person)
    assert person_view(care, person.id).visit is None
    visit = start_visit(care, person)
    assert start_visit(care, person).id == visit.id
    take(care, visit, "lunge l 10.1 10.2 10.3 r 9 9 9")
    add_line(care, person, "lunge 10.5 9.5")
    shown = person_view(care, person.id)
    assert shown.visit is not None
    assert shown.visit.id == visit.id
    assert (shown.age, shown.last_episode) == (15, None)
    told = {section.title: section.statements for section in shown.sections}
    assert told["squads"][0].says == "hockey"
    assert "none" in told["episodes"][0].says
    (lunge,) = told["own baseline, before any injury"]
    assert (lunge.about, lunge.says, lunge.known) == ("lunge", "left 10.5, right 9.5 cm", "25 Nov 2026")
    episode = new_episode(care, person, EpisodeForm(Side.RIGHT))
    assert person_view(care, person.id).last_episode == episode
