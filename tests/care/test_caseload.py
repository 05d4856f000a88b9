"""The caseload: its order, its weeks, its widest gaps, and what may not be told of them."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.care.adding import add_line
from store.care.care import Care
from store.care.caseload import caseload, count, everybody, widest_gap, with_widest
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.knowledge.time import SetClock
from store.knowledge.words import Side
from tests.screens.made import opened


@pytest.fixture
def made(tmp_path: Path) -> tuple[Care, SetClock]:
    return opened(tmp_path)


def added(care: Care, label: str, *lines: str, days: int = 9, side: Side = Side.RIGHT) -> str:
    """A person with an episode and a line or more; the episode's id."""
    injured_on = care.clock.now().on - timedelta(days=days)
    person, episode = new_person(care, label, form=EpisodeForm(side, injured_on=injured_on))
    assert episode is not None
    for line in lines:
        add_line(care, person, line)
    return episode.id


def test_open_episodes_by_label_then_the_closed_then_who_has_none(made: tuple[Care, SetClock]) -> None:
    care, clock = made
    added(care, "b")
    first, second = added(care, "z"), added(care, "y")
    added(care, "A")
    new_person(care, "nobody's ankle")
    for episode in (first, second):
        clock.move(60)
        close_episode(care, care.episode(episode))
    rows = everybody(care)
    assert [row.label for row in rows] == ["A", "b", "y", "z", "nobody's ankle"]
    assert [row.is_open for row in rows] == [True, True, False, False, False]


def test_weeks_count_from_one_and_stop_with_the_episode(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    for label, days in (("a", 0), ("b", 6), ("c", 7), ("d", 27)):
        added(care, label, days=days)
    new_person(care, "e", form=EpisodeForm(Side.LEFT))
    assert [row.week for row in caseload(care)] == [1, 1, 2, 4, None]
    close_episode(care, care.episode(added(care, "f", days=27)))
    (closed,) = caseload(care, closed=True)
    assert (closed.week, closed.closed_on) == (None, care.clock.now().on)


def test_who_was_seen_today_is_counted_once(made: tuple[Care, SetClock]) -> None:
    care, clock = made
    added(care, "a", "lunge 10 5", "girth 50 51")
    assert (count(care).open, count(care).seen_today) == (1, 1)
    clock.move(24 * 3600)
    assert count(care).seen_today == 0


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ((), "not measured"),
        (("lunge left 10",), "one side only"),
        (("stance 40 12",), "error unknown"),
        (("lunge 10 8",), "none beyond error"),
        (("lunge 10 11.5",), "none beyond error"),
        (("lunge 10 4.6", "girth 50 51"), "lunge, 5.4 short"),
        (("lunge 10 7", "girth 50 52.5"), "girth, 2.5 larger"),
        (("lunge left 10 right unable",), "lunge, unable"),
        (("lunge left 10 right unable", "girth 50 50"), "lunge, unable"),
        (("lunge left unable right 10",), "no gap in figures"),
        (("stance cap cap",), "no gap in figures"),
        (("pain 3 after",), "not measured"),
    ],
)
def test_the_widest_gap_is_the_largest_in_multiples_of_its_own_error(
    made: tuple[Care, SetClock], lines: tuple[str, ...], words: str
) -> None:
    care, _ = made
    assert widest_gap(care, added(care, "a", *lines)) == words


def test_two_injured_ankles_have_no_gap(made: tuple[Care, SetClock]) -> None:
    care, _ = made
    episode = added(care, "a", "lunge 10 5")
    person = care.person(care.episode(episode).person)
    new_episode(care, person, EpisodeForm(Side.LEFT))
    assert widest_gap(care, episode) == "both injured"


def test_only_open_episodes_are_worked_out(made: tuple[Care, SetClock], monkeypatch: pytest.MonkeyPatch) -> None:
    care, _ = made
    added(care, "a", "lunge 10 4")
    close_episode(care, care.episode(added(care, "b")))
    new_person(care, "c")
    asked: list[str] = []

    def wide(_: Care, episode: str) -> str:
        asked.append(episode)
        return "wide"

    monkeypatch.setattr("store.care.caseload.widest_gap", wide)
    assert [row.widest_words for row in with_widest(care, everybody(care))] == ["wide", "", ""]
    assert len(asked) == 1
