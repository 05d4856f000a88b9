"""Running in one line: every form that is told on screen, and each slip with the word that is at fault."""

from __future__ import annotations

from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.errors import EntryError
from store.entry.runs import SaidPlan, SaidRun, parse_plan, parse_run
from store.knowledge.load import load

LADDERS = load().running.ladders
NINE, SOLDIERS, SHINS = (LADDERS[name] for name in ("nine_rungs", "soldiers", "shin_stress"))
COUNTS = {"nine_rungs": 9, "soldiers": 6, "shin_stress": 6}
WED = date(2026, 11, 25)


def run(line: str) -> SaidRun:
    return parse_run(line, NINE, WED)


def plan(line: str) -> SaidPlan:
    return parse_plan(line, COUNTS, WED)


def test_a_session_in_one_line() -> None:
    assert run("3:2x5 pain 1 swelling no") == SaidRun(rung=NINE.rung(3), pain_during=1, swelling=False)


def test_a_run_in_one_piece_with_minutes_and_distance() -> None:
    found = run("continuous 32 min 5.1 km pain 0")
    assert found == SaidRun(rung=NINE.rung(9), minutes=32, km=5.1, pain_during=0)
    assert run("30 continuous 5,1km pain 0").km == 5.1
    assert run("30 continuous").minutes == 30
    assert parse_run("continuous 17 min", SHINS, WED).rung == SHINS.rung(5)
    assert parse_run("continuous", SHINS, WED).rung == SHINS.rung(6)


def test_the_day_comes_first_and_may_be_left_out() -> None:
    assert run("mon 1:4x5 pain 0 morning 0 swelling no").day == date(2026, 11, 23)
    assert run("yesterday rung 2").day == date(2026, 11, 24)
    assert run("23 nov rung 2").day == date(2026, 11, 23)
    assert run("2026-11-23 rung 2").rung == NINE.rung(2)
    assert run("rung 2").day is None


def test_the_morning_after_by_itself() -> None:
    assert run("morning 0").of_the_morning
    assert run("mon morning 2 usual 1 swelling yes").of_the_morning
    assert not run("mon pain 1 morning 0").of_the_morning
    assert not run("pain 1").of_the_morning


def test_a_rung_by_distance() -> None:
    assert parse_run("3:2 2.4 km pain 0", SOLDIERS, WED).rung == SOLDIERS.rung(2)
    assert parse_run("4:1 3.2 km", SOLDIERS, WED).rung == SOLDIERS.rung(5)
    with pytest.raises(EntryError, match="two rungs are so: type rung 1 or rung 2"):
        parse_run("3:2 pain 0", SOLDIERS, WED)


def test_a_note_stands_in_quotes() -> None:
    assert run('rung 1 note "new  shoes"').note == "new shoes"


@pytest.mark.parametrize(
    ("line", "word", "says"),
    [
        ("", "", "nothing to read"),
        ("7:7x7", "7:7x7", "no rung of this ladder; they are 1:4x5"),
        ("rung 10", "10", "the rungs of this ladder are 1 to 9"),
        ("rung", "rung", "which one"),
        ("3:2x5 pain", "pain", "type 0 to 10"),
        ("3:2x5 pain 11", "11", "from 0 to 10"),
        ("3:2x5 pain 1 pain 2", "pain", "said twice"),
        ("3:2x5 2:3x5", "2:3x5", "said twice"),
        ("3:2x5 rung 2", "3:2x5", "said twice"),
        ("3:2x5 swelling", "swelling", "yes or no"),
        ("3:2x5 swelling maybe", "swelling", "yes or no"),
        ("continuous 32", "32", "minutes or kilometres"),
        ("continuous 900 min", "900", "at most 600 min"),
        ("continuous 0 km", "0", "more than 0"),
        ("3:2x5 note shoes", "note", "in quotes"),
        ("3:2x5 quickly", "quickly", "not understood"),
        ("rung 1 pain 0 morning 0", "rung", "tomorrow's morning is not known yet"),
        ("30 feb rung 1", "30", "calendar"),
    ],
)
def test_a_slip_is_told_with_its_word(line: str, word: str, says: str) -> None:
    with pytest.raises(EntryError, match=says) as found:
        run(line)
    assert found.value.word == word


def test_a_plan_in_one_line() -> None:
    assert plan("mon wed fri from 9 dec") == SaidPlan((0, 2, 4), begins_on=date(2026, 12, 9))
    assert plan("alternate days, rung 3") == SaidPlan((), 3)
    assert plan("soldiers tue thu from tomorrow") == SaidPlan(
        (1, 3), ladder="soldiers", begins_on=date(2026, 11, 26)
    )
    assert plan("from 9 jan 2027").begins_on == date(2027, 1, 9)
    assert plan("from today").begins_on == WED
    assert plan("rung 2") == SaidPlan(rung=2)


@pytest.mark.parametrize(
    ("line", "word", "says"),
    [
        ("", "", "nothing to read"),
        ("mon alternate", "mon", "leave one of the two"),
        ("rung 7 soldiers", "rung", "1 to 6"),
        ("rung 12", "12", "1 to 9"),
        ("from", "from", "from which day"),
        ("from 2026-11-01", "2026-11-01", "past"),
        ("at noon", "at", "not understood"),
    ],
)
def test_a_slip_in_a_plan_is_told_with_its_word(line: str, word: str, says: str) -> None:
    with pytest.raises(EntryError, match=says) as found:
        plan(line)
    assert found.value.word == word


SOME = "3:2x5 pain 1 morning 0 swelling no mon 9 dec from rung km 5.1 note continuous alternate soldiers 32 min"
WORDS = [*SOME.split(), "30.", "2026-11-23", "usual", ",", '"x"', "3:2", "yesterday"]


@given(st.lists(st.sampled_from(WORDS) | st.text(max_size=6), max_size=10))
def test_any_line_is_read_or_refused_in_a_sentence(words: list[str]) -> None:
    line = " ".join(words)
    for ladder in (NINE, SOLDIERS):
        with suppress(EntryError):
            found = parse_run(line, ladder, WED)
            assert found.day is None or found.day <= WED
    with suppress(EntryError):
        assert plan(line).rung in (None, *range(1, 10))
