from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from store.care import visits
from store.care.care import Care
from store.care.faults import CareFault
from store.care.origin import Origin, origin
from store.care.undoing import undo
from store.knowledge.words import Episode, Mark, Reading, Side
from store.record import readings
from tests.screens.made import opened, orienteer, take, ward


def words_of(page: Origin) -> str:
    sections = (*page.of_person, *page.of_measure)
    return "\n".join(
        f"{one.about} | {one.says} | {one.known}" for section in sections for one in section.statements
    )


def about(page: Origin, word: str) -> list[str]:
    sections = (*page.of_person, *page.of_measure)
    return [one.says for section in sections for one in section.statements if one.about == word]


@pytest.fixture
def begun(tmp_path: Path) -> tuple[Care, Episode]:
    care, clock = opened(tmp_path)
    return care, orienteer(care, clock)


def lunge_of(care: Care, episode: Episode, side: Side) -> Reading:
    kept = [one for one in readings.readings_of_person(care.record, episode.person, "lunge") if one.side is side]
    return kept[-1]


def test_a_value_names_its_trials_day_and_examiner(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    (right,) = about(origin(care, episode.id, "lunge"), "right")
    assert right == "4.8 cm, mean of 4.9 4.8 4.7; 23 Nov 2026 10:01, 2 days ago; examiner AB"


def test_the_gap_is_a_word_and_its_rule_is_named(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    page = origin(care, episode.id, "lunge")
    assert about(page, "gap") == ["5.4 short; 4.8 - 10.2: the right less its reference, the uninjured side"]
    assert about(page, "its size") == ["2.0 times the MDC of a gap, 2.7 cm; the caseload goes by this"]


def test_a_gap_in_favour_of_the_injured_side_is_told_in_words(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    visit = visits.start_visit(care, episode, planned=False)
    take(care, visit, "lunge l 10 10 10 r 10.5 10.5 10.5")
    assert about(origin(care, episode.id, "lunge"), "its size") == [
        "0.2 times the MDC of a gap, 2.7 cm, in favour of the injured side; the caseload goes by what is worse"
    ]


def test_the_lsi_of_a_count_is_given_with_its_direction(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    assert about(origin(care, episode.id, "heel_raise"), "LSI") == ["29 %; injured / uninjured x 100"]
    for without in ("girth", "lunge", "pain_now"):
        assert about(origin(care, episode.id, without), "LSI") == []


def test_each_change_shows_both_values_the_error_and_the_verdict(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    page = origin(care, episode.id, "lunge")
    assert about(page, "since last visit") == [
        "4.1, then 4.8: +0.7, within measurement error; MDC 1.9 cm between visits"
    ]
    assert about(page, "since the first") == ["2.7, then 4.8: +2.1, clear gain; MDC 1.9 cm between visits"]


def test_every_figure_of_the_error_has_mark_and_source(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    page = origin(care, episode.id, "lunge")
    error = next(section for section in page.of_measure if section.title == "measurement error")
    known = [one.known for one in error.statements if "MDC" in one.says and one.about != "rule"]
    assert known
    assert all(any(mark in one for mark in Mark) for one in known)
    assert "0.69 derived: MDC 1.9 / 2.77; Powden and others 2015" in words_of(page)


def test_the_honest_sentences_are_there(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    main, secondary = (words_of(origin(care, episode.id, name)) for name in ("lunge", "girth"))
    assert "lunge is the one main measure of this episode; the others are secondary" in main
    assert "girth is secondary here: the one main measure of this episode is lunge" in secondary
    for words in (main, secondary):
        assert "six verdicts at 95 % are not six proofs" in words
        assert "no clean yardstick after a sprain" in words
        assert "does not replace, a licensed clinician's judgement" in words
    assert "the value plus and minus 1.4 cm, which is 1.96 x SEM between visits" in main


def test_the_chance_in_the_sentence_on_six_verdicts_is_right() -> None:
    assert round(100 * (1 - 0.95**6)) == 26


def test_what_matters_stands_beside_the_verdict_and_never_in_it(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    page = origin(care, episode.id, "pain_now")
    assert any("stands beside the verdict and is never part of it" in says for says in about(page, "importance"))
    assert about(page, "since the first") == ["4, then 2: -2, error unknown; as large as what matters to people"]
    assert about(page, "error") == [
        "not known for this measure: no change in it can be called clear, and the screen says error unknown"
    ]


def test_a_correction_keeps_what_stood_before(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    reading = lunge_of(care, episode, Side.RIGHT)
    readings.revise_reading(care.record, reading._replace(value=5.0), by="AB", because="typed wrong")
    assert "was right 4.8 until 25 Nov 2026 10:38: typed wrong by AB" in words_of(
        origin(care, episode.id, "lunge")
    )


def test_a_reading_that_was_taken_back_is_named_with_its_reason(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    visit = visits.start_visit(care, episode, planned=False)
    take(care, visit, "lunge r 9.9 9.9 9.9")
    undo(care, visit)
    page = origin(care, episode.id, "lunge")
    assert "taken back: it was 9.9 until 25 Nov 2026 10:38: taken back by undo by AB" in words_of(page)
    assert "9.9" not in about(page, "right")[0]


def test_conditions_moment_note_and_a_blind_re_test_are_said(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    visit = visits.start_visit(care, episode)
    take(care, visit, 'lunge l 10.2 10.2 10.2 r 4.9 4.9 4.9 before tape note "heel watched"')
    take(care, visit, "lunge l 10.2 10.2 10.2 r 6.4 6.4 6.4 after tape")
    visits.end_visit(care, visit)
    words = words_of(origin(care, episode.id, "lunge"))
    assert "before treatment; tape; note: heel watched" in words
    assert "after treatment; tape; taken blind" in words
    assert "4.9, then 6.4: +1.5, clear gain; MDC 1.4 cm within a visit" in words
    assert "not under the same conditions: none noted, then tape" in words


def test_while_a_blind_re_test_waits_no_value_gap_or_change_is_there(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    visit = visits.start_visit(care, episode)
    take(care, visit, "lunge l 10.7 10.7 10.7 r 5.7 5.7 5.7 before")
    take(care, visit, "lunge r 5.9 5.9 5.9 before")
    undo(care, visit)
    page = origin(care, episode.id, "lunge")
    assert page.hidden
    words = words_of(page)
    assert "hidden until the re-test is in" in words
    for value in ("10.7", "5.7", "5.9", "4.8", "5.4", "10.2", "clear gain", "LSI"):
        assert value not in words
    take(care, visit, "lunge l 10.7 10.7 10.7 r 6.9 6.9 6.9 after")
    assert "5.7, then 6.9" in words_of(origin(care, episode.id, "lunge"))


def test_two_injured_ankles_are_no_yardstick_for_each_other(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    episodes = ward(care, clock)
    visit = visits.start_visit(care, episodes["S.L."], planned=False)
    take(care, visit, "lunge l 6.0 6.0 6.0 r 9.0 9.0 9.0")
    assert about(origin(care, episodes["S.L."].id, "lunge"), "gap") == [
        "none: both ankles are injured, so neither is the other's yardstick"
    ]


def test_a_reading_from_before_the_injury_is_the_reference(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    old = lunge_of(care, episode, Side.RIGHT)
    before = replace(old.taken, at=old.taken.at - timedelta(days=200))
    baseline = old._replace(id="", revision="", taken=before, value=11.0, trials=(), visit=None, episode=None)
    readings.add_readings(care.record, [baseline])
    page = origin(care, episode.id, "lunge")
    assert about(page, "reference") == ["the ankle's own reading from before the injury, 11.0 cm of 7 May 2026"]
    assert about(page, "gap") == ["6.2 short; 4.8 - 11.0: the right less its reference, the own baseline"]


def test_every_measure_has_a_page_also_where_nothing_was_measured(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    for measure in care.knowledge.measures:
        page = origin(care, episode.id, measure)
        assert page.of_measure
        assert "it" in words_of(page)


def test_an_unknown_measure_is_said(begun: tuple[Care, Episode]) -> None:
    care, episode = begun
    with pytest.raises(CareFault, match="does not know the measure jump"):
        origin(care, episode.id, "jump")
