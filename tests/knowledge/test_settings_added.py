"""Measures and activities of a clinic's own: found like any other, shown as theirs, refused where they clash."""

from __future__ import annotations

import pytest

from store.knowledge.cross import figures_of
from store.knowledge.load import Knowledge, load
from store.knowledge.settings import NOTHING_SET
from store.knowledge.settings_read import read_settings
from store.knowledge.words import Mark

KNOWN = load()

MEASURE = """
[measures.curl]
name = "towel curls"
long_name = "towel curls in 30 s"
short_forms = ["tc"]
shows = "Strength."
domain = "strength"
unit = "reps"
step = 1
low = 0
high = 60
usual_low = 5
usual_high = 40
better = "higher"
paired = true
counted = 1
aggregate = "single"
symmetry = "lsi"
loading = true
protocol = "seated"
steps = ["Pull the towel in."]
fresh_days = { value = 14 }
healthy = [["in colleagues", 20, "read", "hoch_2011"]]
"""
ERRORS = """
[[measures.curl.errors]]
id = "own"
name = "own trials"
sem_between = { value = 1.5, mark = "read", source = "own_trials" }
[sources]
own_trials = "Trials on colleagues"
"""
ACTIVITY = """
[activities.pull]
name = "towel pulls"
short_forms = ["tp"]
kind = "counted reps"
domain = "strength"
shows = "Strength."
sides = "injured"
hands_on = false
loading = true
minutes = 4
dose = { sets = 3, reps = 15, rest_s = 30, mark = "read", source = "hoch_2011" }
"""


def laid(text: str) -> Knowledge:
    found = read_settings(text, KNOWN)
    assert not found.faults, [fault.text for fault in found.faults]
    return load(settings=found)


def test_a_measure_of_the_clinic_is_found_after_the_programs_own() -> None:
    known = laid(MEASURE + ERRORS)
    assert list(known.measures)[-1] == "curl"
    assert len(known.measures) == len(KNOWN.measures) + 1
    for word in ("curl", "tc", "towel_curls"):
        found = known.find_measure(word)
        assert found is not None
        assert (found.id, found.added) == ("curl", True)
    known.check()


def test_every_figure_of_it_is_the_clinics_whatever_mark_they_gave_it() -> None:
    figures = list(figures_of(laid(MEASURE + ERRORS).measures["curl"]))
    assert len(figures) == 3
    assert {figure.mark for figure in figures} == {Mark.CLINIC}
    assert {figure.says for figure in figures} == {"", "given there as read"}
    assert {figure.source for figure in figures} == {"", "own_trials", "hoch_2011"}


def test_an_activity_of_the_clinic_stands_under_their_head() -> None:
    known = laid(ACTIVITY)
    found = known.find_activity("tp")
    assert found is not None
    assert (found.id, found.added, found.phase) == ("pull", True, "of this clinic")
    assert (found.mark, found.dose.mark, found.dose.says) == (Mark.CLINIC, Mark.CLINIC, "given there as read")
    known.check()


def test_what_is_added_can_be_used_by_the_other_entries() -> None:
    text = (
        MEASURE
        + ACTIVITY
        + "[criteria.run.curls]\nmeasure = 'curl'\nneeds = { share = 0.9 }\n[doses.pull]\nsets = 2\n"
        "[fresh_days]\ncurl = 7\n[[plan]]\nid = 'p'\nkind = 'activity'\nref = 'pull'\nminutes = 3\n"
    )
    known = laid(text)
    assert known.activities["pull"].dose.sets == 2
    assert known.visit_plan[0].ref == "pull"
    known.check()


def test_a_bout_that_measures_can_be_added_with_its_measure() -> None:
    measure = MEASURE.replace('protocol = "seated"', 'protocol = "seated"\nbout = "pull"')
    activity = ACTIVITY.replace('sides = "injured"', 'sides = "both"\nmeasure = "curl"').replace(
        "sets = 3", "sets = 1"
    )
    assert laid(measure + activity).activities["pull"].measure == "curl"


