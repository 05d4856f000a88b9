from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care import visits
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tests.screens.made import take
from tui.screens.chart import ChartScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


async def on_screen(app: Ward, pilot: Pilot[Any], measure: str = "lunge", label: str = "R.K.") -> ChartScreen:
    app.open(commands.CHART, episode=app.episodes[label].id, measure=measure)
    await pilot.pause()
    await pilot.pause()
    assert isinstance(app.screen, ChartScreen)
    app.opened.clear()
    return app.screen


async def test_both_sides_the_line_and_what_the_bars_are(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot)
        shown = text_of(app)
        drawing = shown.split("right ▶ 5.4")[0]
        assert drawing.count("◀") == 5
        assert drawing.count("▶") == 5 + 1  # one stands in the head
        assert "jog 8" in shown
        assert "right ▶ 5.4 short against the uninjured side" in shown
        assert "+2.1 cm since 5 Nov: clear gain (MDC 1.9)" in shown
        assert "bars: plus and minus 1.4 cm, 1.96 SEM between visits" in shown


async def test_on_a_wide_screen_the_figures_stand_beside(app: Ward) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await on_screen(app, pilot)
        lines = [" ".join(line.split()[-5:]) for line in text_of(app).splitlines()]
        assert "23 Nov 2026 10.2 4.8" in lines
        assert "5 Nov 2026 10.1 2.7" in lines


async def test_arrows_turn_to_the_other_measures_and_round(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot)
        await pilot.press("right")
        await pilot.pause()
        assert "figure-of-eight girth" in text_of(app)
        await pilot.press("left", "left")
        await pilot.pause()
        assert "confidence in the ankle" in text_of(app)
        assert "●" in text_of(app)


async def test_an_unknown_error_draws_no_bar_and_says_so(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot, "stance_open")
        assert "no bar: its error is not known; a value at the cap is a lower bound" in text_of(app)
        assert "error unknown" in text_of(app)


async def test_while_a_blind_re_test_waits_todays_values_are_not_drawn(app: Ward) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        visit = visits.start_visit(app.care, app.episodes["R.K."])
        take(app.care, visit, "lunge l 10.7 10.7 10.7 r 5.7 5.7 5.7 before")
        screen = await on_screen(app, pilot)
        assert "today's values are hidden until the re-test is in" in text_of(app)
        for value in ("10.7", "5.7", "5.0", "+3.0", "5.4 short", "25 Nov 2026"):
            assert value not in text_of(app)
        take(app.care, visit, "lunge l 10.7 10.7 10.7 r 7.3 7.3 7.3 after")
        screen.on_screen_resume()
        await pilot.pause()
        assert "25 Nov 2026" in text_of(app)
        assert "re-test 25 Nov 2026: +1.6 cm, clear gain (MDC in a visit 1.4)" in text_of(app)


async def test_a_side_that_was_unable_is_said_and_not_drawn_as_zero(app: Ward) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        visit = visits.start_visit(app.care, app.episodes["J.V."], planned=False)
        take(app.care, visit, "heel l unable r 20")
        await on_screen(app, pilot, "heel_raise", "J.V.")
        assert "unable 1 times" not in text_of(app)
        assert "unable once, which has no place on the chart" in text_of(app)


async def test_i_and_v_go_where_they_go_everywhere(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_screen(app, pilot)
        await pilot.press("i")
        await pilot.pause()
        assert app.opened == [(commands.SOURCE, {"episode": screen.episode, "measure": "lunge"})]
        await pilot.press("escape", "v")
        await pilot.pause()
        assert app.opened[-1][0] == commands.VISIT


async def test_a_measure_this_copy_does_not_know_is_said(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot, "toe_grip")
        assert "this copy does not know the measure toe_grip" in text_of(app)
        await pilot.press("right", "i")


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
@pytest.mark.parametrize("measure", ["lunge", "pain_now", "reach_ant"])
async def test_it_fits(app: Ward, size: tuple[int, int], measure: str) -> None:
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot, measure)
        assert misfits(app) == []


def test_no_key_does_nothing_silently() -> None:
    assert unmet(ChartScreen) == []
