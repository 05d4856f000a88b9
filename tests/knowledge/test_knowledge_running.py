"""The ladders, the rule and the check of single runs: marked, climbing, refused in a sentence where wrong."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from store.knowledge.load import KnowledgeError, load
from store.knowledge.running import LIMITS, Ladder, Rule, Rung
from store.knowledge.settings_read import read_settings
from store.knowledge.words import Mark
from tests.knowledge.small_tables import write_tables

KNOWN = load()
RUNNING = KNOWN.running
LADDERS = tuple(RUNNING.ladders.values())


def ladder_id(ladder: Ladder) -> str:
    return ladder.id


def test_the_usual_ladder_has_nine_rungs_up_to_half_an_hour_and_says_that_it_is_common_practice() -> None:
    usual = RUNNING.ladders[RUNNING.ladder]
    assert [rung.words for rung in usual.rungs] == [
        "1:4x5", "2:3x5", "3:2x5", "4:1x5", "5:1x4", "8:1x3", "10:1x3", "15:1x2", "30 continuous",
    ]  # fmt: skip
    assert [rung.minutes for rung in usual.rungs] == [5, 10, 15, 20, 20, 24, 30, 30, 30]
    assert (usual.mark, usual.source) == (Mark.COMMON, "")


def test_the_first_rung_is_the_one_of_the_timer() -> None:
    dose = KNOWN.activities["walk_run"].dose
    first = RUNNING.ladders["nine_rungs"].rung(1)
    assert [(phase.word, phase.seconds) for phase in dose.phases] == [("WALK", 240), ("RUN", 60)]
    assert (first.walk_min, first.run_min, first.rounds) == (4, 1, dose.reps)


@pytest.mark.parametrize("ladder", LADDERS, ids=ladder_id)
def test_a_ladder_never_asks_for_less_on_a_higher_rung(ladder: Ladder) -> None:
    for what in ("minutes", "longest", "km"):
        known = [getattr(rung, what) for rung in ladder.rungs if getattr(rung, what) is not None]
        assert known == sorted(known), what
    assert [rung.number for rung in ladder.rungs] == list(range(1, len(ladder.rungs) + 1))


@pytest.mark.parametrize("ladder", LADDERS, ids=ladder_id)
def test_a_rung_is_found_by_how_it_is_written(ladder: Ladder) -> None:
    for rung in ladder.rungs:
        found = ladder.called(f" {rung.words.upper()} ")
        assert found is not None
        assert found.words == rung.words
    assert ladder.called("7:7x7") is None
    assert ladder.rung(0) == ladder.rungs[0]
    assert ladder.rung(99) == ladder.rungs[-1]


@pytest.mark.parametrize("ladder", LADDERS, ids=ladder_id)
def test_every_figure_of_the_rule_says_what_it_is(ladder: Ladder) -> None:
    assert set(LIMITS) == set(Rule._fields)
    assert all(figure.says for figure in ladder.rule)
    if ladder.source:
        assert ladder.source in KNOWN.sources


def test_published_ladders_keep_their_own_rule_and_the_bound_of_pain_of_the_ankle() -> None:
    soldiers, shins = RUNNING.ladders["soldiers"].rule, RUNNING.ladders["shin_stress"].rule
    assert (soldiers.clean_to_rise.value, soldiers.rungs_down.value) == (2, 0)
    assert soldiers.clean_to_rise.mark is Mark.READ
    assert shins.clean_to_rise.value == 1
    assert soldiers.most_pain.value == shins.most_pain.value == 2


def test_a_rung_says_how_it_goes() -> None:
    assert Rung(1, 3, 2, km=1.6).words == "3:2 1.6 km"
    assert Rung(6, None, km=3.2).words == "3.2 km continuous"
    assert Rung(6, None, km=3.2).minutes is None


def test_what_is_told_beside_a_plan_names_ground_goal_and_protocol() -> None:
    told = {one.id: one.says for one in RUNNING.cautions}
    assert "last" in told["ground"]
    assert "braced or taped" in told["ground"]
    assert "not the goal date" in told["goal"]
    assert "local protocol" in told["local"]


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        (
            "{ run_min = 30, rounds = 1 }",
            "{ run_min = 30, walk_min = 1, rounds = 1 }",
            "the last one without a walk",
        ),
        ("{ run_min = 1, walk_min = 4, rounds = 5 }", "{ run_min = 1, walk_min = 4 }", "one of the two"),
        ("{ run_min = 1, walk_min = 4, rounds = 5 }", "{ walk_min = 4, rounds = 5 }", "minutes run"),
        ("{ run_min = 1, walk_min = 4, rounds = 5 }", "{ run_min = 0, walk_min = 4, rounds = 5 }", "more than 0"),
        ("[rule.clean_to_rise]\nvalue = 2", "[rule.clean_to_rise]\nvalue = 1.5", "a whole number from 1 to 10"),
        ("[rule.bad_pain]\nvalue = 5", "[rule.bad_pain]\nvalue = 1", "not below the most of a clean session"),
        ("'frandsen_2025', '', '110'", "'frandsen_2025', '', ''", "from which a row counts"),
        ("default = 'nine_rungs'", "default = 'ten'", "unknown 'ten'"),
        ("name = 'nine rungs'", "name = 'nine rungs'\nhue = 1", "unknown key"),
    ],
)
def test_a_wrong_table_is_refused_by_file_table_and_key(tmp_path: Path, was: str, now: str, says: str) -> None:
    file = write_tables(tmp_path) / "running.toml"
    text = file.read_text(encoding="utf-8")
    assert was in text
    file.write_text(text.replace(was, now, 1), encoding="utf-8")
    with pytest.raises(KnowledgeError, match=rf"^running\.toml: \[.*{re.escape(says)}"):
        _ = load(tmp_path).running


# a clinic's own


def test_a_clinic_chooses_a_ladder_and_its_own_figures_which_are_shown_as_theirs() -> None:
    found = read_settings('[running]\nladder = "soldiers"\nclean_to_rise = 3\nmost_pain = 1\n', KNOWN)
    assert not found.faults
    own = load(settings=found).running
    assert own.ladder == "soldiers"
    for ladder in own.ladders.values():
        assert (ladder.rule.clean_to_rise.value, ladder.rule.clean_to_rise.mark) == (3, Mark.CLINIC)
    assert "by default 2" in own.ladders["soldiers"].rule.clean_to_rise.says
    assert [(one.entry, one.default, one.now) for one in found.changes] == [
        ("running.ladder", "nine_rungs", "soldiers"),
        ("running.clean_to_rise", "2", "3"),
        ("running.most_pain", "2", "1"),
    ]


def test_the_shipped_ladder_changes_nothing() -> None:
    found = read_settings('[running]\nladder = "nine_rungs"\nclean_to_rise = 2\n', KNOWN)
    assert (found.changes, found.ladder, dict(found.run_rule)) == ((), "", {})


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('ladder = "nine_rung"', "did you mean nine_rungs?"),
        ("clean_to_rise = 0", "a whole number from 1 to 10 is wanted"),
        ("a_week = 2.5", "a whole number from 1 to 7 is wanted"),
        ("bad_pain = 1", "below most_pain"),
        ("hue = 1", "not one of the figures of running"),
    ],
)
def test_a_slip_in_the_settings_is_told_with_its_line_and_the_default_holds(line: str, says: str) -> None:
    found = read_settings(f"[running]\n{line}\n", KNOWN)
    (fault,) = found.faults
    assert says in fault.text
    assert fault.line == 2
    assert load(settings=found).running == RUNNING
