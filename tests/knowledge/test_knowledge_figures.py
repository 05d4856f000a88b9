"""Spot checks of figures against the papers that they name, and of what was only recalled."""

from __future__ import annotations

import pytest

from store.knowledge.kinds import CutOff, ErrorFamily, Figure
from store.knowledge.load import load
from store.knowledge.words import Mark

KNOWN = load()


def family(measure: str, name: str) -> ErrorFamily:
    return next(one for one in KNOWN.measures[measure].errors if one.id == name)


READ = [
    # measure, family, figure, value, source
    ("lunge", "usual", "mdc_between", 1.9, "powden_2015"),  # Powden 2015: one examiner 1.9 cm, 4.7 degrees
    ("lunge", "two_examiners", "mdc_between", 1.6, "powden_2015"),  # two examiners 1.6 cm, 4.6 degrees
    ("lunge", "ankle_patients", "mdc_between", 1.0, "chisholm_2012"),  # Chisholm 2012: affected leg 1.0 cm
    ("lunge", "ankle_patients", "gap_mdc", 1.5, "chisholm_2012"),  # and 1.5 cm for the difference
    ("lunge_angle", "usual", "mdc_between", 4.7, "powden_2015"),
    ("lunge_angle", "two_examiners", "mdc_between", 4.6, "powden_2015"),
    ("girth", "usual", "sem_within", 0.2, "watson_2008"),  # Watson 2008: 0.2 within, 0.3 between sessions
    ("girth", "usual", "sem_between", 0.3, "watson_2008"),
    ("heel_raise", "ross_2000", "sem_between", 2.07, "ross_2000"),  # Ross and Fontenot 2000: 2.07 raises
    (
        "reach_ant",
        "two_examiners",
        "sem_between",
        2.0,
        "shaffer_2013",
    ),  # Shaffer 2013, mean of three: 2.0, 2.7, 3.5 cm
    ("reach_pm", "two_examiners", "sem_between", 2.7, "shaffer_2013"),
    ("reach_pl", "two_examiners", "sem_between", 3.5, "shaffer_2013"),
]

DERIVED = [
    ("lunge", "usual", "sem_within", (0.4 + 0.6) / 2, "konor_2012"),  # Konor 2012, tape: 0.4 to 0.6 cm
    ("lunge", "usual", "sem_between", 1.9 / 2.77, "powden_2015"),
    ("lunge", "usual", "gap_mdc", 1.9 * 2**0.5, "powden_2015"),
    ("lunge_angle", "usual", "sem_within", (1.3 + 1.4) / 2, "konor_2012"),  # inclinometer: 1.3 to 1.4 degrees
    ("heel_raise", "usual", "mdc_between", (6.5 + 6.2) / 2, "hebert_losier_2017"),  # limits -6.2 to 6.5
]


@pytest.mark.parametrize(("measure", "name", "key", "value", "source"), READ)
def test_error_as_printed(measure: str, name: str, key: str, value: float, source: str) -> None:
    figure: Figure = getattr(family(measure, name), key)
    assert (figure.value, figure.mark, figure.source) == (value, Mark.READ, source)


@pytest.mark.parametrize(("measure", "name", "key", "value", "source"), DERIVED)
def test_error_as_derived(measure: str, name: str, key: str, value: float, source: str) -> None:
    figure: Figure = getattr(family(measure, name), key)
    assert figure.value == pytest.approx(value, abs=0.02)
    assert (figure.mark, figure.source) == (Mark.DERIVED, source)


def test_published_mdc_follows_from_published_sem() -> None:
    """Konor 2012 prints both: SEM 0.4 to 0.6 cm and MDC 1.1 to 1.5 cm."""
    within = family("lunge", "usual").sem_within
    assert within is not None
    assert 1.1 <= 2.77 * within.value <= 1.5


def lines(measure: str, part: str, mark: Mark, source: str = "") -> list[float]:
    found: tuple[CutOff, ...] = getattr(KNOWN.measures[measure], part)
    return [line.figure.value for line in found if (line.figure.mark, line.figure.source) == (mark, source)]


def test_a_healthy_lunge_and_the_one_wanted_before_jogging_are_common_practice() -> None:
    assert lines("lunge", "healthy", Mark.COMMON) == [10]
    assert lines("lunge", "cut_offs", Mark.COMMON) == [8]