def test_what_names_something_that_is_left_out_is_left_out_too() -> None:
    measure = MEASURE.replace('protocol = "seated"', 'protocol = "seated"\nbout = "pull"')
    activity = ACTIVITY.replace(
        'sides = "injured"', 'sides = "both"\nmeasure = "curl"\ncautions = ["nothing_such"]'
    )
    found = read_settings(measure + activity, KNOWN)
    assert found._replace(faults=()) == NOTHING_SET
    assert {fault.entry for fault in found.faults} == {"measures.curl", "activities.pull"}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (MEASURE.replace(".curl", ".lunge"), "line 2: measures.lunge: the program has a measure lunge already"),
        (ACTIVITY.replace(".pull", ".hold_firm"), "the program has an activity hold_firm already"),
        (MEASURE.replace('"tc"', '"heel"'), "line 5: measures.curl.short_forms: 'heel' already finds heel_raise"),
        (MEASURE.replace('"tc"', '"lunge"'), "'lunge' already finds lunge"),
        (MEASURE.replace('"tc"', '"left"'), "'left' means something else on the line of entry"),
        (MEASURE.replace('"tc"', '"T C"'), "'T C' is not lower snake case"),
        (MEASURE.replace('"towel curls"', '"lunge"'), "line 3: measures.curl.name: lunge is called so already"),
        (MEASURE.replace('"reps"', '"rps"'), "line 8: measures.curl.unit: unknown 'rps'"),
        (MEASURE.replace("high = 60", "hihg = 60"), "measures.curl"),
        (
            MEASURE.replace("usual_high = 40", "usual_high = 90"),
            "line 13: measures.curl.usual_high: 90 is outside",
        ),
        (MEASURE.replace('"hoch_2011"', '"hoch"'), "line 2: measures.curl: 'hoch' is not one of the sources"),
        (MEASURE.replace("[measures.curl]", "[measures.Curl]"), "cannot name a measure"),
        (
            ACTIVITY.replace("reps = 15", "hold_s = 15"),
            "activities.pull.dose.hold_s: counted reps has no use for it",
        ),
        (
            ACTIVITY.replace("loading = true", 'loading = true\nmeasure = "lunge"'),
            "does not name this activity back",
        ),
        ("[measures]\ncurl = 3", "line 2: measures.curl: a table is wanted here, not 3; it is left out"),
        ("[[measures]]\nx = 3", "line 1: measures: a table is wanted"),
        ('[sources]\nhoch_2011 = "Other"', "line 2: sources.hoch_2011: it names a source already"),
    ],
)
def test_what_clashes_or_is_incomplete_is_named_and_left_out(text: str, says: str) -> None:
    found = read_settings(text, KNOWN)
    assert len(found.faults) == 1, [fault.text for fault in found.faults]
    assert says in found.faults[0].text
    assert found._replace(faults=()) == NOTHING_SET


def test_two_of_the_clinics_own_do_not_clash_either() -> None:
    other = MEASURE.replace(".curl]", ".curl_b]").replace('"towel curls"', '"curls b"')
    found = read_settings(MEASURE + other, KNOWN)
    assert [fault.says for fault in found.faults] == ["'tc' already finds curl"]
    assert set(found.measures) == {"curl"}


def test_what_a_table_is_called_by_can_be_read_alone() -> None:
    measures = [(one.id, one.name, one.short_forms) for one in KNOWN.measures.values()]
    activities = [(one.id, one.name, one.short_forms) for one in KNOWN.activities.values()]
    assert list(KNOWN.measures_called) == measures
    assert list(KNOWN.activities_called) == activities


def test_no_table_of_the_program_is_marked_as_a_clinics() -> None:
    figures = [figure for measure in KNOWN.measures.values() for figure in figures_of(measure)]
    marks = {figure.mark for figure in figures}
    marks |= {mark for activity in KNOWN.activities.values() for mark in (activity.mark, activity.dose.mark)}
    marks |= {one.mark for stage in KNOWN.criteria.values() for one in stage.criteria}
    marks |= {caution.mark for caution in KNOWN.cautions.values()}
    assert Mark.CLINIC not in marks
