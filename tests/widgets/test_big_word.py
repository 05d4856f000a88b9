from __future__ import annotations

import pytest

from tests.helpers.fit import text_of
from tests.helpers.stage import Stage
from tui.widgets.big_word import BigWord
from tui.widgets.letters import word_rows
from tui.widgets.look import DARK, LIGHT, Palette, Role


async def test_the_word_fills_its_room_and_changes_in_place() -> None:
    word = BigWord("HOLD")
    app = Stage(word)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        first = text_of(app)
        scale = word.scale
        assert scale is not None
        assert scale.rows == 10
        assert first.splitlines()[0].startswith(word_rows("HOLD", scale)[0].rstrip())
        word.show("BACK", Role.LEFT)
        await pilot.pause()
        assert text_of(app) != first


async def test_company_keeps_one_size() -> None:
    word = BigWord("HOLD", company=("LUNGE", "HOLD"))
    async with Stage(word).run_test(size=(70, 24)) as pilot:
        await pilot.pause()
        one = word.scale
        word.show("LUNGE")
        await pilot.pause()
        assert word.scale == one


async def test_lines_beside_stand_at_the_foot_of_the_word() -> None:
    word = BigWord("17", aside=(("seconds", Role.QUIET), ("of at most 45", Role.QUIET)))
    app = Stage(word)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        lines = text_of(app).splitlines()
        assert lines[8].endswith("seconds")
        assert lines[9].endswith("of at most 45")


async def test_plain_text_where_letters_do_not_fit() -> None:
    word = BigWord("LUNGE", aside=(("rep 7 of 10", Role.QUIET),))
    word.styles.width = 20
    app = Stage(word)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert text_of(app).splitlines()[:2] == ["LUNGE", "rep 7 of 10"]


@pytest.mark.parametrize(("theme", "palette"), [("dark", DARK), ("light", LIGHT)])
async def test_colours_follow_the_theme(theme: str, palette: Palette) -> None:
    word = BigWord("17", Role.RIGHT)
    app = Stage(word)
    async with app.run_test(size=(80, 24)) as pilot:
        app.theme = theme
        await pilot.pause()
        colours = {
            segment.style.color.name
            for strip in app.screen._compositor.render_strips()
            for segment in strip
            if "█" in segment.text and segment.style and segment.style.color
        }
        assert colours == {palette.right}


async def test_without_colour_the_word_is_still_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    word = BigWord("17")
    app = Stage(word, ansi_color=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        strips = app.screen._compositor.render_strips()
        styles = [segment.style for strip in strips for segment in strip if segment.style]
        assert "█" in text_of(app)
        assert all(style.color is None or style.color.is_default for style in styles)
        assert all(style.bgcolor is None or style.bgcolor.is_default for style in styles)