def test_healthy_values_as_printed() -> None:
    assert lines("lunge", "healthy", Mark.READ, "hoch_2011") == [12, 1.5]
    assert lines("lunge_angle", "healthy", Mark.READ, "baumbach_2014") == [39]
    assert lines("stance_open", "healthy", Mark.READ, "bohannon_2006") == [27.0, 17.2, 8.5]
    assert lines("heel_raise", "healthy", Mark.READ, "hebert_losier_2017") == [24, 21]
    assert lines("heel_raise", "healthy", Mark.READ, "lunsford_1995") == [27.9]
    controls = [lines(f"reach_{way}", "healthy", Mark.READ, "doherty_2015") for way in ("ant", "pm", "pl")]
    assert controls == [[64.9], [107.3], [101.1]]


def test_lines_that_others_draw_as_printed() -> None:
    assert lines("girth", "cut_offs", Mark.READ, "malliaropoulos_2006") == [0.5, 2]
    assert lines("girth", "cut_offs", Mark.READ, "watson_2008") == [0.5]
    assert lines("stance_closed", "cut_offs", Mark.READ, "trojian_2006") == [10]
    assert lines("reach_ant", "cut_offs", Mark.READ, "plisky_2006") == [4]


@pytest.mark.parametrize("pain", ["pain_now", "pain_worst", "pain_morning", "pain_walk"])
def test_what_matters_stands_beside_the_error_and_is_not_it(pain: str) -> None:
    measure = KNOWN.measures[pain]
    assert measure.importance is not None
    assert (measure.importance.value, measure.importance.source) == (2, "farrar_2001")
    assert measure.error is None


def test_the_ladder_of_holds_as_printed() -> None:
    """BMC Musculoskelet Disord 2013;14:108, table 2: three of 30 s on level ground in the first sessions."""
    dose = KNOWN.activities["hold_firm"].dose
    assert (dose.sets, dose.hold_s, dose.mark, dose.source) == (3, 30, Mark.READ, "hold_ladder_2013")


def test_a_stance_stops_at_the_published_cap() -> None:
    """Springer 2007: 45 s, best of three."""
    for name in ("stance_open", "stance_closed"):
        measure = KNOWN.measures[name]
        assert (measure.cap, measure.counted, measure.aggregate) == (45, 3, "best")
        assert KNOWN.activities[measure.bout].dose.cap_s == 45


def test_what_was_only_recalled_is_not_called_read() -> None:
    """Figures never seen in print: Springer's by age, Linens' cut-off, Childs' change of pain, Collins' dose."""
    for stance in ("stance_open", "stance_closed"):
        springer = [
            line.figure for line in KNOWN.measures[stance].healthy if line.figure.source == "springer_2007"
        ]
        assert len(springer) == 6
        assert all(figure.mark in (Mark.RECALLED, Mark.DERIVED) for figure in springer)
        assert all("recalled" in figure.formula for figure in springer if figure.mark is Mark.DERIVED)
    assert lines("reach_pm", "cut_offs", Mark.RECALLED, "linens_2014") == [91]
    assert lines("pain_now", "cut_offs", Mark.RECALLED, "childs_2005") == [2]
    assert KNOWN.activities["mobilisation_belt"].dose.mark is Mark.RECALLED


UNSEEN = {"linens_2014", "childs_2005", "jaeschke_1989", "textbook_times", "nitz_1985", "texts_sorting"}


def test_nothing_is_read_in_what_was_not_seen() -> None:
    assert {source.id for source in KNOWN.sources.values() if source.text.endswith("not read")} == UNSEEN
    for measure in KNOWN.measures.values():
        for line in (*measure.healthy, *measure.cut_offs, *measure.protocol_figures):
            if line.figure.source in UNSEEN:
                assert line.figure.mark is Mark.RECALLED


def test_what_is_wanted_before_jogging_is_nobodys_proven_line() -> None:
    """No set is validated for this ankle: each such line is common practice."""
    wanted = [
        line.figure
        for measure in KNOWN.measures.values()
        for line in measure.cut_offs
        if "before jogging" in line.says
    ]
    assert len(wanted) >= 6
    assert {figure.mark for figure in wanted} == {Mark.COMMON}


def test_fresh_for_is_common_practice() -> None:
    for measure in KNOWN.measures.values():
        assert measure.fresh_days is not None
        assert measure.fresh_days.mark is Mark.COMMON
