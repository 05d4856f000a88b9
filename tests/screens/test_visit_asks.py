"""What is asked before a step with a person whom it puts at risk, wherever it is started from."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import safety, visits
from store.record.episodes import revise_episode
from tests.helpers.fit import text_of
from tests.helpers.unhurried import unhurried
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.visit import VisitScreen
from tui.widgets import commands


@pytest.fixture
def app(tmp_path: Path) -> VisitStage:
    return staged(tmp_path)


def line_of(app: VisitStage, name: str) -> str:
    return next(row for row in text_of(app).splitlines() if name in row)


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


async def test_no_consent_and_cautions_mark_the_steps_and_ask_once(app: VisitStage) -> None:
    visits.said(app.care, app.care.visit(app.visit_id), "pain 2 consent n")
    safety.reask(app.care, app.care.visit(app.visit_id))
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "! lunge" in line_of(app, "lunge  ")
        assert "mind: no consent" in text_of(app)
        await pilot.press("space")
        await shown(pilot)
        assert "Consent was refused today: ask again first." in text_of(app)
        assert "space again goes on." in text_of(app)
        assert isinstance(app.screen, VisitScreen)
        app.set_clock.move(1)
        await pilot.press("down", "up", "space")
        assert isinstance(app.screen, VisitScreen)  # another key took the question back
        await pilot.press("space")
        assert isinstance(app.screen, VisitScreen)  # and a second tap is no answer
        await unhurried(pilot, "space")
        await shown(pilot)
        assert app.opened[-1][0] == commands.TRIALS
        await pilot.press("escape", "down", "space")
        await shown(pilot)
        assert app.opened[-1] == (commands.BOUT, {"visit": app.visit_id, "activity": "mobilisation_belt"})


@pytest.mark.parametrize(("key", "name"), [("t", "belt"), ("m", "lunge")])
async def test_anything_else_asks_for_the_same_reasons(app: VisitStage, key: str, name: str) -> None:
    episode = app.care.episode(app.episode.id)
    revise_episode(app.care.record, episode._replace(anticoagulant=True), by="AB", because="told later")
    app.noted |= {commands.TRIALS}
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press(key, *name, "enter")
        await shown(pilot)
        opened = {"t": commands.PICK, "m": commands.LINE}[key]
        assert app.opened[-1][0] == opened
        assert "On anticoagulants: ask first" in text_of(app)
        await pilot.press("enter")
        await shown(pilot)
        assert app.opened[-1][0] == opened, "a second tap is no answer"
        await unhurried(pilot, "enter")
        await shown(pilot)
        assert app.opened[-1][0] in (commands.BOUT, commands.TRIALS)
