from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.words import Side
from tests.helpers.fit import misfits, text_of
from tests.helpers.stage import Stage
from tests.look.scenes import LUNGE, LUNGE_AHEAD
from tui.widgets.chart_data import ChartData, ChartPoint, Threshold, day_ticks, numbers, value_axis, week_of
from tui.widgets.chart_drawing import draw
from tui.widgets.gap_chart import GapChart
from tui.widgets.look import Role


def drawn(data: ChartData, width: int = 78, height: int = 10) -> list[str]:
    return ["".join(text for text, _ in row) for row in draw(data, width, height)]


def roles(data: ChartData, letter: str) -> set[Role]:
    return {role for row in draw(data, 78, 10) for text, role in row if letter in text}


@pytest.mark.parametrize("size", [(40, 7), (58, 9), (78, 10), (118, 24), (158, 40)])
@pytest.mark.parametrize("data", [LUNGE, LUNGE_AHEAD], ids=["readings", "forecast"])
def test_the_drawing_is_exactly_as_large_as_its_room(data: ChartData, size: tuple[int, int]) -> None:
    rows = drawn(data, *size)
    assert {len(row) for row in rows} == {size[0]}
    assert len(rows) == size[1]


def test_every_reading_has_the_mark_and_colour_of_its_side() -> None:
    text = "\n".join(drawn(LUNGE, 118, 24))
    assert text.count("◀") == len(LUNGE.left)
    assert text.count("▶") == len(LUNGE.right)
    assert roles(LUNGE, "◀") == {Role.LEFT}
    assert roles(LUNGE, "▶") == {Role.RIGHT}


def test_the_threshold_runs_the_full_width_with_its_value_at_the_end() -> None:
    row = next(row for row in drawn(LUNGE) if "╌" in row)
    assert row.endswith(" jog 8")
    assert row.count("╌") >= 78 - len(" jog 8") - 4
    assert roles(LUNGE, "╌") == {Role.RIGHT}


def test_two_lines_on_one_row_keep_both_labels_and_apart_each_its_own() -> None:
    near = replace(LUNGE, thresholds=(Threshold(8, "jog 8"), Threshold(8.1, "run 8.1")))
    assert next(row for row in drawn(near) if "╌" in row).endswith("run 8.1 jog 8")
    apart = replace(LUNGE, thresholds=(Threshold(8, "jog 8"), Threshold(3, "walk 3")))
    ends = [row.rstrip().split("╌")[-1].strip() for row in drawn(apart) if "╌" in row]
    assert ends == ["jog 8", "walk 3"]


@pytest.mark.parametrize("height", range(7, 40, 3))
def test_the_label_stands_on_the_row_of_its_line(height: int) -> None:
    for value in (0.4, 2.25, 5, 8, 9.75):
        line = replace(LUNGE, thresholds=(Threshold(value, "here"),))
        assert [row.endswith("here") for row in drawn(line, 78, height)] == [
            "╌" in row for row in drawn(line, 78, height)
        ]


def test_an_error_bar_reaches_as_far_as_the_error_and_no_error_draws_none() -> None:
    one = ChartData("lunge", "cm", Side.RIGHT, (), (ChartPoint(7, 6, 3.0),), (Threshold(12, "far 12"),))
    rows = drawn(one, 60, 26)
    axis = value_axis(one, 24)
    per_row = (axis[1] - axis[0]) / 23
    bar = [row for row in rows if "│" in row[5:]]
    assert len(bar) + 1 == pytest.approx(2 * 3.0 / per_row + 1, abs=1)
    bare = replace(one, right=(ChartPoint(7, 6),))
    assert not [row for row in drawn(bare, 60, 26) if "│" in row[5:]]


def test_marks_of_the_value_axis_are_round_evenly_spaced_and_hold_everything() -> None:
    for rows in (5, 8, 12, 22, 38):
        bottom, top, marks = value_axis(LUNGE, rows)
        assert bottom == 0
        assert top >= 10.3
        steps = {round(b - a, 6) for a, b in pairwise(marks)}
        assert len(steps) == 1
        assert rows / 5 <= len(marks) <= rows / 2 + 1
    bottom, _, _ = value_axis(ChartData("girth", "cm", Side.LEFT, (ChartPoint(1, 51), ChartPoint(2, 52))), 8)
    assert 50 <= bottom <= 51


def test_days_are_told_in_weeks_since_the_injury() -> None:
    assert [week_of(day) for day in (0, 6, 7, 24, -1)] == [1, 1, 2, 4, 0]
    assert day_ticks(0, 21, 72)[:3] == [(0.0, "injury"), (7.0, "w2"), (14.0, "w3")]
    assert day_ticks(0, 95, 72)[1] == (14.0, "w3")
    assert len(day_ticks(0, 700, 40)) <= 6
    foot = drawn(LUNGE_AHEAD)[-1]
    assert foot.split()[:3] == ["injury", "w3", "w5"]


