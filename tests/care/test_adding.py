"""A line from a shell: what kind it is, whom it means, and that nothing is left behind by one that fails."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.care.adding import add_line, doubts, says_much
from store.care.care import Care, kept_examiner, name_examiner
from store.care.faults import CareFault, EntryError
from store.care.finding import find_person, open_episode, shown_episodes
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.care.visits import end_visit, start_visit
from store.knowledge.words import Person, Side
from store.record import readings, visits
from tests.screens.made import opened


@pytest.fixture
def care(tmp_path: Path) -> Care:
    return opened(tmp_path)[0]


@pytest.fixture
def person(care: Care) -> Person:
    return new_person(care, "R.K.", "1995", EpisodeForm(Side.RIGHT))[0]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("pain 3", True),
        ("pain 3 worst 5 home 5/7", True),
        ("home 5/7 after", True),  # no measure is called home: its own grammar names the fault
        ("gaveway 1", True),
        ("pain 3 after", False),
        ("PAIN 3 Before", False),
        ('pain 3 note "x"', False),
        ("worst 3 half-dome", False),
        ("confidence 7 tape", False),
        ("pain_now 3", False),
        ("lunge 10 5", False),
        ("", False),
    ],
)
def test_which_lines_are_of_what_the_person_says(care: Care, line: str, said: bool) -> None:
    assert says_much(care, line) is said


def test_a_line_that_cannot_be_read_leaves_no_visit_behind(care: Care, person: Person) -> None:
    for line in ("lunge ten", "pain 3 wrost 4", "home 5/7 after"):
        with pytest.raises(EntryError):
            add_line(care, person, line)
    assert visits.visits_of_person(care.record, person.id) == []


def test_a_fault_while_keeping_takes_the_new_visit_back(
    care: Care, person: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise CareFault("no")

    monkeypatch.setattr("store.care.adding.save", refused)
    with pytest.raises(CareFault):
        add_line(care, person, "lunge 10 5")
    assert visits.visits_of_person(care.record, person.id) == []


def test_what_is_told_is_what_was_saved_now(care: Care, person: Person) -> None:
    assert add_line(care, person, "pain 2") == "saved pain 2"
    assert add_line(care, person, " worst  4 ") == "saved worst 4"


def test_a_retest_that_is_all_in_is_not_said_to_be_awaited(care: Care, person: Person) -> None:
    episode = open_episode(care, person)
    assert episode is not None
    start_visit(care, episode)
    before = add_line(care, person, "lunge l 10 10 10 r 5 5 5")
    assert before == "saved lunge left and right, hidden until the re-test is in"
    after = add_line(care, person, "lunge l 10 10 10 r 7.5 7.5 7.5")
    assert after == "saved lunge left 10.0, right 7.5 cm: right +2.5, clear gain"


def test_a_doubt_keeps_nothing(care: Care, person: Person) -> None:
    assert len(doubts(care, person, "lunge 25 24")) == 2
    assert doubts(care, person, "home 9/7") == ("home 9/7: more done than planned. Is it right?",)
    assert doubts(care, person, "lunge 10 5") == ()
    assert readings.readings_of_person(care.record, person.id) == []


def test_the_open_episode_is_meant_and_else_the_last(care: Care, person: Person) -> None:
    first = open_episode(care, person)
    assert first is not None
    left = new_episode(care, person, EpisodeForm(Side.LEFT))
    assert [one.side for one in shown_episodes(care, person)] == [Side.RIGHT, Side.LEFT]
    close_episode(care, care.episode(first.id))
    assert open_episode(care, person) == care.episode(left.id)
    close_episode(care, care.episode(left.id))
    assert open_episode(care, person) is None
    assert [one.side for one in shown_episodes(care, person)] == [Side.LEFT]


def test_an_episode_is_closed_once_and_not_in_the_middle_of_a_visit(care: Care, person: Person) -> None:
    add_line(care, person, "lunge 10 5")
    episode = open_episode(care, person)
    assert episode is not None
    with pytest.raises(CareFault, match="a visit of this episode is still open: end it first"):
        close_episode(care, episode)
    (visit,) = visits.visits_of_person(care.record, person.id)
    end_visit(care, visit)
    closed = close_episode(care, episode)
    with pytest.raises(CareFault, match="closed already"):
        close_episode(care, closed)


def test_nobody_and_everybody_are_no_person(care: Care, person: Person) -> None:
    assert find_person(care, "R.K.") == find_person(care, person.id[:12]) == person
    for typed in ("", " ", "\x00", "\udc80"):
        with pytest.raises(CareFault, match="name a person by their label"):
            find_person(care, typed)
    with pytest.raises(CareFault, match=r"no person has the label x{24}…, and no id starts so"):
        find_person(care, "x" * 10_000)


def test_more_people_than_can_be_listed_are_said_to_be_more(care: Care) -> None:
    for _ in range(25):
        new_person(care, "squad")
    with pytest.raises(CareFault) as caught:
        find_person(care, "squad")
    assert str(caught.value).startswith("more than 20 people answer to squad")
    assert str(caught.value).count("\n") == 20


def test_the_examiner_named_last_is_kept(care: Care) -> None:
    assert kept_examiner(care) == ""
    for name, kept in (("AB", "AB"), ("  C   D ", "C D"), ("AB", "AB"), ("AB", "AB")):
        name_examiner(care, name)
        assert (kept_examiner(care), care.examiner) == (kept, kept)
    for wrong in ("", "  ", "x" * 41, "a\x1bb"):
        with pytest.raises(CareFault, match="type the examiner's initials or name"):
            name_examiner(care, wrong)
