"""What a terminal and its machine may do to a running program: no colour, a flood of text, a sleep, hasty keys."""

from __future__ import annotations

import json
import re
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.terminal.driver import Terminal
from tests.terminal.giant import giant
from tests.terminal.peek import one, rows
from tests.terminal.programs import installed
from tests.terminal.walk import Walk

LOOK = re.compile(rb"\x1b\[([0-9;:]*)m")
COLOURS = {str(n) for n in (*range(30, 39), *range(40, 49), *range(90, 98), *range(100, 108))}
FLOOD = 10_000
SLEPT_S = 6.0


@pytest.fixture
def file(tmp_path: Path, demo: Path) -> Path:
    return Path(shutil.copy(demo, tmp_path / "record.sqlite"))


@pytest.fixture
def walk(tmp_path: Path, file: Path) -> Iterator[Walk]:
    with Terminal(installed(file), home=tmp_path / "home") as terminal:
        started = Walk(terminal)
        started.sees("open,", "R.K.")
        yield started


def test_without_colour_every_screen_still_says_it_in_words(tmp_path: Path, file: Path) -> None:
    with Terminal(installed(file), home=tmp_path / "home", env={"NO_COLOR": "1"}) as terminal:
        walk = Walk(terminal)
        walk.sees("open,", "R.K.")
        walk.find("R.K.")
        walk.press("enter", "next stage", "LEFT ◀", "▶ RIGHT injured", "short", "within measurement error")
        walk.press("g", "weight-bearing lunge", "against the uninjured side", "jog 8")
        walk.press("esc", "next stage")
        walk.press("i", "where it comes from")
        walk.press("esc", "next stage")
        walk.press("v", "▸   what has changed", "◀ left   right ▶", "injured")
        walk.press("t", "choose a timer")
        walk.type("belt")
        walk.press("enter", "cautions", "space start")
        walk.pedal("rep 1 of 10", "▶ injured")
        walk.saw(lambda view: {"RIGHT", "LUNGE"} <= set(giant(view)), "RIGHT and LUNGE in giant letters")
        walk.press("5", "pain 5 in set 1", "! change the glide")
        assert "PAUSED" in giant(walk.view)
        used = {part for look in LOOK.findall(bytes(terminal.raw)) for part in re.split("[;:]", look.decode())}
    assert used, "not even bold is used"
    assert not used & COLOURS


def test_a_flood_in_the_search_finds_nobody_and_goes_again(walk: Walk) -> None:
    walk.terminal.paste("x" * FLOOD)
    walk.sees("Nobody here has a label with")
    walk.press("esc", "A.O.", "R.K.")
    walk.terminal.paste("R.K.\nand a second line\x07\t")
    view = walk.terminal.wait_gone("A.O.")
    assert "R.K." in view.line_with("▸")


def test_a_flood_in_one_line_saves_nothing_and_says_why(walk: Walk, file: Path) -> None:
    walk.find("R.K.")
    before = one(file, "select count(*) from reading")
    walk.press("f8", "x end visit")
    walk.press("m", "measure anything")
    flood = "lunge left " + "9 " * (FLOOD // 2)
    walk.terminal.paste(flood)
    walk.sees(f"the line has {len(flood)} characters and may have 1000")
    walk.press("enter", "! ", "type one measure with its values")
    walk.press("esc", "This line is not saved")
    walk.press_unhurried("esc", "x end visit")
    assert one(file, "select count(*) from reading") == before


def test_keys_typed_ahead_of_the_program_land_where_they_are_meant(walk: Walk, file: Path) -> None:
    walk.find("R.K.")
    walk.press("enter", "next stage")
    walk.press("m", "trial 1 of 3")
    taken = rows(file, "select count(*) from reading")[0][0]
    walk.terminal.type("10.2\r10.4\r10.3\r4.8\r5.1\r4.9\r")
    walk.sees("x end visit")
    new = rows(file, "select side, trials from reading order by id limit -1 offset ?", taken)
    assert [json.loads(trials) for _, trials in new] == [[10.2, 10.4, 10.3], [4.8, 5.1, 4.9]]


def test_a_machine_that_slept_pauses_the_bout_where_it_was(walk: Walk, file: Path) -> None:
    walk.find("R.K.")
    walk.press("f8", "x end visit")
    walk.press("t", "choose a timer")
    walk.type("belt")
    walk.press("enter", "space start")
    walk.pedal("rep 1 of 10")
    walk.saw(lambda view: "HOLD" in giant(view), "HOLD in giant letters")
    walk.terminal.kill(signal.SIGSTOP)
    walk.terminal.watch(SLEPT_S)
    walk.terminal.kill(signal.SIGCONT)
    view = walk.sees("The computer stood still", "rep 1 of 10    set 1 of 3")
    assert "PAUSED" in giant(view)
    ((data,),) = rows(file, "select data from bout_event where kind = 'gap'")
    assert SLEPT_S * 1000 - 100 <= json.loads(data)["ms"] <= SLEPT_S * 1000 + 5000
    latest = "select at_ms from bout_event where bout = (select bout from bout_event where kind = 'gap')"
    assert max(at_ms for (at_ms,) in rows(file, latest)) < 3000 + SLEPT_S * 1000
    walk.pedal("space stop", "rep 1 of 10")
