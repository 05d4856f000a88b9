from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from store.knowledge.words import Moment
from tests.helpers.burst import write as typed
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.line import LineScreen
from tui.screens.trials import TrialsScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.chooser import Chooser
from tui.widgets.keyed_screen import unmet

LUNGE = "lunge l 13.71 13.72 13.73 r 6.31 6.32 6.33"


@pytest.fixture
def app(tmp_path: Path) -> VisitStage:
    made = staged(tmp_path)
    made.then = commands.LINE
    return made


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


async def write(pilot: Pilot[None], text: str, *keys: str) -> None:
    await typed(pilot, text, *keys)
    await shown(pilot)


def test_every_command_of_the_screen_has_its_method() -> None:
    assert unmet(LineScreen) == []


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_it_fits(app: VisitStage, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await shown(pilot)
        assert misfits(app) == []
        await write(pilot, "heel l 11 r 24")
        assert misfits(app) == []


async def test_every_measure_is_listed_and_typing_narrows(app: VisitStage) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await shown(pilot)
        assert "girth" in text_of(app)
        listed = [option.id for option in app.screen.query_one(Chooser).options]
        assert listed == [one.id for one in app.care.knowledge.measures.values() if not one.made_of]
        await write(pilot, "lu")
        assert "lunge angle" in text_of(app)
        assert "confidence" not in text_of(app)


async def test_a_name_and_enter_goes_trial_by_trial_and_back_to_the_visit(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "gir", "enter")
        assert isinstance(app.screen, TrialsScreen)
        assert app.opened[-1] == (commands.TRIALS, {"visit": app.visit_id, "measure": "girth"})
        await pilot.press("escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)


async def test_the_arrows_choose_and_a_name_of_two_words_is_a_name(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "lunge", "down", "enter")
        assert [arguments.get("measure") for _, arguments in app.opened[-1:]] == ["lunge_angle"]
        app.open(commands.LINE, visit=app.visit_id)
        await shown(pilot)
        await write(pilot, "pain now", "enter")
        assert app.opened[-1][1]["measure"] == "pain_now"


async def test_the_preview_says_what_enter_saves_and_what_it_means(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "heel l 24 r 11")
        text = text_of(app)
        assert "saves  heel raise: left 24, right 11" in text
        assert "right 13 short   LSI 46 %" in text
        assert "right since last time +4, within measurement error" in text
        assert app.kept == []
        await pilot.press("enter")
        await shown(pilot)
        assert "✓ saved heel raise left 24, right 11 reps   F9 undo" in text_of(app)
        assert app.screen.query_one("#line", Input).value == ""
        await pilot.press("f9")
        await shown(pilot)
        assert "took back heel raise left 24, right 11 reps" in text_of(app)
        assert app.kept == []


async def test_while_a_retest_is_to_come_the_preview_compares_nothing(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, LUNGE)
        text = text_of(app)
        assert "(before)" in text
        assert "nothing is compared until the re-test is in" in text
        assert not any(word in text for word in ("short", "LSI", "since last time"))
        await pilot.press("enter")
        await shown(pilot)
        assert "saved lunge left and right, hidden until the re-test is in" in text_of(app)
        assert not any(secret in text_of(app) for secret in ("13.7", "6.3"))
        await write(pilot, "lunge l 13 r 8")
        assert "(after)" in text_of(app)
        assert not any(secret in text_of(app) for secret in ("13.7", "6.3", "since"))
        await pilot.press("f9")
        await shown(pilot)
        assert "took back lunge left and right" in text_of(app)
        assert not any(secret in text_of(app) for secret in ("13.7", "6.3"))


async def test_an_error_points_at_the_word_and_the_text_is_kept(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "girth l 51 rigt 52")
        rows = text_of(app).splitlines()
        at = next(index for index, row in enumerate(rows) if "rigt 52" in row)
        assert rows[at + 1].index("^^^^") == rows[at].index("rigt")
        await pilot.press("enter")
        await shown(pilot)
        assert "! rigt: not a word of this line; did you mean right?" in text_of(app)
        assert app.screen.query_one("#line", Input).value == "girth l 51 rigt 52"


async def test_no_measure_has_this_name(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "lnuge", "enter")
        assert "lnuge: no measure has this name; did you mean lunge?" in text_of(app)


async def test_the_unusual_wants_enter_twice(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "girth l 51 r 79", "enter")
        await pilot.press("enter")
        await shown(pilot)
        assert "Enter again keeps it." in text_of(app)
        assert app.kept == [], "a second tap is no answer"
        await unhurried(pilot, "enter")
        await shown(pilot)
        assert len(app.kept) == 2


async def test_one_key_swaps_the_sides(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "lunge l 4.8 r 10.2")
        assert "swapped? * swaps them." in text_of(app)
        await pilot.press("asterisk")
        await shown(pilot)
        assert app.screen.query_one("#line", Input).value == "lunge left 10.2 right 4.8 before"
        await pilot.press("enter")
        await shown(pilot)
        assert [(one.side, one.value) for one in app.kept] == [("left", 10.2), ("right", 4.8)]
        assert {one.moment for one in app.kept} == {Moment.BEFORE}


async def test_a_star_is_a_star_where_nothing_seems_swapped(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, 'girth l 51 note "', "asterisk")
        assert app.screen.query_one("#line", Input).value.endswith("*")


async def test_esc_asks_once_about_a_line_that_is_not_saved(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "girth l 51", "escape")
        assert "This line is not saved" in text_of(app)
        await unhurried(pilot, "escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)


async def test_ten_kilobytes_pasted_do_no_harm(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        app.screen.query_one("#line", Input).value = "lunge " + "9" * 10_000
        await shown(pilot)
        await pilot.press("enter")
        await shown(pilot)
        assert "the line has" in text_of(app)
        assert app.kept == []


async def test_a_measure_is_typed_by_its_full_name(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "heel raise 24 11")
        assert "saves  heel raise: left 24, right 11" in text_of(app)
        await pilot.press("enter")
        await shown(pilot)
        assert [one.value for one in app.kept] == [24, 11]


async def test_what_was_wrong_with_a_line_is_said_until_the_line_is_another(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "lnuge 10 11", "enter")
        await shown(pilot)
        assert "! lnuge: no measure has this name" in text_of(app)
        await write(pilot, " ")
        await shown(pilot)
        assert "! lnuge" not in text_of(app)
