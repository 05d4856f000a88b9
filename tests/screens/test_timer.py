from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care.timing import begin
from tests.helpers.fit import misfits, text_of
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.timer import TimerScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.chooser import Chooser
from tui.widgets.keyed_screen import unmet


@pytest.fixture
def app(tmp_path: Path) -> VisitStage:
    made = staged(tmp_path)
    made.then = commands.PICK
    return made


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


def test_every_command_of_the_screen_has_its_method() -> None:
    assert unmet(TimerScreen) == []


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_it_fits_and_lists_every_activity_with_its_dose(app: VisitStage, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await shown(pilot)
        assert misfits(app) == []
        text = text_of(app)
        for activity in list(app.care.knowledge.activities.values())[:8]:
            assert activity.name in text
        assert "3 x 10, right" in text


async def test_typing_narrows_and_enter_opens_the_timer_over_the_visit(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"hold", "down", "enter")
        await shown(pilot)
        assert app.opened[-1] == (commands.BOUT, {"visit": app.visit_id, "activity": "hold_foam"})
        assert isinstance(app.screen, VisitScreen)


async def test_what_it_is_for_stands_under_the_list(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"shifts")
        await shown(pilot)
        assert "Weight shifts on one leg" in text_of(app)


async def test_set_up_and_cautions_of_the_chosen_one_can_be_read(app: VisitStage) -> None:
    async with app.run_test(size=(150, 60)) as pilot:
        await shown(pilot)
        text = text_of(app)
        assert "Injured foot on a bench or chair" in text
        assert "Suspected fracture: do not treat. Image first." in text
        assert "not asked yet: anticoagulants" in text
        await pilot.press(*"foam")
        await shown(pilot)
        assert "Barefoot on a foam pad that cannot slide" in text_of(app)


async def test_what_does_not_fit_is_read_on_by_a_key(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "Padded belt behind the lower leg" not in text_of(app)
        for _ in range(3):
            await pilot.press("pagedown")
        await shown(pilot)
        assert "Padded belt behind the lower leg" in text_of(app)
        await pilot.press("down")
        await shown(pilot)
        assert "Mobilisation with movement without a belt" in text_of(app)


async def test_one_that_was_left_paused_says_so(app: VisitStage) -> None:
    care = app.care
    live = begin(care, care.knowledge.activities["hold_firm"], care.visit(app.visit_id))
    live.press()
    async with app.run_test(size=(120, 40)) as pilot:
        await shown(pilot)
        line = next(line for line in text_of(app).splitlines() if "single-leg hold " in line)
        assert "kept paused" in line


async def test_nothing_is_called_so(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"xyz", "enter")
        await shown(pilot)
        assert "No timer is called so: delete a letter" in text_of(app)
        await pilot.press("escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)


@pytest.mark.parametrize("text", ["hold, foam", "foam hold", "HOLD, FO"])
async def test_a_timer_is_found_by_all_words_that_were_typed(app: VisitStage, text: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press(*("space" if char == " " else char for char in text))
        await pilot.pause()
        shown = [option.id for option in app.screen.query_one(Chooser).shown]
        assert shown[:1] == ["hold_foam"]
