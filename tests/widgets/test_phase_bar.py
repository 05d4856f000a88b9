from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from tests.helpers.fit import text_of
from tests.helpers.stage import Stage
from tui.widgets.phase_bar import Bar, PhaseBar, edges


@given(st.lists(st.floats(0.5, 60), min_size=1, max_size=12), st.integers(30, 200))
def test_parts_fill_the_width_in_order_and_none_vanishes(weights: list[float], width: int) -> None:
    found = edges(tuple(weights), width)
    assert (found[0], found[-1]) == (0, width)
    assert all(end - start >= 2 for start, end in pairwise(found))


async def line_of(bar: Bar) -> str:
    widget = PhaseBar()
    app = Stage(widget)
    async with app.run_test(size=(40, 3)) as pilot:
        widget.bar = bar
        await pilot.pause()
        return text_of(app).splitlines()[0]


async def test_the_phase_at_hand_is_told_by_place_and_shape_without_any_colour() -> None:
    lines = [await line_of(Bar((2.0, 2.0, 2.0), at)) for at in range(3)]
    starts = [line.index("▄") for line in lines]
    assert starts == sorted(set(starts))
    assert all(line.count("─") > line.count("▄") for line in lines)


async def test_a_hold_fills_by_its_part() -> None:
    assert (await line_of(Bar((1.0,), part=0.5))).count("▄") == 20
    assert (await line_of(Bar((1.0,), part=1.0))).count("▄") == 40


async def test_no_weights_no_bar() -> None:
    assert (await line_of(Bar())).strip() == ""
