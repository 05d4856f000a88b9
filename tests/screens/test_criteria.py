"""What the next stage wants, on screen: each criterion by itself, another stage, the decision and its undo."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care import safety, stages
from store.care.standing import standing
from store.knowledge.criteria import Stage
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.filled import Ward
from tests.screens.made import at
from tui.screens.criteria import CriteriaScreen
from tui.screens.source import SourceScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet

SIZE = (80, 24)


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


async def settled(pilot: Pilot[Any]) -> None:
    for _ in range(3):
        await pilot.pause()


async def on_screen(app: Ward, pilot: Pilot[Any], stage: str = "jog") -> None:
    app.open(commands.CRITERIA, episode=app.episodes["R.K."].id, stage=stage)
    await settled(pilot)
    assert isinstance(app.screen, CriteriaScreen)


def line_of(app: Ward, text: str) -> str:
    return next(line for line in text_of(app).splitlines() if text in line)


async def test_each_criterion_has_its_verdict_value_line_and_age(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot)
        shown = text_of(app)
        assert "ready to jog?" in shown
        assert "[jog]" in shown
        lunge = next(line for line in text_of(app).splitlines() if "lunge" in line and "4.8" in line)
        assert "✗" in lunge
        assert "4.8 cm" in lunge
        assert "at least 8" in lunge
        assert "chance then under 1 %; expected" in shown  # measured two days ago
        assert "? not measured" in line_of(app, "hops on the spot")
        assert "short, error unknown " in line_of(app, "confidence")  # the longest verdict keeps clear of the name
        assert "measure next: " in shown
        assert "a brisk walk of 30 min at pain at most 2" in shown
        assert "no set is validated for this ankle" in shown


async def test_a_decision_beside_a_referral_that_stands_is_asked_about_first(app: Ward) -> None:
    draft = safety.begin(app.care, app.episodes["R.K."].id)
    safety.keep(app.care, safety.answer(draft, "tense_leg", "yes"))
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot)
        await pilot.press("k")
        await settled(pilot)
        shown = " ".join(text_of(app).split())
        assert "emergency stands, 25 Nov: settle it on the safety screen (s) with a reason" in shown
        assert "k again goes on." in shown
        await pilot.press("k")
        await settled(pilot)
        assert not app.screen.has_class("-deciding"), "a second tap is no answer"
        await unhurried(pilot, "k")
        await settled(pilot)
        assert app.screen.has_class("-deciding")


async def test_the_next_stage_is_shown_first_and_the_arrows_turn(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, "")
        assert "[walk]" in text_of(app)
        await pilot.press("right")
        await settled(pilot)
        assert "[jog]" in text_of(app)
        await pilot.press("left", "left")
        await settled(pilot)
        assert "[sport]" in text_of(app)
        assert "ready for sport?" in text_of(app)


async def test_a_criterion_leads_to_its_source_and_to_measuring_it(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot)
        for _ in range(3):
            await pilot.press("down")
        await pilot.press("i")
        await settled(pilot)
        assert isinstance(app.screen, SourceScreen)
        assert app.screen.measure == "lunge"
        await pilot.press("escape")
        await settled(pilot)
        await pilot.press("m")
        await settled(pilot)
        name, arguments = app.opened[-1]
        assert (name, arguments["measure"]) == (commands.TRIALS, "lunge")


async def test_the_decision_is_kept_with_its_reason_and_taken_back(app: Ward) -> None:
    episode = app.episodes["R.K."].id
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot)
        await pilot.press("k")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert "type the reason" in text_of(app)
        await write(pilot, "hops without pain", "enter")
        await settled(pilot)
        assert stages.stage_of(app.care, episode) is Stage.JOG
        assert "decided: jog, hops without pain" in text_of(app)
        assert "✓ 25 Nov" in text_of(app)
        await pilot.press("u")
        await settled(pilot)
        assert stages.stage_of(app.care, episode) is None
        await pilot.press("u")
        await settled(pilot)
        assert "Nothing to undo" in text_of(app)


async def test_the_stages_with_a_decision_each_fit_the_line(app: Ward) -> None:
    held = standing(app.care, app.episodes["R.K."].id)
    for stage in Stage:
        stages.decide(app.care, held, stage, "walked before")
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, "sport")
        assert text_of(app).splitlines()[1].count("✓ 25 Nov") == 5


async def test_the_chance_by_an_old_value_is_not_todays(app: Ward) -> None:
    app.set_clock.put(at(date(2026, 11, 30)))  # a week after the lunge
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot)
        assert "chance then under 1 %; expected" in text_of(app)
        assert "chance now" not in text_of(app)


async def test_escape_leaves_the_reason_then_the_screen(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot)
        await pilot.press("k")
        await settled(pilot)
        await write(pilot, "hasty")
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(app.screen, CriteriaScreen)
        assert stages.stage_of(app.care, app.episodes["R.K."].id) is None
        await pilot.press("escape")
        await settled(pilot)
        assert not isinstance(app.screen, CriteriaScreen)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize("stage", Stage)
async def test_it_fits(app: Ward, size: tuple[int, int], stage: Stage) -> None:
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot, stage)
        assert misfits(app) == []


def test_every_command_is_met() -> None:
    assert unmet(CriteriaScreen) == []
