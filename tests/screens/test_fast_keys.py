"""Keys that come faster than they are dealt with land where they are meant: in a burst, with no wait between."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.clock.desk import held_disk
from tests.helpers.burst import burst
from tests.helpers.fit import text_of
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.bout import BoutScreen
from tui.screens.line import LineScreen
from tui.screens.trials import TrialsScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands


async def settled(pilot: Pilot[None]) -> None:
    for _ in range(12):
        await pilot.pause()


def on_top(app: VisitStage) -> type:
    return type(app.screen)


async def into_a_bout(app: VisitStage, pilot: Pilot[None]) -> None:
    await pilot.pause()
    app.open(commands.BOUT, visit=app.visit_id, activity="direction_shifts")
    await settled(pilot)
    app.set_clock.move(1)
    await pilot.press("space")
    await settled(pilot)


async def test_the_whole_form_in_one_burst_from_the_plan_to_the_next_step(tmp_path: Path) -> None:
    app = staged(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        burst(app, *" 2 4 1  0 5 7 6 y")
        await settled(pilot)
        assert app.view.said == {
            "pain": "2", "worst": "4", "morning": "1", "gaveway": "0", "home": "5/7", "confidence": "6",
            "consent": "y",
        }  # fmt: skip
        assert isinstance(app.screen, VisitScreen)


async def test_values_in_one_burst_with_the_key_that_opens_trial_by_trial(tmp_path: Path) -> None:
    app = staged(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down")
        burst(app, *" 10.2", "enter", *"10.4", "enter", *"10.1", "enter", *"4.8 4.9", "enter")
        await settled(pilot)
        assert isinstance(app.screen, TrialsScreen)
        assert "right injured  4.8  4.9  now" in text_of(app)
        assert [one.trials for one in app.kept] == [(10.2, 10.4, 10.1)]
        burst(app, "-", *"5.0", "enter", *"4.7", "enter")
        await settled(pilot)
        assert [one.trials for one in app.kept] == [(10.2, 10.4, 10.1), (4.8, 5.0, 4.7)]


async def test_letters_typed_right_after_m_are_text_and_no_commands(tmp_path: Path) -> None:
    app = staged(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        burst(app, *"mgirth l 51 51.2 51.1 r 52 52.4 52.3", "enter")
        await settled(pilot)
        assert [(one.measure, one.side) for one in app.kept] == [("girth", "left"), ("girth", "right")]


async def test_the_key_that_ends_a_bout_pressed_twice_does_not_end_the_visit_behind_it(tmp_path: Path) -> None:
    app = staged(tmp_path, noted=set())
    async with app.run_test(size=(80, 24)) as pilot:
        await into_a_bout(app, pilot)
        await pilot.press("x", "x")
        await settled(pilot)
        await pilot.press("x")
        await settled(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert app.view.visit.ended is None
        app.set_clock.move(1)
        await pilot.press("x")
        await settled(pilot)
        assert app.view.visit.ended is not None


async def test_what_closed_a_bout_does_not_hold_up_another_key(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = staged(tmp_path, noted=set())
    async with app.run_test(size=(80, 24)) as pilot:
        await into_a_bout(app, pilot)
        with held_disk(monkeypatch) as let_go:  # a slow one: the bout is still on the screen when m is pressed
            burst(app, "x", "m")
            await asyncio.sleep(0.1)
            assert on_top(app) is BoutScreen
            let_go.set()
            async with asyncio.timeout(20):
                while on_top(app) is not LineScreen:
                    await pilot.pause(0.02)
