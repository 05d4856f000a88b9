from __future__ import annotations

import re

import pytest

from store.knowledge.words import Side
from tests.helpers.fit import misfits, text_of
from tests.helpers.stage import Stage
from tests.look.scenes import ROWS
from tui.widgets.look import Role
from tui.widgets.mirror import MirrorRow, MirrorTable, bar_of, header_pieces, layout_of, row_pieces


def test_bars_grow_outward_from_the_names_and_are_true_to_half_a_cell() -> None:
    assert bar_of(1.0, 4, Side.RIGHT) == "▄▄▄▄"
    assert bar_of(0.5, 4, Side.RIGHT) == "▄▄  "
    assert bar_of(0.5, 4, Side.LEFT) == "  ▄▄"
    assert bar_of(0.625, 4, Side.RIGHT) == "▄▄▖ "
    assert bar_of(0.625, 4, Side.LEFT) == " ▗▄▄"
    assert bar_of(0.0, 4, Side.LEFT) == "    "
    assert bar_of(0.01, 4, Side.RIGHT) == "▖   "
    assert bar_of(3.0, 4, Side.RIGHT) == "▄▄▄▄"


def test_where_lower_is_better_the_bar_has_an_open_head_at_its_outer_end() -> None:
    assert bar_of(1.0, 4, Side.RIGHT, open_head=True) == "▄▄▄▷"
    assert bar_of(1.0, 4, Side.LEFT, open_head=True) == "◁▄▄▄"
    assert bar_of(0.0, 4, Side.LEFT, open_head=True) == "    "


@pytest.mark.parametrize("width", [58, 60, 72, 78, 80, 100, 118, 120, 158, 160])
def test_every_row_is_exactly_as_wide_as_the_table(width: int) -> None:
    columns = layout_of(ROWS, width)
    assert columns.width == width
    for row in ROWS:
        pieces = row_pieces(row, columns, at_cursor=False, cursor_role=Role.LEFT)
        assert sum(len(text) for text, _, _ in pieces) == width, row.id
    for side in Side:
        header = "".join(text for text, _, _ in header_pieces(columns, side, "since 1st"))
        assert len(header) == width
        assert "LEFT ◀" in header
        assert "▶ RIGHT" in header
        assert re.search(r"gap( │ |  +)since 1st$", header), "two heads, not one"


def test_bars_use_the_room_there_is() -> None:
    assert layout_of(ROWS, 60).bar < layout_of(ROWS, 80).bar < layout_of(ROWS, 120).bar <= layout_of(ROWS, 160).bar


def test_a_long_name_gives_way_before_the_bars_are_gone() -> None:
    rows = [MirrorRow("x", "a measure with a very long name indeed", "cm", "10", "9", 1.0, 0.9, gap="1 short")]
    columns = layout_of(rows, 60)
    assert columns.bar >= 3
    text = "".join(text for text, _, _ in row_pieces(rows[0], columns, at_cursor=True, cursor_role=Role.LEFT))
    assert "…" in text
    assert len(text) == 60


async def test_the_table_says_everything_in_words_and_glyphs() -> None:
    app = Stage(MirrorTable(ROWS, Side.RIGHT))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        header, *rows = text_of(app).splitlines()
        assert header.split() == ["LEFT", "◀", "▶", "RIGHT", "injured", "gap", "│", "since", "1st"]
        assert rows[0].startswith(" ▸ 10.2")
        assert rows[0].endswith("4.8    5.4 short ▲ +2.1")
        assert rows[1].endswith("28 short ○ +4")
        assert "◁" in rows[2]
        assert "▷" in rows[2]
        assert rows[3].endswith("17 short ≈ +3")
        assert rows[4].endswith("7 short ▼ -6")
        assert rows[5].split() == ["·", "talar", "glide,", "mm", "·"]
        assert "pain, worst" in rows[6]
        assert "4" in rows[6].split()
        assert misfits(app) == []


async def test_the_injured_side_carries_the_word() -> None:
    app = Stage(MirrorTable(ROWS, Side.LEFT))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "injured LEFT ◀" in text_of(app)


class Watching(Stage):
    def on_mirror_table_row_chosen(self, event: MirrorTable.RowChosen) -> None:
        self.seen.append(event.row.id)


async def test_the_cursor_moves_stops_at_the_ends_and_tells() -> None:
    table = MirrorTable(ROWS)
    app = Watching(table)
    async with app.run_test(size=(80, 24)) as pilot:
        table.focus()
        await pilot.press("down", "down", "up", "up", "up", "end")
        await pilot.pause()
        assert app.seen == ["stance", "girth", "stance", "lunge", "pain"]
        assert table.chosen == ROWS[-1]
        await pilot.click(table, offset=(30, 3))
        await pilot.pause()
        assert app.seen[-1] == "girth"


async def test_it_scrolls_under_its_header_when_there_are_more_rows_than_room() -> None:
    table = MirrorTable(ROWS)
    table.styles.height = 4
    app = Stage(table)
    async with app.run_test(size=(80, 24)) as pilot:
        table.focus()
        await pilot.press("end")
        await pilot.pause()
        lines = text_of(app).splitlines()
        assert "LEFT ◀" in lines[0]
        assert "pain, worst" in lines[3]
        assert "lunge" not in text_of(app)
        await pilot.press("home")
        await pilot.pause()
        assert "lunge" in text_of(app).splitlines()[1]


async def test_other_rows_keep_the_cursor_on_its_measure() -> None:
    table = MirrorTable(ROWS)
    app = Watching(table)
    async with app.run_test(size=(80, 24)) as pilot:
        table.choose("girth")
        await pilot.pause()
        table.show(ROWS[1:], Side.RIGHT)
        await pilot.pause()
        assert table.chosen is not None
        assert table.chosen.id == "girth"
        assert "RIGHT injured" in text_of(app)
        table.show([])
        await pilot.pause()
        assert not table.rows
        assert "Nothing has been measured yet." in text_of(app)
        await pilot.press("down")
