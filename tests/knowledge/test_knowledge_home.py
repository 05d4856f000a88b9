"""What is done at home in plain words: an activity each, how often, and every figure with its mark."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.knowledge.fields import KnowledgeError
from store.knowledge.home import HomeWords
from store.knowledge.load import load
from store.knowledge.words import Mark
from store.reckon import reading_grade
from tests.knowledge.small_tables import write_tables

KNOWN = load()
WORDS = tuple(KNOWN.home.words.values())


@pytest.mark.parametrize("words", WORDS, ids=lambda one: one.id)
def test_what_is_done_at_home_needs_no_clinicians_hand_and_is_no_test(words: HomeWords) -> None:
    activity = KNOWN.activities[words.id]
    assert not activity.hands_on
    assert not activity.measure


@pytest.mark.parametrize("words", WORDS, ids=lambda one: one.id)
def test_what_pulls_says_which_way_and_is_padded(words: HomeWords) -> None:
    activity = KNOWN.activities[words.id]
    assert bool(activity.anchor) == bool(words.pull)
    if "mobilisation" in words.id:
        assert any("towel under the" in care for care in words.care)
    if "firm_anchor" in activity.cautions and words.id != "band_plantarflexion":  # held in the hands
        assert any("can not move" in care for care in words.care)


def test_the_two_ways_to_mobilise_alone_pull_opposite_ways() -> None:
    band, strap = KNOWN.home.words["band_mobilisation"], KNOWN.home.words["strap_mobilisation"]
    assert "BACK" in band.pull
    assert "behind you" in band.steps[0]
    assert "FRONT" in strap.pull
    assert "in front of you" in strap.steps[0]


@pytest.mark.parametrize("words", WORDS, ids=lambda one: one.id)
def test_the_words_are_easy_to_read(words: HomeWords) -> None:
    texts = (words.name, *words.steps, words.pull, *words.care, words.easier, words.harder)
    assert reading_grade.reading_of(texts).grade <= KNOWN.home.grade.value


def test_the_figures_say_where_they_come_from() -> None:
    home = KNOWN.home
    assert home.most_items.value == 4
    assert home.most_items.mark is Mark.COMMON
    assert (home.fewer.mark, home.fewer.source) == (Mark.READ, "henry_1999")
    assert "no different" in home.fewer.says  # how often it was done did not differ
    assert (home.tail_weeks.value, home.tail_weeks.mark) == (8, Mark.READ)
    assert [line.figure.value for line in home.recall] == [3, 6, 12]
    formula = [line.figure.value for line in home.formula]
    assert formula == [reading_grade.WORDS_WEIGHT, reading_grade.SYLLABLES_WEIGHT, reading_grade.BASE]


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("picture = 'one_leg'", "picture = 'a_horse'", "unknown 'a_horse'"),
        ("a_day = 1", "a_day = 0", "times a day"),
        ("days_a_week = 7", "days_a_week = 8", "days a week"),
        ("steps = ['Move your foot in and out.']", "steps = []", "missing"),
        ("emergency = 'Call for help.'", "", "missing"),
    ],
)
def test_a_table_that_cannot_be_used_says_why(tmp_path: Path, was: str, now: str, says: str) -> None:
    known = load(write_tables(tmp_path, "home.toml", was, now))
    with pytest.raises(KnowledgeError, match=says):
        tuple(known.home.words)


def test_words_of_what_is_no_activity_are_refused(tmp_path: Path) -> None:
    known = load(write_tables(tmp_path, "home.toml", "[shifts]", "[nothing]"))
    with pytest.raises(KnowledgeError, match="'nothing' is not in"):
        known.check()
