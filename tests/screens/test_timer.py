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
        assert "3 x 10, right" in text
        options = app.screen.query_one(Chooser).options
        assert sorted(option.id for option in options) == sorted(app.care.knowledge.activities)
        assert "in the plan" in [line.split("│")[0].strip() for line in text.splitlines()]


async def test_the_plan_stands_first_then_what_was_used_lately_then_the_course(app: VisitStage) -> None:
    care = app.care
    live = begin(care, care.knowledge.activities["glide_3"], care.visit(app.visit_id))
    live.press()
    app.set_clock.move(4)
    live.tick()
    app.set_clock.move(4)
    live.tick()
    live.end()
    async with app.run_test(size=(120, 60)) as pilot:
        await shown(pilot)
        options = app.screen.query_one(Chooser).options
        groups = list(dict.fromkeys(option.group for option in options))
        assert groups[:3] == ["in the plan", "used lately", "first days"]
        assert groups[3:] == [
            "mobility", "balance", "strength", "landing and turning", "walk and run", "after discharge",
        ]  # fmt: skip
        assert next(option.group for option in options if option.id == "glide_3") == "used lately"
        lines = [line.split("│")[0].strip() for line in text_of(app).splitlines()]
        assert lines.index("in the plan") < lines.index("used lately") < lines.index("first days")
        await pilot.press(*"calf")
        await shown(pilot)
        lines = [line.split("│")[0].strip() for line in text_of(app).splitlines()]
        assert "mobility" not in lines  # names of groups stand only while nothing is typed
        assert [option.id for option in app.screen.query_one(Chooser).shown][:2] == [
            "calf_stretch_straight", "calf_stretch_bent",
        ]  # fmt: skip


async def test_the_cursor_steps_over_the_names_of_groups_and_stays_in_sight(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        for _ in range(30):
            await pilot.press("down")
        await shown(pilot)
        chooser = app.screen.query_one(Chooser)
        chosen = chooser.chosen
        assert chosen is not None
        assert chosen.id == chooser.options[30].id
        assert any(line.startswith(f" ▸ {chosen.name}") for line in text_of(app).splitlines())


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("strength", "isometrics"),
        ("peroneal", ""),
        ("grade iii", "glide_3"),
        ("hop", "hop_hold_short"),
        ("run", "walk_run"),
    ],
)
async def test_a_timer_is_found_by_what_it_trains_or_by_its_name(app: VisitStage, typed: str, first: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        found = app.screen.query_one(Chooser).found(typed)
        assert (found[0].id if found else "") == first


async def test_typing_narrows_and_enter_opens_the_timer_over_the_visit(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"hold", "down", "enter")
        await shown(pilot)
        assert app.opened[-1] == (commands.BOUT, {"visit": app.visit_id, "activity": "hold_firm_closed"})
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
        assert "Belt round the back of the lower leg" not in text_of(app)
        read = []
        for _ in range(5):
            await pilot.press("pagedown")
            await shown(pilot)
            read.append(text_of(app))
        assert [text for text in read if "Belt round the back of the lower leg" in text]
        await pilot.press("down")
        await shown(pilot)
        assert "Balance on one leg for a set time" in text_of(app)


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
