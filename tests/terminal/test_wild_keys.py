"""Random keys on every screen of the installed program: it never crashes, and the record stays whole."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

import tui.command
from tests.terminal.driver import Terminal
from tests.terminal.keys import NAMED
from tests.terminal.programs import installed
from tests.terminal.walk import Walk

SEED = 2026
EACH = 23
"""Keys on each screen, in one burst: 322 on the fourteen."""

WHO = "R.K."
"""Found by name: who stands first in the caseload hangs on the day of the week."""

WAYS: dict[str, tuple[tuple[str, str], ...]] = {
    "the caseload": (),
    "a new person": (("f2", "new person and episode"),),
    "an episode": (("enter", "next stage"),),
    "a visit": (("f8", "x end visit"),),
    "what has changed": (("f8", "x end visit"), ("space", "or a line")),
    "trial by trial": (("enter", "next stage"), ("m", "trial 1 of")),
    "one line": (("f8", "x end visit"), ("m", "measure anything")),
    "the timers": (("f8", "x end visit"), ("t", "choose a timer")),
    "a timer": (("f8", "x end visit"), ("t", "choose a timer"), ("enter", "space start")),
    "a bout": (
        ("f8", "x end visit"),
        ("t", "choose a timer"),
        ("enter", "space start"),
        ("pedal", "to the start"),
    ),
    "the chart": (("enter", "next stage"), ("g", "other measure")),
    "where from": (("enter", "next stage"), ("i", "where it comes from")),
    "help": (("f1", "esc back"),),
    "the palette": (("ctrl+p", "Search"),),
}
"""How each screen is reached from the caseload: a key, and what it shows."""

LEFT_OUT = ("ctrl+q",)  # it closes the program, as it should
TYPED = tuple("0123456789.,-+*/ ?abcdefghijklmnoprstuvxyzGLR'\"%=é漢٣🦶")
POOL = (*(key for key in NAMED if key not in LEFT_OUT), *TYPED, *TYPED)


@pytest.mark.parametrize("place", WAYS)
def test_random_keys_do_no_harm(place: str, demo: Path, tmp_path: Path) -> None:
    file, home = tmp_path / "record.sqlite", tmp_path / "home"
    shutil.copy(demo, file)
    keys = random.Random(f"{SEED} {place}").choices(POOL, k=EACH)
    with Terminal(installed(file), home=home) as terminal:
        walk = Walk(terminal)
        walk.sees("open,", WHO)
        if place != "the caseload":
            walk.find(WHO)
        for key, shows in WAYS[place]:
            if key == "pedal":
                walk.pedal(shows)
            else:
                walk.press(key, shows)
        for key in keys:
            terminal.press(key)
        terminal.press("ctrl+q")
        status = terminal.wait_exit()
    logs = [log.read_text() for log in (home / "state").rglob("*.log")]
    assert (status, logs) == (0, []), f"after {keys}: {terminal.view().text}"
    assert tui.command.main(["check", "--file", str(file)]) == 0
