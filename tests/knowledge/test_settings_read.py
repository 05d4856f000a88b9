"""A clinic's own settings: each entry, what it changes, whose it then is, and each error with its line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import settings as trying
from hypothesis import strategies as st

from store.care.own_settings import example_text
from store.knowledge.criteria import Need, Stage
from store.knowledge.load import Knowledge, load
from store.knowledge.settings import NOTHING_SET, Settings, Sound
from store.knowledge.settings_read import ENTRIES, read_settings
from store.knowledge.words import Mark

KNOWN = load()


def read(text: str) -> Settings:
    """The settings of a text in which nothing is wrong."""
    found = read_settings(text, KNOWN)
    assert not found.faults, [fault.text for fault in found.faults]
    return found


def laid(text: str) -> Knowledge:
    return load(settings=read(text))


def faults(text: str) -> list[str]:
    return [fault.text for fault in read_settings(text, KNOWN).faults]


def changes(text: str) -> list[tuple[str, str, str, int | None]]:
    return [(one.entry, one.default, one.now, one.line) for one in read(text).changes]


# entries of their own


def test_each_plain_entry_is_taken_and_told_against_its_default() -> None:
    text = (
        'examiner = " A.B. "\nclinic = "Room 2"\nslot_min = 45\npedal_key = "PageDown"\ntheme = "light"\n'
        "blind_retest = false\nnext_set_by_itself = true\n"
        'clot_form = "three_level"\nletter_to = "Dr N. N."\n'
        "[sound]\ntones = false\nspeech = false\nbell = true\n"
    )
    found = read(text)
    assert found[:7] == ("A.B.", "Room 2", 45, "pagedown", "light", False, True)
    assert (found.clot_form, found.letter_to) == ("three_level", "Dr N. N.")
    assert found.sound == Sound(tones=False, speech=False, bell=True)
    assert changes(text) == [
        ("examiner", "not set", "A.B.", 1),
        ("clinic", "not set", "Room 2", 2),
        ("slot_min", "30", "45", 3),
        ("pedal_key", "space", "pagedown", 4),
        ("theme", "auto", "light", 5),
        ("blind_retest", "on", "off", 6),
        ("next_set_by_itself", "off", "on", 7),
        ("clot_form", "two_level", "three_level", 8),
        ("letter_to", "not set", "Dr N. N.", 9),
        ("sound.tones", "on", "off", 11),
        ("sound.speech", "on", "off", 12),
    ]


def test_what_says_the_default_changes_nothing() -> None:
    text = 'theme = "auto"\nslot_min = 30\n[errors]\nlunge = "usual"\n[fresh_days]\nlunge = 14\n'
    text += "[doses.hold_firm]\nsets = 3\n"
    found = read(text)
    assert found.changes == ()
    assert found == NOTHING_SET


def test_the_default_slot_is_that_of_the_standard_visit() -> None:
    assert NOTHING_SET.slot_min == KNOWN.visit_slot.value


def test_another_slot_is_shown_as_the_clinics() -> None:
    slot = laid("slot_min = 45").visit_slot
    assert (slot.value, slot.mark) == (45, Mark.CLINIC)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("blnd = false", "line 1: blnd: not one of the settings"),
        ("\nexaminer = 3", "line 2: examiner: text is wanted, not 3; the default holds"),
        (f'examiner = "{"x" * 41}"', "at most 40 characters"),
        ("slot_min = 0", "5 to 240 minutes are wanted"),
        ("slot_min = 30.5", "a whole number"),
        ('pedal_key = "p"', "p means something else in a timer"),
        ('pedal_key = "5"', "'5' is no key for it"),
        ('clot_form = "two"', "line 1: clot_form: not one of the forms of the clot score"),
        (f'letter_to = "{"x" * 121}"', "at most 120 characters"),
        ('theme = "drak"', "line 1: theme: not one of the themes; did you mean dark?; the default holds"),
        ("blind_retest = 0", "true or false is wanted"),
        ("sound = 3", "a table is wanted: [sound] on a line of its own"),
        ("[sound]\n\nspech = true", "line 3: sound.spech: not one of the sounds; did you mean speech?"),
        ('[sound]\nbell = "no"', "line 2: sound.bell: true or false is wanted"),
        ("theme = dark", "line 1: this is no TOML: invalid value; the default holds"),
    ],
)
def test_a_wrong_entry_is_named_with_its_line_and_the_others_hold(text: str, says: str) -> None:
    before = 'clinic = "Room 2"\n'
    told = faults(text)
    assert len(told) == 1
    assert says in told[0]
    assert read_settings(before + text, KNOWN).clinic == "Room 2"
    assert read_settings(before + text, KNOWN)._replace(clinic="", changes=(), faults=()) == NOTHING_SET


# what is laid over the program's tables


def test_another_error_is_in_force_and_said_to_be_chosen() -> None:
    measure = laid('[errors]\nlunge = "ankle_patients"').measures["lunge"]
    assert measure.error is not None
    assert (measure.error.id, measure.error.chosen) == ("ankle_patients", True)
    assert {family.id for family in measure.errors} == {family.id for family in KNOWN.measures["lunge"].errors}
    assert not any(family.chosen for family in measure.errors[1:])


def test_fresh_days_are_the_clinics() -> None:
    figure = laid("[fresh_days]\nlunge = 10").measures["lunge"].fresh_days
    assert figure is not None
    assert (figure.value, figure.mark, figure.source, figure.says) == (10, Mark.CLINIC, "", "by default 14 days")


def test_both_may_be_set_of_one_measure() -> None:
    measure = laid('[errors]\nlunge = "ankle_patients"\n[fresh_days]\nlunge = 10').measures["lunge"]
    assert measure.error is not None
    assert measure.error.chosen
    assert measure.fresh_days is not None
    assert measure.fresh_days.value == 10


def test_parts_of_a_dose_are_the_clinics_and_the_rest_says_where_it_is_from() -> None:
    was, dose = (
        KNOWN.activities["hold_firm"].dose,
        laid("[doses.hold_firm]\nsets = 4\nrest_s = 20").activities["hold_firm"].dose,
    )
    assert (dose.sets, dose.rest_s, dose.hold_s) == (4, 20, was.hold_s)
    assert (dose.mark, dose.source) == (Mark.CLINIC, "")
    assert dose.says == f"sets, rest_s; the rest as given, read, {was.source}: {was.says}"


def test_the_phases_of_a_rep_can_be_set() -> None:
    text = (
        '[doses.mobilisation_belt]\nphases = [{ word = "LUNGE", seconds = 3 }, { word = "BACK", seconds = 1.5 }]'
    )
    dose = laid(text).activities["mobilisation_belt"].dose
    assert [(phase.word, phase.seconds) for phase in dose.phases] == [("LUNGE", 3), ("BACK", 1.5)]


def test_a_wrong_part_of_a_dose_does_not_take_the_others_with_it() -> None:
    found = read_settings("[doses.mobilisation_belt]\nreps = 12\nhold_s = 3\nsets = 99", KNOWN)
    assert [(fault.entry, fault.line) for fault in found.faults] == [
        ("doses.mobilisation_belt.hold_s", 3),
        ("doses.mobilisation_belt.sets", 4),
    ]
    assert found.activities["mobilisation_belt"].dose.reps == 12
    assert found.activities["mobilisation_belt"].dose.sets == 3


def test_another_line_of_a_criterion_is_the_clinics_with_words_that_fit_it() -> None:
    stage = laid("[criteria.jog]\nrange = { needs = { within = 1.5 } }").criteria[Stage.JOG]
    one = next(each for each in stage.criteria if each.id == "range")
    assert (one.need, one.mark, one.source) == (Need("within", 1.5), Mark.CLINIC, "")
    assert one.says == "lunge within 1.5 cm of the reference"
    assert one.lines == next(each for each in KNOWN.criteria[Stage.JOG].criteria if each.id == "range").lines
    assert [each.mark for each in stage.criteria if each.id != "range"] == [Mark.COMMON] * (
        len(stage.criteria) - 1
    )


@pytest.mark.parametrize(
    ("need", "says"),
    [
        ("share = 0.95", "lunge at least 95 % of the uninjured side"),
        ("at_least = 9", "lunge at least 9 cm"),
        ("any = [{ within = 1 }, { all = [{ at_least = 8 }, { within = 2 }] }]",
         "lunge within 1 cm of the reference, or lunge at least 8 cm and lunge within 2 cm of the reference"),
    ],
)  # fmt: skip
def test_what_is_wanted_is_told_in_words(need: str, says: str) -> None:
    stage = laid(f"[criteria.jog]\nrange = {{ needs = {{ {need} }} }}").criteria[Stage.JOG]
    assert says in [one.says for one in stage.criteria]


def test_a_criterion_can_be_left_out_and_one_added() -> None:
    text = "[criteria.jog]\nhops = false\n"
    text += 'glide = { measure = "talar_glide", needs = { share = 0.9 }, says = "glide" }'
    stage, was = laid(text).criteria[Stage.JOG], KNOWN.criteria[Stage.JOG]
    assert [one.id for one in stage.criteria] == [one.id for one in was.criteria if one.id != "hops"] + ["glide"]
    assert (stage.criteria[-1].says, stage.criteria[-1].mark) == ("glide", Mark.CLINIC)
    assert laid(text).criteria[Stage.RUN] == KNOWN.criteria[Stage.RUN]


def test_a_stage_keeps_one_criterion_at_least() -> None:
    ids = [one.id for one in KNOWN.criteria[Stage.WALK].criteria]
    text = "[criteria.walk]\n" + "".join(f"{each} = false\n" for each in ids)
    assert faults(text) == [
        "line 1: criteria.walk: a stage without a criterion would be met by nothing; the default holds"
    ]
    assert not read_settings(text, KNOWN).criteria


PLAN = """[[plan]]
id = 'said'
kind = 'said'
minutes = 2
[[plan]]
id = 'a'
kind = 'measure'
ref = 'lunge'
minutes = 5
"""


def test_a_plan_takes_the_place_of_the_standard_one() -> None:
    assert [(step.id, step.ref, step.minutes) for step in laid(PLAN).visit_plan] == [
        ("said", "", 2),
        ("a", "lunge", 5),
    ]


def test_a_plan_of_the_first_days_is_changed_by_itself() -> None:
    known = laid(PLAN.replace("[[plan]]", "[[first_plan]]"))
    assert [step.id for step in known.first_plan] == ["said", "a"]
    assert known.visit_plan == KNOWN.visit_plan
    assert faults("first_plan = []") == [
        "line 1: first_plan: a plan has at least one step: leave first_plan out for the usual visit; "
        "the usual plan of the first days holds"
    ]


def test_a_plan_with_a_wrong_step_is_left_out_as_a_whole() -> None:
    assert faults(PLAN.replace("'lunge'", "'lung'")) == [
        "line 8: plan 2.ref: not one of the measures; did you mean lunge?; the standard plan holds"
    ]
    assert read_settings(PLAN.replace("'lunge'", "'lung'"), KNOWN).plan == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[errors]\nlunge = "best"', "line 2: errors.lunge: lunge has no error of one examiner called 'best'"),
        ('[errors]\nlunge = "two_examiners"', "lunge has no error of one examiner called 'two_examiners'"),
        ("[errors]\ngirth = 3", "line 2: errors.girth: text is wanted"),
        ('[errors]\nlunj = "usual"', "line 2: errors.lunj: not one of the measures; did you mean lunge?"),
        ("[fresh_days]\nlunge = 0", "line 2: fresh_days.lunge: more than 0 days"),
        ("[fresh_days]\nlunge = inf", "a number is wanted"),
        ("[fresh_days]\nno_such_thing = 3", "line 2: fresh_days.no_such_thing: not one of the measures"),
        (
            "[doses.hold_frim]\nsets = 3",
            "line 1: doses.hold_frim: not one of the activities; did you mean hold_firm?",
        ),
        ("[doses]\nhold_firm = 3", "line 2: doses.hold_firm: a table is wanted"),
        ("[doses.hold_firm]\nsets = 0", "line 2: doses.hold_firm.sets: at least one set is wanted"),
        ("[doses.hold_firm]\nhold_s = -3", "less than none"),
        ("[doses.stance_open_test]\nsets = 2", "it belongs to the protocol of stance_open"),
        ('[doses.hold_firm]\nmark = "read"', "has no such part"),
        ("[criteria]\njogg = {}", "line 2: criteria.jogg: not one of the stages; did you mean jog?"),
        ("[criteria]\njog = 3", "line 2: criteria.jog: a table is wanted"),
        ("[criteria.jog]\nrang = false", "line 2: criteria.jog.rang:"),
        ("[criteria.jog]\nrange = true", "line 2: criteria.jog.range: a table is wanted"),
        (
            "[criteria.jog.range]\nneeds = { within = 1, at_least = 2 }",
            "line 2: criteria.jog.range.needs.needs: one of",
        ),
        ("[criteria.jog.range]\nneeds = { wthin = 1 }", "line 2: criteria.jog.range.needs.wthin: unknown key"),
        ("[criteria.jog.swelling]\nneeds = { at_least = 1 }", "at_least on a measure where lower is better"),
        (
            '[criteria.jog.new]\nmeasure = "lung"\nneeds = { within = 1 }',
            "line 2: criteria.jog.new.measure: not one of",
        ),
        ("plan = []", "a plan has at least one step"),
        ("[[plan]]\nid = 'x'\nkind = 'sing'\nminutes = 3", "line 3: plan 1.kind: unknown 'sing'"),
    ],
)
def test_a_wrong_entry_of_a_table_is_named_with_its_line_and_changes_nothing(text: str, says: str) -> None:
    told = faults(text)
    assert len(told) == 1
    assert says in told[0]
    assert read_settings(text, KNOWN)._replace(faults=()) == NOTHING_SET


# the example, and what nobody thought of


def uncommented() -> list[str]:
    """The example file with every entry in force: prose has a blank after its #, entries have none."""
    return [
        line[1:] if line.startswith("#") and not line.startswith("# ") else line
        for line in example_text().split("\n")
    ]


def test_the_example_changes_nothing_as_it_is() -> None:
    assert read_settings(example_text(), KNOWN) == NOTHING_SET


def test_the_example_holds_every_entry_and_each_changes_something() -> None:
    found = read("\n".join(uncommented()))
    changed = {one.entry.split(".")[0] for one in found.changes}
    assert changed == set(ENTRIES)
    load(settings=found).check()


@trying(max_examples=40, deadline=None)
@given(st.integers(0, 200), st.text(max_size=12))
def test_a_slip_anywhere_is_told_and_leaves_the_rest(at: int, slip: str) -> None:
    lines = uncommented()
    lines[at % len(lines)] = slip.replace("\n", " ")
    found = read_settings("\n".join(lines), KNOWN)
    whole = {one.entry for one in read("\n".join(uncommented())).changes}
    kept = {one.entry for one in found.changes}
    lost = whole - kept
    assert len(lost) <= 1 or found.faults, "nothing is lost in silence but what stood on the line itself"
