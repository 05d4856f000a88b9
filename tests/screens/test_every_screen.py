"""What must hold on every screen: room, colour, help, and the pointer."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widget import Widget
from textual.widgets import Input

from tests.helpers.fit import misfits, text_of
from tests.helpers.ids import told_ids
from tests.screens.every_screen import House, each_screen, settled
from tests.screens.made import take
from tui.app import _help_of
from tui.widgets import commands
from tui.widgets.look import CURSOR

MARKED = {
    commands.EPISODE: ("injured", "◀", "▶", "▲", CURSOR),
    commands.CASELOAD: ("right ▶", "◀ left", "today 16:00", CURSOR),
    commands.CHART: ("◀", "▶"),
    commands.VISIT: (CURSOR, "right ankle ▶"),
    commands.CRITERIA: ("[", "?"),
    commands.HOME: (CURSOR, "right ankle ▶", "not handed out yet"),
    commands.TRIALS: ("left", "right"),
    commands.PERSON: ("◀ left", "right ▶", "["),
    commands.SQUAD: (CURSOR, "right ankle"),
    commands.PICK: (CURSOR,),
    commands.LINE: (CURSOR,),
    commands.VISITS: (CURSOR,),
    commands.PAPERS: (CURSOR, "note, draft"),
}
"""Words and marks that carry what a colour says, by screen."""


def test_none_is_left_out(tmp_path: Path) -> None:
    assert set(House(tmp_path).ways) == set(commands.SCREENS)


@pytest.mark.parametrize("size", [(60, 20), (200, 50)])
async def test_each_fits_narrow_and_wide_and_paints_no_id(tmp_path: Path, size: tuple[int, int]) -> None:
    app = House(tmp_path)
    async with app.run_test(size=size) as pilot:
        found = {name: [*misfits(app), *told_ids(text_of(app))] async for name in each_screen(app, pilot)}
        assert {name: wrong for name, wrong in found.items() if wrong} == {}


async def test_each_asks_for_room_where_it_has_too_little(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(59, 19)) as pilot:
        async for name in each_screen(app, pilot):
            text = text_of(app)
            assert "Please enlarge the window" in text, name
            assert "59 x 19 now, 60 x 20 at least." in text, name
            assert "R.K." not in text, name


async def test_sixteen_colours_keep_every_word_and_mark_and_whatever_has_the_focus_has_help(
    tmp_path: Path,
) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        async for name in each_screen(app, pilot):
            own, chain = getattr(app.screen, "HELP_TEXT", ""), list(app.screen.focus_chain)
            assert own or name == commands.HELP, name
            for widget in chain if len(chain) > 1 else ():  # of one alone the screen tells
                assert len(_help_of(widget)) > 20, f"{name}: {widget!r}"
            shown = text_of(app)
            app.theme = "sixteen-dark"
            await pilot.pause()
            assert text_of(app) == shown, name
            assert [mark for mark in MARKED.get(name, ()) if mark not in shown] == [], name
            app.theme = "dark"


async def test_no_colour_keeps_every_word_and_mark(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = House(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        async for name in each_screen(app, pilot):
            strips = app.screen._compositor.render_strips()
            styles = [segment.style for strip in strips for segment in strip if segment.style]
            assert all(style.color is None or style.color.is_default for style in styles), name
            assert all(style.bgcolor is None or style.bgcolor.is_default for style in styles), name
            shown = text_of(app)
            assert [mark for mark in MARKED.get(name, ()) if mark not in shown] == [], name
            if isinstance(app.focused, Input):  # the cursor of a field is seen too
                assert any(style.reverse or style.underline for style in styles), name


async def test_f1_shows_the_help_of_the_focus_first_then_all_keys(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        app.open(commands.PERSON)
        await settled(pilot)
        await pilot.press("tab", "f1")
        await settled(pilot)
        assert text_of(app).splitlines()[2].startswith(" The year is enough.")
        await pilot.press("f1")
        await settled(pilot)
        assert "all keys" in text_of(app).splitlines()[0]
        words = next(line for line in text_of(app).splitlines() if "safety screen" in line)
        assert words.startswith(" " * 12)  # what a key does, and where, hangs beside it


async def test_an_answer_of_yes_or_no_has_no_unit_in_the_table(tmp_path: Path) -> None:
    app = House(tmp_path)
    take(app.care, app.visit, "hop_spot yes yes")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE, episode=app.episode.id)
        await settled(pilot)
        await pilot.press("end")
        await settled(pilot)
        line = next(line for line in text_of(app).splitlines() if "hops on the spot" in line)
        assert "yes or" not in line


# the pointer


def spot_of(app: House, text: str) -> tuple[int, int]:
    """Where a text stands on the screen."""
    for y, line in enumerate(text_of(app).splitlines()):
        if text in line:
            return line.index(text), y
    raise AssertionError(f"{text!r} is not on the screen")


def where_of(app: House) -> str:
    """The name of the screen on top."""
    return str(getattr(app.screen, "WHERE", ""))


async def test_a_click_on_a_row_opens_it(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.click(offset=spot_of(app, "T.M."))
        await settled(pilot)
        assert f"{CURSOR}!T.M." in text_of(app)
        await pilot.click(offset=spot_of(app, "T.M."))
        await settled(pilot)
        assert "T.M." in text_of(app).splitlines()[0]
        await pilot.click(offset=spot_of(app, "F1 help"))
        await settled(pilot)
        assert text_of(app).startswith(" help")


async def test_a_click_walks_the_plan(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.VISIT, **app.ways[commands.VISIT])
        await settled(pilot)
        for _ in range(2):  # the first chooses the step, the second does it
            await pilot.click(offset=spot_of(app, "direction shifts"))
            await settled(pilot)
        assert where_of(app) == commands.BOUT


async def test_a_click_on_each_field_of_the_form_reaches_it(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.PERSON)
        await settled(pilot)
        chain: list[Widget] = [
            each for each in app.screen.focus_chain if app.screen.region.contains_region(each.region)
        ]
        assert len(chain) > 8
        for widget in chain:
            if not app.screen.query_one("VerticalScroll").region.contains_region(widget.region):
                continue
            await pilot.click(widget)
            await pilot.pause()
            assert app.focused is widget
        await pilot.click(offset=spot_of(app, "right ▶"))
        await settled(pilot)
        assert "[right ▶]" in text_of(app)


async def test_a_click_chooses_a_measure_a_timer_a_squad_and_a_row_of_the_table(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        for name, text, then in (
            (commands.PICK, "single-leg hold", commands.BOUT),
            (commands.SQUADS, "hockey", commands.SQUAD),
            (commands.SQUAD, "B.B.", commands.PAGE),
        ):
            app.open(name, **app.ways[name])
            await settled(pilot)
            for _ in range(2):
                if where_of(app) == name:
                    await pilot.click(offset=spot_of(app, text))
                    await settled(pilot)
            assert where_of(app) == then, name
            while len(app.screen_stack) > 1:
                app.pop_screen()
            await settled(pilot)
        app.open(commands.EPISODE, **app.ways[commands.EPISODE])
        await settled(pilot)
        await pilot.click(offset=spot_of(app, "heel raise"))
        await settled(pilot)
        line = next(line for line in text_of(app).splitlines() if "heel raise" in line)
        assert CURSOR in line


async def test_a_click_on_each_key_of_the_foot_does_what_the_key_does(tmp_path: Path) -> None:
    app = House(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        for label, where in (
            ("g gap", commands.CHART),
            ("c criteria", commands.CRITERIA),
            ("i where from", commands.SOURCE),
        ):
            app.open(commands.EPISODE, **app.ways[commands.EPISODE])
            await settled(pilot)
            await pilot.click(offset=spot_of(app, label))
            await settled(pilot)
            assert where_of(app) == where
            while len(app.screen_stack) > 1:
                app.pop_screen()
            await settled(pilot)
        app.open(commands.EPISODE, **app.ways[commands.EPISODE])
        await settled(pilot)
        await pilot.press("w")
        await settled(pilot)
        await pilot.click("#when")
        assert app.focused is app.screen.query_one("#when")
