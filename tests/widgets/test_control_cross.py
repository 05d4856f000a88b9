from __future__ import annotations

import pytest

from store.knowledge.words import Side
from tests.helpers.fit import text_of
from tests.helpers.stage import Stage
from tui.widgets.control_cross import ControlCross, Foot, Tally

WAYS = {"forward": Tally(3, 3), "in": Tally(2, 3), "back": Tally(3, 3), "out": Tally(0, 3)}


async def drawn(*feet: Foot, width: int = 76) -> list[str]:
    cross = ControlCross()
    app = Stage(cross)
    async with app.run_test(size=(width, 12)) as pilot:
        cross.feet = feet
        await pilot.pause()
        return text_of(app).splitlines()


async def test_in_lies_towards_the_other_foot_on_both_sides() -> None:
    lines = await drawn(Foot(Side.LEFT, False, WAYS), Foot(Side.RIGHT, True, WAYS))
    row = next(line for line in lines if "out" in line)
    assert row.split() == ["out", "in", "in", "out"]
    assert lines.index(row) > next(n for n, line in enumerate(lines) if "forward" in line)
    assert "left foot" in lines[0]
    assert "right foot ▶ injured" in lines[0]


async def test_control_is_told_by_glyph_and_word_as_well_as_by_colour() -> None:
    text = "\n".join(await drawn(Foot(Side.RIGHT, True, WAYS)))
    assert text.count("✓ 3 of 3") == 2
    assert "! 2 of 3" in text
    assert "! 0 of 3" in text


async def test_a_direction_that_was_not_done_has_a_dot() -> None:
    text = "\n".join(await drawn(Foot(Side.RIGHT, True, {"forward": Tally(1, 1), "back": Tally(0, 0)})))
    assert text.count("·") == 3


@pytest.mark.parametrize("width", [56, 76, 112])
async def test_both_fit_at_any_width(width: int) -> None:
    lines = await drawn(Foot(Side.LEFT, False, WAYS), Foot(Side.RIGHT, True, WAYS), width=width)
    assert all(len(line) <= width for line in lines)
    assert "3" in lines[2]


def test_the_crosses_in_words() -> None:
    cross = ControlCross()
    cross.set_reactive(ControlCross.feet, (Foot(Side.RIGHT, True, WAYS),))
    assert cross.as_text() == "right foot: forward 3 of 3, in 2 of 3, back 3 of 3, out 0 of 3"
