"""Bouts of a plan one after the other: the one key does each, and goes on to the next step."""

from __future__ import annotations

from pathlib import Path

from textual.pilot import Pilot

from store.care.measuring import read_line, save, subject_of
from store.knowledge.words import Step
from store.record import bouts
from store.record.visits import revise_visit
from tests.helpers.fit import text_of
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.bout import BoutScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands

PLAN = (Step("one", "activity", "brace_or_tape", 5), Step("two", "activity", "calf_stretch_bent", 4))


def on_top(app: VisitStage) -> type[object]:
    return type(app.screen)


async def settle(app: VisitStage, pilot: Pilot[None]) -> None:
    await pilot.pause()
    if isinstance(app.screen, BoutScreen):
        await app.screen.settled()
    await pilot.pause()


async def go(app: VisitStage, pilot: Pilot[None], seconds: int) -> None:
    for _ in range(seconds):
        app.set_clock.move(1)
        if isinstance(app.screen, BoutScreen) and app.screen.driver is not None:
            app.screen.driver.wake()
            await app.screen.settled()
    await settle(app, pilot)


async def press(app: VisitStage, pilot: Pilot[None], *keys: str) -> None:
    for key in keys:
        await pilot.press(key)
        await settle(app, pilot)


async def test_the_one_key_walks_the_bouts_of_a_plan(tmp_path: Path) -> None:
    app = staged(tmp_path, noted=set())
    planned = app.care.visit(app.visit_id)._replace(plan=PLAN)
    revise_visit(app.care.record, planned, by="AB", because="two bouts in a row")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(app, pilot)
        for sets in (1, 3):
            assert on_top(app) is VisitScreen
            await go(app, pilot, 1)
            await press(app, pilot, "space")
            assert on_top(app) is BoutScreen
            for _ in range(sets):
                await go(app, pilot, 1)
                await press(app, pilot, "space")
                await go(app, pilot, 3 + (120 if sets == 1 else 31))
                await go(app, pilot, 15)
            await press(app, pilot, "0", "space")
        assert on_top(app) is VisitScreen
        done = bouts.bouts_of_visit(app.care.record, app.visit_id)
        assert [(row.activity, row.ended is not None) for row in done] == [(step.ref, True) for step in PLAN]


async def test_x_doubled_in_the_timer_neither_asks_to_end_the_visit_nor_ends_it(tmp_path: Path) -> None:
    app = staged(tmp_path, noted=set())
    subject = subject_of(app.care, app.care.visit(app.visit_id))
    save(app.care, subject, read_line(app.care, subject, "lunge l 13.7 13.7 13.7 r 6.3 6.3 6.3"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(app, pilot)
        app.open(commands.BOUT, visit=app.visit_id, activity="hold_firm")
        await settle(app, pilot)
        await go(app, pilot, 1)
        await press(app, pilot, "x", "x")
        assert on_top(app) is VisitScreen
        assert "x again ends it" not in text_of(app)
        app.set_clock.move(1)
        await press(app, pilot, "x")
        assert "x again ends it" in text_of(app)
        assert app.care.visit(app.visit_id).ended is None
