"""Figures stand where they belong in a sentence, grades before their figure, and no age is below nought."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pytest

from store.care.ahead_words import criterion_text, line_text
from store.care.compared import gap_text
from store.care.dates import age_words
from store.care.foreseeing import foresee
from store.care.in_words import readings_text, size_with_unit, with_unit
from store.care.known import advice
from store.care.people import EpisodeForm, new_person
from store.care.shown import measure_text
from store.care.stages import stage_standing
from store.care.standing import standing
from store.care.visits import start_visit
from store.knowledge.criteria import Stage
from store.knowledge.load import load
from store.knowledge.words import Side
from tests.screens.made import opened, orienteer, take

KNOWN = load()


@pytest.mark.parametrize("stage", list(Stage))
def test_the_figure_of_an_advice_stands_in_its_sentence_with_mark_and_source(stage: Stage) -> None:
    wanted = KNOWN.criteria[stage]
    for one, words in zip(wanted.advice, advice(KNOWN, wanted), strict=True):
        assert re.search(rf"(?<![\d.]){re.escape(f'{one.figure.value:g}')}(?![\d.])", words.partition(" (")[0])
        assert not re.search(r": [\d.]+ \(", words)
        assert f"({one.figure.mark}; {KNOWN.sources[one.figure.source].text})" in words


def test_a_healing_ligament_reads_as_a_sentence() -> None:
    first, second = advice(KNOWN, KNOWN.criteria[Stage.JOG])
    assert first.startswith("ligaments are still healing for at least 6 weeks, some for 12 and longer (read; ")
    assert second.startswith("of athletes cleared after about 8 days 65.1 % still had pain (read; ")


def test_a_grade_stands_before_its_figure_and_a_difference_of_grades_after_it() -> None:
    pitting = KNOWN.measures["pitting"]
    assert with_unit("2", pitting) == "grade 2"
    assert [size_with_unit(size, pitting) for size in ("1", "-1", "2", "+2")] == [
        "1 grade", "-1 grade", "2 grades", "+2 grades",
    ]  # fmt: skip
    assert size_with_unit("1.4", KNOWN.measures["lunge"]) == "1.4 cm"


def test_show_tells_grades_so(tmp_path: Path) -> None:
    care, _ = opened(tmp_path)
    _, episode = new_person(care, "N.R.", "", EpisodeForm(Side.RIGHT))
    assert episode is not None
    take(care, start_visit(care, episode, planned=False), "pitting 0 2")
    one = standing(care, episode.id).of("pitting")
    assert "left grade 0, right grade 2" in measure_text(one)
    assert gap_text(one).startswith("2 grades higher")
    found = [reading for side in one.measure.sides if (reading := one.of(side)) is not None]
    assert readings_text(found, one.measure) == "pitting left grade 0, right grade 2"
    care.close()


def test_what_is_dated_ahead_is_not_minus_so_many_days_old(tmp_path: Path) -> None:
    assert [age_words(days) for days in (0, 1, 4, -1, -4)] == [
        "today", "1 day ago", "4 days ago", "dated 1 day ahead", "dated 4 days ahead",
    ]  # fmt: skip
    care, clock = opened(tmp_path)
    episode = orienteer(care, clock)
    clock.put(clock.now().local - timedelta(days=9))
    held = standing(care, episode.id)
    told = [line_text(each, held.of("lunge").measure, held.on) for each in foresee(care, held, "lunge").lines]
    told += [
        criterion_text(one, held.of(one.criterion.measure).measure, held.on)
        for one in stage_standing(care, held, Stage.JOG).criteria
    ]
    assert any("dated " in each for each in told)
    assert not [each for each in told if re.search(r"-\d+ days? ago", each)]
    care.close()