def test_a_baseline_before_the_injury_stands_left_of_it() -> None:
    early = replace(LUNGE, right=(ChartPoint(-30, 10.0), *LUNGE.right))
    rows = drawn(early)
    assert rows[-1].index("injury") > 10
    assert "▶" in rows[0] + rows[1]


def test_the_forecast_is_dots_and_quiet_shading_that_no_reading_looks_like() -> None:
    text = "\n".join(drawn(LUNGE_AHEAD))
    assert "░" in text
    assert "·" in text
    assert roles(LUNGE_AHEAD, "░") == {Role.FAINT}
    assert text.count("▶") == "\n".join(drawn(LUNGE_AHEAD)).count("▶") > 0


def test_the_numbers_say_all_that_the_drawing_says() -> None:
    lines = numbers(LUNGE, 20)
    assert lines[0] == "lunge, cm   line: jog 8"
    assert lines[1] == "week 1, day 2   left 10.3   right injured 2.7 ± 1.4"
    assert lines[-1] == "week 3, day 17   left 10.2   right injured 4.8 ± 1.4"
    assert "left 10.2   right injured ·" in lines[2]


def test_a_mean_of_trials_is_written_rounded() -> None:
    lines = numbers(replace(LUNGE, left=(ChartPoint(2, 10.166666667),), right=(ChartPoint(2, 4.0, 1.35),)), 20)
    assert lines[1] == "week 1, day 2   left 10.2   right injured 4 ± 1.4"
    short = numbers(LUNGE, 4)
    assert short[1] == "… 5 earlier"
    assert len(short) == 4
    assert numbers(replace(LUNGE, left=(), right=()), 4)[1] == "nothing measured yet"
    hidden = replace(LUNGE, left=(), right=(), hidden=True)
    assert numbers(hidden, 4)[1] == "hidden until the re-test is in"


async def test_the_chart_draws_and_falls_back_to_numbers_where_there_is_no_room() -> None:
    chart = GapChart(LUNGE)
    app = Stage(chart)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "▶" in text_of(app)
        assert "jog 8" in text_of(app)
        assert misfits(app) == []
        chart.styles.height = 5
        await pilot.pause()
        assert "right injured 4.8 ± 1.4" in text_of(app)
        assert "▶" not in text_of(app)
        chart.styles.height = 12
        chart.plain = True
        await pilot.pause()
        assert "right injured 4.8 ± 1.4" in text_of(app)
        chart.show(None)
        await pilot.pause()
        assert text_of(app).strip() == ""


async def test_the_drawing_reads_without_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = Stage(GapChart(LUNGE), ansi_color=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "◀" in text_of(app)
        assert "▶" in text_of(app)
        styles = [seg.style for strip in app.screen._compositor.render_strips() for seg in strip if seg.style]
        assert all(style.color is None or style.color.is_default for style in styles)


def test_plotext_is_imported_only_when_a_chart_is_first_drawn() -> None:
    code = (
        "import sys; from tui.widgets.gap_chart import GapChart; from tui.widgets.chart_data import ChartData; "
        "GapChart(); sys.exit('plotext' in sys.modules or 'textual_plotext' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


async def test_a_measure_without_sides_is_drawn_as_neither_left_nor_right() -> None:
    points = (ChartPoint(4, 4.0), ChartPoint(12, 3.0), ChartPoint(22, 2.0))
    pain = ChartData("walking pain", "of 10", Side.RIGHT, single=points, thresholds=(Threshold(2, "jog 2"),))
    chart = GapChart(pain)
    app = Stage(chart)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        drawn = text_of(app)
        assert drawn.count("●") == 3
        assert "◀" not in drawn
        assert "▶" not in drawn
        assert "jog 2" in drawn
        chart.plain = True
        await pilot.pause()
        assert "week 2, day 12   3" in text_of(app)
        assert "left" not in text_of(app)


@given(
    values=st.lists(st.floats(-500, 5000, allow_nan=False), min_size=1, max_size=12),
    error=st.none() | st.floats(0, 50),
    line=st.floats(-100, 1000),
    rows=st.integers(5, 60),
)
def test_any_readings_have_an_axis_that_holds_them(
    values: list[float], error: float | None, line: float, rows: int
) -> None:
    points = tuple(ChartPoint(day, value, error) for day, value in enumerate(values))
    data = ChartData("any", "", Side.LEFT, points, (), (Threshold(line, "line"),))
    bottom, top, marks = value_axis(data, rows)
    assert bottom <= min(*values, line) + 1e-6
    assert top >= max(*values, line) - 1e-6
    assert bottom - 1e-6 <= marks[0]
    assert marks[-1] <= top + 1e-6
    assert len(marks) >= 2
