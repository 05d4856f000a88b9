"""Every measure can be taken both ways, trial by trial and in one line, and reads back in words."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.care import measuring, visits
from store.care.adding import add_line
from store.care.charted import charted
from store.care.faults import CareFault
from store.care.listing import measure_page
from store.care.origin import origin
from store.care.people import EpisodeForm, new_episode, new_person
from store.care.shown import episode_text
from store.care.standing import Standing, standing
from store.care.trial_pass import start
from store.care.trials import begin, enter
from store.entry.entry import line_of
from store.entry.errors import EntryError
from store.entry.grammar import parse
from store.entry.numbers import spelled
from store.knowledge.kinds import Measure
from store.knowledge.load import load
from store.knowledge.words import Moment, Reading, Side
from store.record.readings import readings_of_person
from tests.care.begun import Begun, begun
from tests.screens.made import opened

KNOWN = load()
ENTERED = [one for one in KNOWN.measures.values() if not one.made_of]


def by_id(measure: Measure) -> str:
    return measure.id


def value_for(measure: Measure) -> float:
    """A usual value on the measure's step, under the cap."""
    middle = (measure.usual_low + measure.usual_high) / 2
    steps = int((middle - measure.low) / measure.step)
    return round(measure.low + steps * measure.step, 6)


@pytest.mark.parametrize("measure", ENTERED, ids=by_id)
def test_a_measure_is_taken_trial_by_trial_or_in_one_line_alike(measure: Measure) -> None:
    value = value_for(measure)
    trials = begin(measure, Side.RIGHT)
    for _ in range(measure.counted * len(measure.sides)):
        trials = enter(trials, spelled(value, measure))
    assert trials.done
    words = " ".join([spelled(value, measure)] * measure.counted)
    line = " ".join(f"{side or ''} {words}" for side in measure.sides)
    entry = parse(f"{measure.id} {line}", KNOWN.find_measure)
    assert entry.sides == tuple(
        sorted((one.entry(measure) for one in trials.sides), key=lambda one: one.side or "")
    )
    assert {trial for side in entry.sides for trial in side.trials} == {value}
    assert parse(line_of(entry), KNOWN.find_measure) == entry


@pytest.mark.parametrize("measure", ENTERED, ids=by_id)
def test_a_measure_may_be_impossible(measure: Measure) -> None:
    line = "left unable right unable" if measure.paired else "unable"
    assert all(side.trials == () for side in parse(f"{measure.id} {line}", KNOWN.find_measure).sides)


@pytest.mark.parametrize("measure", KNOWN.measures.values(), ids=by_id)
def test_each_page_fits_eighty_columns(measure: Measure) -> None:
    lines = measure_page(KNOWN, measure.id).splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[0].startswith(f"{measure.id}: ")


def test_every_measure_is_kept_and_shown_of_one_person(tmp_path: Path) -> None:
    at = begun(tmp_path)
    for measure in ENTERED:
        values = " ".join(f"{side or ''} {spelled(value_for(measure), measure)}" for side in measure.sides)
        at.line(f"{measure.id} {values}")
    held = now(at)
    assert [one.measure.id for one in held.measures] == list(KNOWN.measures)
    text = episode_text(held, ())
    assert all(one.measure.name in text for one in held.measures)


# a rating below nought, yes and no, the sum of answers


def test_a_rating_may_be_below_nought() -> None:
    trials = enter(begin(KNOWN.measures["change_rating"], None), "-3")
    assert trials.sides[0].values == (-3.0,)
    assert parse("change_rating -7", KNOWN.find_measure).sides[0].trials == (-7.0,)
    with pytest.raises(EntryError, match="goes from -7 to 7 points"):
        parse("change_rating -8", KNOWN.find_measure)


