"""The grammar on the program's own measures."""

from __future__ import annotations

import pytest

from store.entry.entry import line_of
from store.entry.errors import EntryError
from store.entry.grammar import parse
from store.entry.numbers import grades_of, plain
from store.entry.said import MEASURES, parse_said
from store.knowledge.kinds import Measure
from store.knowledge.load import load

KNOWN = load()
ENTERED = [measure for measure in KNOWN.measures.values() if not measure.made_of]


@pytest.mark.parametrize("measure", ENTERED, ids=lambda measure: measure.id)
def test_every_measure_is_read_by_each_of_its_names(measure: Measure) -> None:
    usual = plain(measure.usual_low)
    line = f"{usual} {usual}" if measure.paired else usual
    for name in (measure.id, *measure.short_forms):
        entry = parse(f"{name} {line}", KNOWN.find_measure)
        assert entry.measure is measure
        assert entry.asks == ()
        assert parse(line_of(entry), KNOWN.find_measure) == entry


@pytest.mark.parametrize("measure", ENTERED, ids=lambda measure: measure.id)
def test_every_measure_is_read_by_its_name_with_blanks(measure: Measure) -> None:
    usual = plain(measure.usual_low)
    line = f"{usual} {usual}" if measure.paired else usual
    names = [measure.name, *([] if any(map(str.isdigit, measure.long_name)) else [measure.long_name])]
    for name in names:
        assert parse(f"{name} {line}", KNOWN.find_measure).measure is measure


@pytest.mark.parametrize(
    ("line", "measure", "values"),
    [
        ("heel raise 20 8", "heel_raise", [20, 8]),
        ("stance, eyes closed 12 9", "stance_closed", [12, 9]),
        ("figure-of-eight girth 52 50", "girth", [52, 50]),
        ("Lunge angle l 40 r 31", "lunge_angle", [40, 31]),
        ("lunge 10 8", "lunge", [10, 8]),
        ("pain now 0", "pain_now", [0]),
    ],
)
def test_a_name_may_have_blanks_and_the_longest_counts(line: str, measure: str, values: list[float]) -> None:
    entry = parse(line, KNOWN.find_measure)
    assert entry.measure.id == measure
    assert [trial for side in entry.sides for trial in side.trials] == values


def test_words_that_begin_two_names_are_refused() -> None:
    with pytest.raises(EntryError, match="no measure has this name"):
        parse("single-leg 10 8", KNOWN.find_measure)


def test_what_a_person_says_has_its_measures() -> None:
    said = parse_said("pain 2 worst 4 morning 1 walk 1 gaveway 0 home 5/7 confidence 6", KNOWN.find_measure)
    assert [entry.measure.id for entry in said.entries] == list(MEASURES.values())


def test_beyond_the_grades_it_says_what_they_mean() -> None:
    with pytest.raises(EntryError) as caught:
        parse("limp 5", KNOWN.find_measure)
    assert str(caught.value) == (
        "5: limp goes from 0 to 3: 0 none; 1 slight, seen when looked for; 2 plain; 3 severe, or only with an aid"
    )


def test_what_each_grade_means_is_told_of_every_graded_measure_whose_steps_say_it() -> None:
    graded = {one.id: [grade for grade, _ in grades_of(one)] for one in ENTERED if one.ordinal}
    assert {name for name, grades in graded.items() if not grades} == {"activity_level"}  # the form's own levels
    for one in ENTERED:
        if grades_of(one):
            assert graded[one.id] == [str(grade) for grade in range(int(one.low), int(one.high) + 1)]
