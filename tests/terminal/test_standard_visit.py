"""The standard visit, walked by keys in a terminal from an empty file to the end, and found again tomorrow.

The program is the installed console script, and the test puts no row into its file. So that minutes of paced work
take seconds, the walk runs on hurried time (hurried.py: the same script; while its loop waits, its clock runs
faster). Set BOTHFEET_TESTS_TRUE_SPEED to walk it as it is. The shorter visit at the end runs at true speed always.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from tests.terminal.driver import Terminal
from tests.terminal.giant import giant
from tests.terminal.keys import KeyCount
from tests.terminal.peek import one, rows
from tests.terminal.programs import as_json, hurried, installed, said
from tests.terminal.standard_visit import LABEL, WEEK, Visited, walk_standard_visit
from tests.terminal.view import Eye
from tests.terminal.walk import Walk

VALUES_BEFORE = re.compile(r"(?<![\d.,:])(11[.,][345]|5[.,][234]|6[.,]1|46[.,]4\d*|46 %)(?!\d)")
"""The trials before, their means 11.4 and 5.3, the gap of 6.1 between them and their index, 46.49 %."""

MOST_KEYS = 60
OF_THE_VISIT = (
    "open", "what has changed", "safety", "lunge", "mobilisation", "hands on", "lunge again", "holds", "shifts",
    "home", "end",
)  # fmt: skip


@pytest.fixture(scope="module")
def visited(tmp_path_factory: pytest.TempPathFactory) -> Visited:
    folder = tmp_path_factory.mktemp("standard visit")
    return walk_standard_visit(folder / "record.sqlite", folder / "home")


def test_it_takes_few_keys(visited: Visited, tell: Callable[[str], None]) -> None:
    counts = {name: visited.counts[name] for name in OF_THE_VISIT}
    for name, count in counts.items():
        tell(f"keys, {name}: {count.figures} figures, {count.other} others, {count.pedal} of them space")
    others = sum(count.other for count in counts.values())
    tell(f"keys of the standard visit beyond its figures: {others} of at most {MOST_KEYS}")
    assert others <= MOST_KEYS


def test_the_parts_of_the_walk_are_all_counted(visited: Visited) -> None:
    assert set(visited.counts) == {*OF_THE_VISIT, "looks", "quit"}
    assert set(visited.before) == {"new person", "home a week before"}
    assert visited.terminal.keys == KeyCount()


def test_hands_on_the_ankle_need_the_pedal_alone(visited: Visited) -> None:
    hands_on = visited.counts["hands on"]
    assert (hands_on.other, hands_on.pedal) == (3, 3)  # one start a set
    assert hands_on.figures == 3  # the pain after each


def test_no_value_of_before_shows_until_the_last_of_after_is_in(visited: Visited) -> None:
    eye, (first, last) = Eye(80, 24), visited.blind
    for at, chunk in enumerate(visited.terminal.chunks[:last]):
        eye.feed(chunk.data)
        shown = eye.changed()
        if at >= first:
            told = [line for line in shown if VALUES_BEFORE.search(line)]
            assert not told, f"{told}\n{eye.view().text}"
    assert VALUES_BEFORE.search("lunge left 11.4, right 5.3 cm")
    for printed in visited.shown:
        assert LABEL in printed
        assert not VALUES_BEFORE.search(printed), printed
    assert len(visited.shown) == 8


def test_the_person_and_the_ankle_are_in_the_file(visited: Visited) -> None:
    file, day = visited.file, visited.day
    assert rows(file, "select label, born from person") == [(LABEL, "1995-04-12")]
    assert rows(file, "select name from examiner") == [("A.B.",)]
    told = "side, structure, grade, brace, goal, sport, level, sprains_left, sprains_right, main_measure"
    assert rows(file, f"select {told} from episode") == [
        (
            "right",
            "lateral ligament",
            "II",
            "laced brace",
            "21 km forest race",
            "orienteering",
            "club",
            0,
            2,
            "lunge",
        )
    ]
    asked = "anticoagulant, loss_of_feeling, hypermobility, injured_on, goal_on, closed_at"
    assert rows(file, f"select {asked} from episode") == [
        (0, 0, 1, f"{day - timedelta(days=20)}", f"{day + timedelta(weeks=15)}", None)
    ]


def test_what_was_said_and_measured_is_in_the_file(visited: Visited) -> None:
    file = visited.file
    said_words = "kind, gave_way, home_done, home_planned, consent_at is not null, ended_at > started_at, examiner"
    assert rows(file, f"select {said_words} from visit where said is not null") == [
        ("clinic", 0, 5, 7, 1, 1, "A.B.")
    ]
    taken = rows(
        file,
        "select measure, side, moment, round(value, 6), trials, blind, status, examiner from reading "
        "where retracted_at is null order by id",
    )
    assert [each[:4] for each in taken] == [
        ("pain_now", None, None, 2.0),
        ("pain_worst", None, None, 4.0),
        ("pain_morning", None, None, 1.0),
        ("lunge", "left", "before", 11.4),
        ("lunge", "right", "before", 5.3),
        ("lunge", "left", "after", 11.7),
        ("lunge", "right", "after", 6.9),
    ]
    assert [json.loads(each[4]) for each in taken[3:]] == [
        [11.3, 11.5, 11.4], [5.2, 5.4, 5.3], [11.6, 11.8, 11.7], [6.8, 7.0, 6.9]
    ]  # fmt: skip
    assert [each[5] for each in taken[5:]] == [1, 1]
    assert {each[6:] for each in taken} == {("measured", "A.B.")}


def test_what_was_done_is_in_the_file(visited: Visited) -> None:
    file = visited.file
    assert rows(file, "select activity, kind, retracted_at from bout where ended_at is not null order by id") == [
        ("mobilisation_belt", "paced reps", None),
        ("hold_firm", "hold of fixed time", None),
        ("direction_shifts", "direction shifts", None),
    ]
    counted = dict(rows(file, "select kind, count(*) from bout_event group by kind"))
    wanted = {"paced_rep": 30, "hold_done": 6, "direction": 12, "fault": 1, "lost_control": 1}
    assert {kind: counted.get(kind) for kind in wanted} == wanted
    assert {"gap", "interrupted", "undo", "stopped"}.isdisjoint(counted)
    pains = rows(file, "select data from bout_event where kind = 'pain'")
    assert [json.loads(data) for (data,) in pains] == [{"n": 0}] * 3
    holds = rows(
        file, "select at_ms, kind from bout_event where kind in ('began', 'hold_done') order by bout, seq"
    )
    ends = [at_ms for at_ms, kind in holds[3:] if kind == "hold_done"]
    starts = [at_ms for at_ms, kind in holds[3:] if kind == "began"][:6]
    assert [end - start for start, end in zip(starts, ends, strict=True)] == [30_000] * 6
    assert said(file, visited.home, "check").strip() == "the record is whole"


def test_the_home_programme_was_carried_over_with_one_change(visited: Visited) -> None:
    file, day = visited.file, visited.day
    kept = rows(
        file, "select issued_on, items, words, visit from programme where retracted_at is null order by id"
    )
    (first_on, first, words, _), (then_on, then, changed, visit) = kept
    assert (first_on, then_on) == (f"{day - timedelta(days=WEEK)}", f"{day}")
    assert words == "first programme"
    assert changed.endswith("; heel raises 4 sets instead of 3 sets")
    assert [(item["activity"], item["sets"]) for item in json.loads(first)] == [("heel_raises", 3)]
    assert [(item["activity"], item["sets"]) for item in json.loads(then)] == [("heel_raises", 4)]
    assert visit == one(file, "select id from visit where said is not null")


def test_the_note_is_signed_and_holds_the_visit(visited: Visited) -> None:
    file = visited.file
    told = "sections, signed_by, student, signed_at is not null, rules is not null, visit"
    ((sections, *signed, visit),) = rows(file, f"select {told} from note where retracted_at is null")
    assert signed == ["A.B.", 0, 1, 1]
    assert visit == one(file, "select id from visit where said is not null")
    parts = json.loads(sections)
    assert "pain: now 2, worst 4, next morning 1" in parts["subjective"]
    assert "safety asked as a group, no change reported" in parts["subjective"]
    assert "left 11.4" in parts["objective"]
    assert "clear gain" in parts["assessment"]
    assert "heel raises: 4 x 12, right" in parts["plan"]


@pytest.fixture(scope="module")
def tomorrow(visited: Visited) -> Iterator[Walk]:
    """The program started again on the next day, at true speed."""
    with Terminal(hurried(visited.file, rate=1.0, days=1), home=visited.home) as terminal:
        yield Walk(terminal)


def test_tomorrow_all_of_it_is_there(visited: Visited, tomorrow: Walk) -> None:
    tomorrow.sees(LABEL, "lunge, 6.1 short", "1 open, 0 seen today")
    view = tomorrow.press("enter", "week 4, day 21", "11.4", "5.3", "6.1 short", "lateral ligament, grade II")
    assert "▸" in view.line_with("lunge, cm")
    tomorrow.press("i", "where it comes from", "5.3, then 6.9: +1.6, clear gain", "mean of 11.3 11.5 11.4")
    tomorrow.press("esc", "v visit")
    tomorrow.press("v", "last visit", "left 11.4  right 5.3", "d leave out")
    assert one(visited.file, "select count(*) from visit") == 3


def test_tomorrow_json_has_all_of_it_too(visited: Visited) -> None:
    people = as_json(visited.file, visited.home, "show")["people"]
    assert [(each["label"], each["injured_side"], each["stage"]) for each in people] == [(LABEL, "right", None)]
    data = as_json(visited.file, visited.home, "show", LABEL)
    assert data["episode"]["goal"] == "21 km forest race"
    lunge = next(each for each in data["measures"] if each["id"] == "lunge")
    assert (lunge["left"]["value"], lunge["right"]["value"], lunge["unit"]) == (11.4, 5.3, "cm")
    assert (lunge["gap"], lunge["deficit"]) == (-6.1, 6.1)
    assert lunge["left"]["trials"] == [11.3, 11.5, 11.4]
    assert lunge["retest"]["change"] == 1.6
    assert lunge["retest"]["verdict"] == "clear gain"
    assert lunge["retest"]["blind"] is True
    told = said(visited.file, visited.home, "show", LABEL)
    assert "left 11.4 cm, right 5.3 cm" in told
    assert "blind: +1.6, clear gain" in told


def test_an_empty_file_and_a_short_bout_at_true_speed(tmp_path: Path) -> None:
    file = tmp_path / "empty.sqlite"
    file.touch()
    with Terminal(installed(file), home=tmp_path / "home") as terminal:
        walk = Walk(terminal)
        walk.sees("Nobody is in this record yet")
        walk.press("f2", "new person and episode")
        walk.fill(("label", tuple("Q.X.")), ("born", ()), ("examiner", tuple("CD")), ("injured side", ("l",)))
        walk.press("ctrl+o", "saved Q.X., left ankle")
        walk.press("v", "3 trials a side")
        for step, downs in (("what has changed", 1), ("safety re-asked", 1), ("lunge", 1)):
            walk.press("d", f"{step}: skipped today")
            terminal.press(*["down"] * downs)
        walk.press("space", "3 sets", "10 reps", "lunge 2 s")
        for part, presses, shows in (
            (1, 2, "1 set "), (1, 7, "3 reps"), (1, 3, "lunge 0.5 s"), (1, 3, "hold 0.5 s"), (1, 3, "back 0.5 s"),
        ):  # fmt: skip
            terminal.press(*["right"] * part, *["down"] * presses)
            walk.sees(shows)
        _three_reps(walk)
        walk.press("0", "pain 0 after set 1")
        walk.pedal("saved mobilisation, belt: 1 set, 3 reps, 4.5 s under load")
    events = rows(
        file, "select kind, at_ms, wall_at from bout_event where kind in ('began', 'paced_rep') order by seq"
    )
    assert [kind for kind, _, _ in events] == ["began", *["paced_rep"] * 3]
    assert [at_ms - events[0][1] for _, at_ms, _ in events] == [0, 1500, 3000, 4500]


def _three_reps(walk: Walk) -> None:
    """Three reps of 1.5 s after a countdown of 3 s: by the clock on the wall no sooner than that."""
    walk.pedal()
    began = time.perf_counter()
    walk.sees("set 1 of 1")
    walk.saw(lambda view: "LUNGE" in giant(view), "LUNGE in giant letters")
    walk.sees("3 of 3 reps")
    took = time.perf_counter() - began
    assert took >= 7.4, f"3 s and 4.5 s took {took:.2f} s"