@pytest.mark.parametrize(
    ("line", "kept"), [("drills yes", 1.0), ("drills NO", 0.0), ("drills 1", 1.0), ("full_session no", 0.0)]
)
def test_yes_and_no_are_kept_as_one_and_nought(line: str, kept: float) -> None:
    assert parse(line, KNOWN.find_measure).sides[0].trials == (kept,)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("drills 2", "sport drills is answered by yes or no"),
        ("drills 0.5", "sport drills is answered by yes or no"),
        ("lunge left yes", "lunge is no yes or no: type its value"),
        ("reach_composite left 94 right 90", "is worked out: enter reach_ant, reach_pm, reach_pl, leg_length"),
        ("faam_adl 54/18", "at least 19 of 21 are to be answered, not 18"),
        ("faam_adl 81/20", "20 answers sum to 0 to 80"),
        ("faam_adl 64/22", "there are 21 items"),
        ("girth left 50/1", "50/1: not a number: type a figure such as 8"),
    ],
)
def test_what_does_not_fit_is_refused_with_a_sentence(line: str, said: str) -> None:
    with pytest.raises(EntryError, match=said):
        parse(line, KNOWN.find_measure)


def test_a_questionnaire_takes_its_total_or_the_sum_of_its_answers() -> None:
    for line in ("faam_adl 80", "faam_adl 64/20", "faam_adl 80 %"):
        assert parse(line, KNOWN.find_measure).sides[0].trials == (80.0,)
    assert enter(begin(KNOWN.measures["faam_sport"], None), "21/7").sides[0].values == (75.0,)


def test_force_may_be_typed_in_another_unit() -> None:
    """1 kilogram-force is 9.80665 N, 1 pound-force 4.44822 N (by definition)."""
    entry = parse("force_ev left 10 kgf right 20 lbf", KNOWN.find_measure)
    assert [round(side.trials[0], 2) for side in entry.sides] == [98.07, 88.96]
    assert parse("force_ev left 98 N right 89 N", KNOWN.find_measure).sides[0].trials == (98.0,)


def test_yes_and_no_are_shown_in_words_and_have_no_gap(tmp_path: Path) -> None:
    at = begun(tmp_path)
    saved = at.line("hop_spot left yes right no")
    assert "hops on the spot left yes, right no" in saved.says
    one = now(at).of("hop_spot")
    assert (one.gap, one.lsi, one.lsi_words) == (None, None, "")
    visits.end_visit(at.care, at.visit)
    at.clock.move(timedelta(days=3).total_seconds())
    add_line(at.care, at.care.person(at.episode.person), "hop_spot left yes right yes")
    change = now(at).of("hop_spot").since_first
    assert change is not None
    assert (change.value, change.verdict, change.warnings) == (None, None, ("no, then yes",))


# the composite of the reaches


REACHES = ("reach_ant left 65 right 60", "reach_pm left 100 right 98", "reach_pl left 95 right 94")


def now(at: Begun) -> Standing:
    return standing(at.care, at.episode.id)


def test_the_composite_is_worked_out_once_all_it_is_made_of_is_there(tmp_path: Path) -> None:
    at = begun(tmp_path)
    for line in REACHES:
        at.line(line)
    assert not now(at).of("reach_composite").measured
    at.line("leg_length left 92 right 92")
    one = now(at).of("reach_composite")
    left, right = one.of(Side.LEFT), one.of(Side.RIGHT)
    assert left is not None
    assert right is not None
    assert left.value == pytest.approx(94.2, abs=0.05)
    assert right.value == pytest.approx(91.3, abs=0.05)
    assert (left.unit, left.trials, left.visit) == ("%", (), at.visit_id)
    assert one.gap == pytest.approx(-2.9, abs=0.05)
    assert [each.measure for each in readings_of_person(at.care.record, at.episode.person)].count(
        "reach_composite"
    ) == 0
    drawn = charted(at.care, now(at), one.measure)
    assert [round(each.value or 0, 1) for each in (*drawn.left, *drawn.right)] == [94.2, 91.3]


