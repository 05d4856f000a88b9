"""What the loader refuses: the text names file, table and key, and says what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.knowledge.load import Knowledge, KnowledgeError, load
from tests.knowledge.small_tables import TABLES, write_tables


def said(folder: Path, file: str, was: str, now: str) -> str:
    with pytest.raises(KnowledgeError) as caught:
        load(write_tables(folder, file, was, now)).check()
    return str(caught.value)


def test_the_small_tables_are_whole(tmp_path: Path) -> None:
    knowledge = load(write_tables(tmp_path))
    knowledge.check()
    assert list(knowledge.measures) == ["stance", "pain"]
    assert list(knowledge.activities) == ["stance_test", "glide", "shifts"]
    assert [step.id for step in knowledge.visit_plan] == ["before", "treat", "after", "note"]


FIELDS = [
    ("unit = 's'", "unit = 's'\ncolour = 'red'", "[stance] colour: unknown key"),
    ("shows = 'Balance.'\n", "", "[stance] shows: missing"),
    ("shows = 'Balance.'", "shows = ' '", "[stance] shows: text is wanted, and it is empty"),
    ("shows = 'Balance.'", "shows = 3", "[stance] shows: text is wanted, not 3"),
    ("step = 0.1", "step = 'small'", "[stance] step: a number is wanted, not 'small'"),
    ("step = 0.1", "step = true", "[stance] step: a number is wanted, not True"),
    ("step = 0.1", "step = nan", "[stance] step: a number is wanted, not nan"),
    ("step = 0.1", "step = 0", "[stance] step: 0 is no step"),
    ("counted = 3", "counted = 2.5", "[stance] counted: a whole number"),
    ("counted = 3", "counted = -3", "[stance] counted: a whole number"),
    ("paired = true", "paired = 'yes'", "[stance] paired: true or false is wanted"),
    ("short_forms = ['st']", "short_forms = 'st'", "[stance] short_forms: a list of texts is wanted"),
    ("short_forms = ['st']", "short_forms = [1]", "[stance] short_forms: a list of texts is wanted"),
    ("unit = 's'", "unit = 'inch'", "[stance] unit: unknown 'inch'; it can be cm, deg, s, reps"),
    ("better = 'higher'", "better = 'up'", "[stance] better: unknown 'up'; it can be higher, lower"),
    ("domain = 'static balance'", "domain = 'luck'", "[stance] domain: unknown 'luck'"),
    ("bout = 'stance_test'", "bout = 'Stance Test'", "[stance] bout: 'Stance Test' is not lower snake case"),
    ("[stance]\n", "[Stance]\n", "[Stance] id: 'Stance' cannot name a measure"),
    ("[pain]\n", "[left]\n", "[left] id: 'left' cannot name a measure"),
    ("\n[stance]\n", "\nhop = 5\n[stance]\n", "[hop]: a table is wanted here, not 5"),
]

FIGURES = [
    (
        "mark = 'recalled'",
        "mark = 'guessed'",
        "[stance.importance] mark: unknown 'guessed'; it can be read, recalled",
    ),
    ("mark = 'recalled', source = 'a_study'", "mark = 'read'", "[stance.importance] source: missing"),
    ("mark = 'recalled'", "mark = 'derived'", "[stance.importance] formula: missing"),
    (
        "mark = 'recalled'",
        "mark = 'recalled', formula = 'x'",
        "[stance.importance] formula: only a derived figure",
    ),
    ("mark = 'recalled'", "mark = 'common practice'", "[stance.importance] source: common practice has no source"),
    ("mark = 'recalled', source = 'a_study'", "source = 'a_study'", "[stance.importance] mark: missing"),
    (
        "mark = 'recalled', source = 'a_study'",
        "mark = 'read', source = 'nobody'",
        "'nobody' is not in sources.toml",
    ),
    ("importance = { value = 3", "importance = { value = 0", "[stance] importance: more than 0 is wanted"),
    ("{ value = 14, mark", "{ value = -1, mark", "[stance] fresh_days: more than 0 is wanted"),
    (
        "fresh_days = { value = 14, mark = 'common practice' }",
        "fresh_days = 14",
        "[stance.fresh_days]: a table is",
    ),
    ("40, 'read', 'a_study'", "40, 'read'", "[stance.healthy 1] source: missing"),
    ("40, 'read', 'a_study'", "40, 'derived', 'a_study'", "[stance.healthy 1] formula: missing"),
    ("40, 'read', 'a_study'", "'forty', 'read', 'a_study'", "[stance.healthy 1] value: a number is wanted"),
    ("40, 'read', 'a_study'", "40", "[stance.healthy 1] mark: missing"),
    (
        "['mean of adults', 40, 'read', 'a_study']",
        "40",
        "[stance] healthy 1: a row is a list of says, value, mark",
    ),
    ("40, 'read', 'a_study'", "40, 'read', 'a_study', '', 'jog', 'x'", "[stance] healthy 1: a row is a list"),
]

SENSE = [
    ("low = 0\nhigh = 45", "low = 45\nhigh = 45", "[stance] low: 45 is not below high, 45"),
    ("usual_low = 1", "usual_low = 44", "[stance] usual_low: 44 is not below usual_high, 44"),
    ("usual_low = 1", "usual_low = -1", "[stance] usual_low: -1 is outside the limits, 0 to 45"),
    ("usual_high = 44", "usual_high = 50", "[stance] usual_high: 50 is outside the limits, 0 to 45"),
    ("cap = 45", "cap = 60", "[stance] cap: 60 is outside the limits, 0 to 45"),
    ("counted = 3", "counted = 0", "[stance] counted: at least one trial counts"),
    ("counted = 3", "counted = 1", "[stance] aggregate: best of 1: single goes with one trial"),
    ("aggregate = 'best'", "aggregate = 'single'", "[stance] aggregate: single of 3"),
    ("symmetry = 'none'", "symmetry = 'lsi'", "[pain] symmetry: not paired, so no sides to compare"),
    ("loading = true", "loading = true\nordinal = true", "[stance] ordinal: grades have no mean"),
    ("steps = ['Stand on one leg.']\n", "", "[stance] steps: missing: say how it is measured"),
    ("short_forms = ['st']", "short_forms = ['St']", "[stance] short_forms: 'St' is not lower snake case"),
    ("short_forms = ['st']", "short_forms = ['r']", "[stance] short_forms: 'r' means something else"),
    ("short_forms = ['st']", "short_forms = ['st', 'st']", "[stance] short_forms: 'st' is used twice"),
    ("short_forms = ['st']", "short_forms = ['pain']", "'pain' is used twice: it already finds pain"),
]

ERRORS = [
    ("value = 4.2", "value = 4.4", "[stance.errors 1] mdc_between: 4.4 is not 2.77 x SEM 1.5, which is 4.16"),
    ("value = 1.5", "value = 0", "[stance.errors 1] sem_between: an error is more than 0"),
    ("sem_within = { value = 1.0", "sem_within = { value = 2.0", "an MDC of 5.54 within a visit is more than 4.2"),
    ("name = 'one examiner'", "name = 'two'\nexaminers = 2", "[stance.errors 1] examiners: the first family"),
    ("name = 'one examiner'", "name = 'none'\nexaminers = 0", "[stance.errors 1] examiners: at least one"),
    (
        "[pain]",
        "[[stance.errors]]\nid = 'usual'\nname = 'again'\nsem_between = { value = 2.0, mark = 'read', "
        "source = 'another' }\n[pain]",
        "[stance.errors 2] id: 'usual' is used twice",
    ),
    (
        "[pain]",
        "[[stance.errors]]\nid = 'empty'\nname = 'none'\n[pain]",
        "[stance.errors 2] id: an error family without",
    ),
    (
        "[pain]",
        "[[stance.errors]]\nid = 'gap'\nname = 'gap'\n"
        "sem_within = { value = 1.0, mark = 'read', source = 'a_study' }\n"
        "gap_mdc = { value = 3.9, mark = 'read', source = 'a_study' }\n[pain]",
        "[stance.errors 2] gap_mdc: there is no error of one side between visits",
    ),
    (
        "mdc_between = { value = 4.2",
        "gap_mdc = { value = 7, mark = 'read', source = 'another' }\nmdc_between = { value = 4.2",
        "[stance.errors 1] gap_mdc: 7 is not root 2 x 4.2, and no one study gives both",
    ),
    (
        "mdc_between = { value = 4.2",
        "gap_mdc = { value = 4.1, mark = 'read', source = 'a_study' }\nmdc_between = { value = 4.2",
        "[stance.errors 1] gap_mdc: 4.1 is less than one side's, 4.2",
    ),
    (
        "protocol = 'asked'",
        "protocol = 'asked'\n[[pain.errors]]\nid = 'x'\nname = 'x'\n"
        "mdc_between = { value = 2, mark = 'read', source = 'a_study' }\n"
        "gap_mdc = { value = 2.8, mark = 'derived', formula = 'root 2 x 2' }",
        "[pain.errors 1] gap_mdc: a measure that is not paired has no gap",
    ),
]


@pytest.mark.parametrize(("was", "now", "wanted"), [*FIELDS, *FIGURES, *SENSE, *ERRORS])
def test_measures_are_refused(was: str, now: str, wanted: str, tmp_path: Path) -> None:
    text = said(tmp_path, "measures/all.toml", was, now)
    assert text.startswith(("measures/all.toml: ", "measures: "))
    assert wanted in text


@pytest.mark.parametrize(
    ("was", "now", "wanted"),
    [
        ("[glide]\n", "[Glide]\n", "[Glide] id: 'Glide' is not lower snake case"),
        ("short_forms = ['test']", "short_forms = ['glide']", "[stance_test] short_forms: 'glide' is used twice"),
        ("kind = 'paced reps'", "kind = 'reps'", "[glide] kind: unknown 'reps'; it can be paced reps"),
        ("sides = 'injured'", "sides = 'left'", "[glide] sides: unknown 'left'; it can be injured, both, none"),
        ("surface = 'firm'", "surface = 'sand'", "[stance_test] surface: unknown 'sand'"),
        ("domain = 'range of motion'", "domain = 'luck'", "[glide] domain: unknown 'luck'"),
        ("phases = [{ word = 'LUNGE', seconds = 2 }]", "", "[glide.dose] phases: missing: paced reps needs it"),
        ("seconds = 2", "seconds = 0", "[glide.dose.phases 1] seconds: a phase lasts more than 0 s"),
        ("reps = 10", "reps = 10\nhold_s = 5", "[glide.dose] hold_s: paced reps has no use for it"),
        ("reps = 10", "reps = 10\nrest_s = -5", "[glide.dose] rest_s: -5 s is less than none"),
        ("reps = 10", "reps = 10\npace = 60", "[glide.dose] pace: unknown key"),
        ("sets = 3\nreps", "sets = 0\nreps", "[glide.dose] sets: at least one set is wanted"),
        ("cap_s = 45", "", "[stance_test.dose] cap_s: missing: hold to loss needs it"),
        ("ends = 'A foot down.'\n", "", "[stance_test] ends: missing: say what ends the hold"),
        ("directions = ['in', 'out']\n", "", "[shifts] directions: missing"),
        (
            "ask_pain = true",
            "ask_pain = true\ndirections = ['in', 'out']",
            "[glide] directions: one for each of the 3 sets is wanted",
        ),
        ("ask_pain = true\n", "", "[glide] ask_pain: what must be painless asks about pain"),
        (
            "painless = true\nloading = true\ncautions = ['sore']",
            "painless = true\nloading = true",
            "[glide] cautions",
        ),
        ("painless = true", "painless = true\nmeasure = 'stance'", "[glide] measure: paced reps gives no value"),
        ("minutes = 6", "minutes = 0", "[glide] minutes: more than 0 is wanted"),
        (
            "mark = 'common practice'\nminutes = 6",
            "mark = 'derived'\nminutes = 6",
            "[glide] mark: derived is for single",
        ),
        ("mark = 'common practice'\nminutes = 6", "mark = 'read'\nminutes = 6", "[glide] source: missing"),
        ("source = 'a_study'\nminutes", "source = 'nobody'\nminutes", "[stance_test] source: 'nobody' is not in"),
        ("cautions = ['sore']", "cautions = ['cold']", "[stance_test] cautions: 'cold' is not in cautions.toml"),
        ("measure = 'stance'", "measure = 'hop'", "does not name this measure back"),
    ],
)
def test_activities_are_refused(was: str, now: str, wanted: str, tmp_path: Path) -> None:
    assert wanted in said(tmp_path, "activities/all.toml", was, now)


@pytest.mark.parametrize(
    ("file", "was", "now", "wanted"),
    [
        ("measures/all.toml", "bout = 'stance_test'", "bout = 'hop'", "measures: [stance] bout: 'hop' is not in"),
        (
            "measures/all.toml",
            "bout = 'stance_test'",
            "bout = 'glide'",
            "[stance] bout: 'glide' does not name this",
        ),
        (
            "measures/all.toml",
            "bout = 'stance_test'\n",
            "",
            "activities: [stance_test] measure: 'stance' does not",
        ),
        ("measures/all.toml", "cap = 45", "cap = 40", "'stance_test' stops at 45 s, and the measure's cap is 40"),
        ("measures/all.toml", "counted = 3", "counted = 4", "'stance_test' has 3 sets, and 4 trials count"),
        ("measures/all.toml", "cautions = ['sore']", "cautions = ['cold']", "[stance] cautions: 'cold' is not in"),
        ("activities/all.toml", "sides = 'both'", "sides = 'injured'", "'stance_test' has sides injured"),
        ("sources.toml", "smith_2021 = 'Domains'", "", "[domains] source: 'smith_2021' is not in sources.toml"),
        ("sources.toml", "another = 'Another study'", "another = ''", "sources.toml: [sources] another: text is"),
        ("cautions.toml", "says = 'Not on a sore leg.'\n", "", "cautions.toml: [sore] says: missing"),
        ("cautions.toml", "mark = 'common practice'", "mark = 'read'", "cautions.toml: [sore] source: missing"),
        (
            "cautions.toml",
            "mark = 'common practice'",
            "mark = 'read'\nsource = 'nobody'",
            "cautions.toml: [sore] source: 'nobody' is not in sources.toml",
        ),
        ("visit.toml", "kind = 'note'", "kind = 'lunch'", "visit.toml: [visit.step 4] kind: unknown 'lunch'"),
        ("visit.toml", "id = 'after'", "id = 'before'", "[visit.step 3] id: 'before' is used twice"),
        ("visit.toml", "kind = 'activity'\nref = 'glide'", "kind = 'activity'", "[visit.step 2] ref: missing"),
        (
            "visit.toml",
            "kind = 'note'",
            "kind = 'note'\nref = 'x'",
            "[visit.step 4] ref: a step of kind note names",
        ),
        ("visit.toml", "minutes = 10", "minutes = 0", "[visit.step 2] minutes: more than 0 is wanted"),
        ("visit.toml", "minutes = 10", "minutes = 16", "the steps take 31 min and the slot has 30"),
        ("visit.toml", "kind = 'measure'", "kind = 'activity'", "'stance' is tested again without having been"),
        ("visit.toml", "ref = 'glide'", "ref = 'hop'", "visit.toml: [step treat] ref: 'hop' is not in activities"),
        ("visit.toml", "mark = 'common practice'", "mark = 'read'", "visit.toml: [visit.slot] source: missing"),
    ],
)
def test_tables_that_do_not_fit_together_are_refused(
    file: str, was: str, now: str, wanted: str, tmp_path: Path
) -> None:
    assert wanted in said(tmp_path, file, was, now)


def test_an_activity_that_measures_what_is_not_there_is_refused(tmp_path: Path) -> None:
    write_tables(
        tmp_path,
        "activities/all.toml",
        "[glide]\n",
        "[extra]\n"
        + TABLES["activities/all.toml"]
        .split("[glide]")[0]
        .split("[stance_test]\n")[1]
        .replace("measure = 'stance'", "measure = 'hop'")
        .replace("[stance_test.dose]", "[extra.dose]")
        .replace("short_forms = ['test']\n", "")
        + "[glide]\n",
    )
    with pytest.raises(KnowledgeError, match=r"\[extra\] measure: 'hop' is not in measures"):
        load(tmp_path).check()


@pytest.mark.parametrize("file", sorted(file for file in TABLES if "/" not in file))
def test_a_missing_file_is_named(file: str, tmp_path: Path) -> None:
    (write_tables(tmp_path) / file).unlink()
    with pytest.raises(KnowledgeError, match=rf"^{file}: cannot be read: No such file"):
        load(tmp_path).check()


def test_a_folder_without_measures_is_named(tmp_path: Path) -> None:
    (write_tables(tmp_path) / "measures/all.toml").unlink()
    with pytest.raises(KnowledgeError, match=r"^measures: no table stands in this folder"):
        load(tmp_path).check()


def test_one_measure_stands_in_one_file_only(tmp_path: Path) -> None:
    (write_tables(tmp_path) / "measures/more.toml").write_text("[pain]\nname = 'pain'\n")
    with pytest.raises(KnowledgeError, match=r"^measures/more.toml: \[pain\]: it stands in measures/all.toml"):
        load(tmp_path).check()


def test_measures_are_in_the_order_of_their_files(tmp_path: Path) -> None:
    text = TABLES["measures/all.toml"]
    stance, pain = text.split("[pain]")
    write_tables(tmp_path)
    (tmp_path / "measures/all.toml").unlink()
    (tmp_path / "measures/2_first.toml").write_text(stance)
    (tmp_path / "measures/1_last.toml").write_text("[pain]" + pain)
    assert list(load(tmp_path).measures) == ["pain", "stance"]


def test_a_wrong_measure_that_nobody_asks_for_does_no_harm(tmp_path: Path) -> None:
    knowledge = load(write_tables(tmp_path, "measures/all.toml", "counted = 1", "counted = 0"))
    assert knowledge.measures["stance"].counted == 3
    with pytest.raises(KnowledgeError, match="at least one trial counts"):
        knowledge.measures["pain"]


@pytest.mark.parametrize("bytes_", [b"[stance\n", b"[stance]\nname = 'a'\nname = 'b'\n", b"name = '\xff'\n"])
def test_what_is_no_toml_is_named(bytes_: bytes, tmp_path: Path) -> None:
    (write_tables(tmp_path) / "measures/all.toml").write_bytes(bytes_)
    with pytest.raises(KnowledgeError, match=r"^measures/all.toml: is no TOML text: "):
        list(load(tmp_path).measures.values())


def test_a_table_is_read_only_when_it_is_used(tmp_path: Path) -> None:
    """A list of people needs measures and their sources, and nothing else."""
    write_tables(tmp_path)
    for file in ("activities/all.toml", "cautions.toml", "visit.toml"):
        (tmp_path / file).write_text("this is no TOML")
    knowledge = Knowledge(tmp_path)
    assert knowledge.measures["stance"].error is not None
    assert knowledge.find_measure("st") is knowledge.measures["stance"]
    for use in ("activities", "cautions", "visit_plan"):
        with pytest.raises(KnowledgeError, match="is no TOML text"):
            getattr(knowledge, use)


CRITERIA = [
    ("it heals for {} weeks", "weeks until it heals", "[jog] advice: 'weeks until it heals': {} is wanted once"),
    ("[jog]\n", "[fly]\n", "[fly]: no such stage; the stages are walk, jog"),
    ("id = 'pain'", "id = 'balance'", "[jog.criterion 2] id: 'balance' is used twice"),
    ("id = 'pain'", "id = ''", "[jog.criterion 2] id: missing"),
    ("measure = 'pain'", "measure = 'luck'", "[jog] pain measure: 'luck' is not in the measures"),
    ("{ at_most = 2 }", "{ at_least = 2 }", "[jog] pain: at_least on a measure where lower is better"),
    ("{ at_most = 2 }", "{ within = 2 }", "[jog] pain: pain has no sides"),
    ("{ at_most = 2 }", "{ yes = true }", "[jog] pain: pain is in 0-10, and a yes is of yes/no only"),
    ("{ at_most = 2 }", "{ yes = false }", "only true can be wanted"),
    ("{ at_most = 2 }", "{}", "needs: one of at_least, at_most"),
    ("{ at_most = 2 }", "{ at_most = 2, within = 1 }", "needs: one of at_least, at_most"),
    ("{ at_most = 2 }", "{ below = 2 }", "below: unknown key"),
    ("{ within = 5 }]", "{ within = -5 }]", "within: a distance is not below 0"),
    ("{ within = 5 }]", "{ share = 80 }]", "share: a share of the uninjured side is above 0, as 0.8"),
    (", { within = 5 }]", "]", "any: two or more lines on a value are wanted"),
    ("domain = 'pain'", "domain = 'luck'", "[jog.criterion 2] domain: unknown 'luck'"),
    ("30, 'read', 'another'", "30, 'read', 'nobody'", "'nobody' is not in sources.toml"),
]


@pytest.mark.parametrize(("was", "now", "says"), CRITERIA)
def test_a_wrong_criterion_is_named(was: str, now: str, says: str, tmp_path: Path) -> None:
    text = said(tmp_path, "criteria.toml", was, now)
    assert text.startswith("criteria.toml: [")
    assert says in text


def test_a_stage_without_a_criterion_is_refused(tmp_path: Path) -> None:
    (write_tables(tmp_path) / "criteria.toml").write_text("[walk]\n")
    with pytest.raises(KnowledgeError, match="would be met by nothing"):
        load(tmp_path).check()
