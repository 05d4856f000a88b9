"""Each screen as it was last looked at: as text at two sizes, and in six cases of colour as a picture.

The text is for reading what a change did to a screen; the pictures hold the colours. Where a change is meant, look
at the diff and write them anew: `pytest -n0 tests/look/test_snapshots.py --snapshot-update`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from syrupy.assertion import SnapshotAssertion
from textual.app import App
from textual.pilot import Pilot

from tests.helpers.fit import misfits, text_of
from tests.look.arriving import arrive, come_to_rest
from tests.look.picture import svg_of
from tests.look.scenes import SCENES
from tui.app import SCREENS_BY_NAME
from tui.widgets import commands

SMALL, LARGE = (80, 24), (120, 40)

SHOWN = {
    commands.CASELOAD: "caseload",
    commands.PERSON: "person",
    commands.EPISODE: "fencer",
    commands.PAGE: "person-page",
    commands.SQUADS: "squads",
    commands.SQUAD: "squad",
    commands.VISIT: "visit",
    commands.TRIALS: "trials",
    commands.LINE: "line",
    commands.PICK: "timers",
    commands.BOUT: "bout",
    commands.CHART: "chart",
    commands.CRITERIA: "ward-criteria",
    commands.HOME: "home",
    commands.RUNNING: "running",
    commands.SIDELINE: "sideline",
    commands.CHECK: "sideline-check",
    commands.PRACTICE: "practice",
    commands.WALK: "assessment-told",
    commands.CASE: "paper-case",
    commands.DRILL: "drill-told",
    commands.PAPERS: "papers",
    commands.SAFETY: "safety",
    commands.SAFETY_AGAIN: "safety-again",
    commands.SAFETY_SOURCE: "safety-source",
    commands.VISITS: "visits",
    commands.READINGS: "readings",
    commands.SOURCE: "source",
    commands.HELP: "help-all",
}
"""Each screen of the program, and a scene of it."""

CASES = {
    "dark": ("dark", False),
    "light": ("light", False),
    "sixteen-dark": ("sixteen-dark", False),
    "sixteen-light": ("sixteen-light", False),
    "no-color-dark": ("dark", True),
    "no-color-light": ("light", True),
}
"""The theme, and whether NO_COLOR is set."""

Compare = Callable[..., bool]


@pytest.fixture(autouse=True)
def plain_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of whoever runs the tests has a say in what is shown."""
    for name in ("NO_COLOR", "COLORFGBG", "COLORTERM", "BOTHFEET_SETTINGS"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TZ", "Europe/Brussels")
    monkeypatch.setenv("LC_ALL", "C.UTF-8")


@pytest.mark.parametrize("name", SHOWN)
async def test_a_screen_reads_as_it_did(name: str, snapshot: SnapshotAssertion) -> None:
    app = SCENES[SHOWN[name]]()
    async with app.run_test(size=SMALL) as pilot:
        await arrive(app, pilot, "dark")
        shown = type(app.screen)
        assert f"{shown.__module__}:{shown.__name__}" == SCREENS_BY_NAME[name]
        assert text_of(app) == snapshot(name="80x24")
        await pilot.resize_terminal(*LARGE)
        await come_to_rest(app, pilot)
        assert misfits(app) == []
        assert text_of(app) == snapshot(name="120x40")


def test_every_screen_is_among_them() -> None:
    assert set(SHOWN) == set(SCREENS_BY_NAME), "a screen has no scene here: add one to SHOWN"


@pytest.mark.parametrize("case", CASES)
def test_a_screen_is_coloured_as_it_was(case: str, snap_compare: Compare, monkeypatch: pytest.MonkeyPatch) -> None:
    theme, colourless = CASES[case]
    if colourless:
        monkeypatch.setenv("NO_COLOR", "1")
    # Our own drawing: no window frame, and no address of a font in it.
    monkeypatch.setattr(App, "export_screenshot", lambda app, **_: svg_of(app))

    async def walk(pilot: Pilot[Any]) -> None:
        await arrive(pilot.app, pilot, theme)

    assert snap_compare(SCENES["fencer"](), terminal_size=SMALL, run_before=walk)