def test_each_side_has_its_own_leg_length(tmp_path: Path) -> None:
    at = begun(tmp_path)
    for line in (*REACHES, "leg_length left 92 right 91"):
        at.line(line)
    right = now(at).of("reach_composite").of(Side.RIGHT)
    assert right is not None
    assert right.value == pytest.approx(100 * 252 / 273)


def test_a_reach_that_was_not_possible_leaves_no_composite(tmp_path: Path) -> None:
    at = begun(tmp_path)
    for line in ("leg_length left 92 right 92", *REACHES[:2], "reach_pl left 95 right unable"):
        at.line(line)
    one = now(at).of("reach_composite")
    assert one.of(Side.RIGHT) is None
    assert one.of(Side.LEFT) is not None


def test_before_and_after_have_each_their_composite(tmp_path: Path) -> None:
    at = begun(tmp_path)
    at.line("leg_length left 92 right 92")
    for moment, gain in ((Moment.BEFORE, 0), (Moment.AFTER, 6)):
        for reach, value in (("reach_ant", 60 + gain), ("reach_pm", 98), ("reach_pl", 94)):
            at.line(f"{reach} right {value} {moment}")
    retest = now(at).of("reach_composite").retest
    assert retest is not None
    assert retest.change.value == pytest.approx(100 * 6 / 276)


def test_a_shorter_leg_is_no_deficit(tmp_path: Path) -> None:
    at = begun(tmp_path)
    at.line("leg_length left 92 right 91")
    one = now(at).of("leg_length")
    assert (one.gap_words, one.deficit, one.lsi) == ("1.0 smaller", None, None)


def told(at: Begun, measure: str) -> str:
    page = origin(at.care, at.episode.id, measure)
    return " ".join(f"{one.about} {one.says}" for part in page.of_person for one in part.statements)


def test_the_page_of_a_composite_says_what_it_is_made_of(tmp_path: Path) -> None:
    at = begun(tmp_path)
    for line in (*REACHES, "leg_length left 92 right 92"):
        at.line(line)
    assert "worked out from (reach, front; reach, back inside; reach, back outside; leg length)" in told(
        at, "reach_composite"
    )


def test_the_page_of_a_yes_or_no_gives_no_gap(tmp_path: Path) -> None:
    at = begun(tmp_path)
    at.line("hop_spot left yes right no")
    assert "gap none: a yes and a no have no figure between them" in told(at, "hop_spot")


def test_a_composite_cannot_be_taken_trial_by_trial(tmp_path: Path) -> None:
    at = begun(tmp_path)
    with pytest.raises(CareFault, match="reach, composite is worked out: take reach_ant, reach_pm"):
        start(at.care, at.visit_id, "reach_composite")


# what is listed of an ankle


def test_only_what_is_known_of_an_ankle_is_listed(tmp_path: Path) -> None:
    at = begun(tmp_path)
    assert [one.measure.id for one in now(at).measures] == ["lunge"], "the main measure"
    at.line("girth left 50 right 52")
    held = now(at)
    assert [one.measure.id for one in held.measures] == ["lunge", "girth"]
    assert not held.of("side_hop").measured
    with pytest.raises(CareFault, match="does not know the measure wings"):
        held.of("wings")


def test_the_first_reading_of_a_measure_shows_its_gap_before_it_is_saved(tmp_path: Path) -> None:
    at = begun(tmp_path)
    subject = measuring.subject_of(at.care, at.visit)
    preview = measuring.preview(at.care, subject, measuring.read_line(at.care, subject, "girth left 50 right 52"))
    assert any("2.0 larger" in said for said in preview.says)


def test_a_baseline_from_before_the_injury_has_a_composite_too(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    person, _ = new_person(care, "E.F.", "1999")
    for line in ("leg_length left 92 right 92", *REACHES):
        add_line(care, person, line)
    clock.move(timedelta(days=30).total_seconds())
    episode = new_episode(care, person, EpisodeForm(Side.RIGHT))
    baseline = standing(care, episode.id).of("reach_composite").baseline
    assert isinstance(baseline, Reading)
    assert baseline.value == pytest.approx(91.3, abs=0.05)
