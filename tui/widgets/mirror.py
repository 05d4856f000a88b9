"""The mirrored table: names in the middle, bars growing outward from them, and what the gap is in words.

A bar is half a row high, so that air stays between the rows; its end is true to half a cell. Where lower is better
the bar ends in an open head, so that the longest does not read as the best.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Offset, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from store.knowledge.words import Side, Verdict
from tui.widgets.look import CURSOR, LEFT_HEAD, NOTHING, RIGHT_HEAD, Role, paint, side_role, verdict_mark
from tui.widgets.spots import Spot

OPEN_HEADS = {Side.LEFT: "◁", Side.RIGHT: "▷"}
LONGEST_BAR, SHORTEST_BAR = 56, 3
Piece = tuple[str, Role, bool]  # text, colour, bold


@dataclass(frozen=True, slots=True)
class MirrorRow:
    """One measure. Values are the texts to show, None where nothing was measured; parts are bar lengths 0 to 1.

    `single` is the value of a measure that has no sides. `gap` is in words: "5.4 short". `change` is signed text.
    """

    id: str
    name: str
    unit: str = ""
    left: str | None = None
    right: str | None = None
    left_part: float = 0.0
    right_part: float = 0.0
    lower_is_better: bool = False
    single: str | None = None
    gap: str = ""
    verdict: Verdict | None = None
    change: str = ""

    @property
    def label(self) -> str:
        """Name and unit."""
        return f"{self.name}, {self.unit}" if self.unit else self.name


@dataclass(frozen=True, slots=True)
class Layout:
    """The columns of the table at one width: cells of a value, a bar, the names, the gap words, the change."""

    value: int
    bar: int
    name: int
    gap: int
    change: int
    spare: int  # blank cells before the gap words

    @property
    def width(self) -> int:
        """Cells in all."""
        return 2 + 2 * (self.value + self.bar) + self.name + self.spare + self.gap + self.change + 9


def layout_of(rows: Sequence[MirrorRow], width: int) -> Layout:
    """The columns for these rows at this width. Bars give way first, then the names."""
    values = [text for row in rows for text in (row.left, row.right) if text]
    value = max([4, *map(len, values)])
    name = max([8, *(len(row.label) + (len(row.single) + 2 if row.single else 0) for row in rows)])
    gap = max([3, *(len(row.gap) for row in rows)])
    change = max([4, *(len(row.change) for row in rows)])
    fixed = Layout(value, 0, 0, gap, change, 0).width
    name = max(8, min(name, width - fixed - 2 * SHORTEST_BAR))
    bar = max(0, min(LONGEST_BAR, (width - fixed - name) // 2))
    spare = max(0, width - Layout(value, bar, name, gap, change, 0).width)
    return Layout(value, bar, name, gap, change, spare)


def bar_of(part: float, cells: int, side: Side, *, open_head: bool = False) -> str:
    """A bar of this part of the cells, against the names and blank beyond; anything above zero leaves a trace."""
    halves = min(2 * cells, max(1 if part > 0 else 0, round(part * 2 * cells)))
    full, half = divmod(halves, 2)
    if open_head and halves:
        drawn = "▄" * max(full - 1 + half, 0) + OPEN_HEADS[side]
    else:
        drawn = "▄" * full + ("▖" if side is Side.RIGHT else "▗") * half
    if side is Side.RIGHT:
        return drawn.ljust(cells)[:cells]
    body = drawn[::-1]
    return body.rjust(cells)[-cells:] if cells else ""


def row_pieces(row: MirrorRow, columns: Layout, *, at_cursor: bool, cursor_role: Role) -> list[Piece]:
    """One row of the table."""
    glyph, verdict_role = verdict_mark(row.verdict) if row.verdict else (" ", Role.QUIET)
    left, right = (_value(row, text) for text in (row.left, row.right))
    return [
        (f"{CURSOR if at_cursor else ' '} ", cursor_role, True),
        (left.rjust(columns.value), Role.LEFT if row.left else Role.QUIET, True),
        (" ", Role.INK, False),
        (bar_of(row.left_part, columns.bar, Side.LEFT, open_head=row.lower_is_better), Role.LEFT, False),
        (" ", Role.INK, False),
        *_name(row, columns, bold=at_cursor),
        (" ", Role.INK, False),
        (bar_of(row.right_part, columns.bar, Side.RIGHT, open_head=row.lower_is_better), Role.RIGHT, False),
        (" ", Role.INK, False),
        (right.ljust(columns.value), Role.RIGHT if row.right else Role.QUIET, True),
        (" " * (columns.spare + 2), Role.INK, False),
        (row.gap.rjust(columns.gap), Role.INK, False),
        (f" {glyph} ", verdict_role, True),
        (row.change.ljust(columns.change), verdict_role, False),
    ]


def _value(row: MirrorRow, text: str | None) -> str:
    if row.single is not None:
        return ""
    return text or NOTHING


def _name(row: MirrorRow, columns: Layout, *, bold: bool) -> list[Piece]:
    room = columns.name - (len(row.single) + 2 if row.single else 0)
    label = row.label if len(row.label) <= room else f"{row.label[: max(room - 1, 0)]}…"
    pieces: list[Piece] = [(label.ljust(room), Role.INK, bold)]
    if row.single:
        pieces.append((f"  {row.single}", Role.INK, True))
    return pieces


PARTED = " │ "
"""Between two heads that would else be read as one."""


def header_pieces(columns: Layout, injured: Side, since: str) -> list[Piece]:
    """The line above: the sides with their arrows, the word on the injured one, and what the last columns are."""
    words = {side: ("injured" if side is injured else "") for side in Side}
    left = f"{words[Side.LEFT]} LEFT {LEFT_HEAD}".strip()
    right = f"{RIGHT_HEAD} RIGHT {words[Side.RIGHT]}".strip()
    left_room = 2 + columns.value + 1 + columns.bar
    left = left.rjust(left_room).ljust(left_room + columns.name + 2)  # with short bars it may reach over the names
    room = columns.width - len(left)
    # "since 1st" is wider than the changes below it: it may reach into the column of the gap, parted by a rule.
    tail = f"gap{PARTED if since else ''}{since}"
    gap_ends = room - columns.change - 3
    if gap_ends + len(PARTED) + len(since) <= room:
        tail = "gap" + since.rjust(room - gap_ends)
    return [
        (left, Role.LEFT, True),
        (right.ljust(room - len(tail))[: room - len(tail)], Role.RIGHT, True),
        (tail, Role.QUIET, False),
    ]


class MirrorTable(ScrollView, can_focus=True):
    """The table with a cursor. It scrolls under its header when there are more rows than room."""

    HELP_TEXT = (
        "Up and down choose a measure. ▲ is a clear gain, ▼ a clear loss, ≈ a change within measurement error, "
        "○ a change whose error is unknown, · nothing measured. A bar with an open head: lower is better."
    )
    DEFAULT_CSS = """
    MirrorTable { height: auto; width: 1fr; padding: 0 1; scrollbar-size-vertical: 1; background: $ground; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", "measure above", show=False),
        Binding("down", "move(1)", "measure below", show=False),
        Binding("home", "move(-1000)", "first measure", show=False),
        Binding("end", "move(1000)", "last measure", show=False),
    ]

    rows: reactive[tuple[MirrorRow, ...]] = reactive((), layout=True)
    cursor: reactive[int] = reactive(0)
    injured: reactive[Side] = reactive(Side.LEFT)

    @dataclass
    class RowChosen(Message):
        """The cursor stands on another row."""

        table: MirrorTable
        row: MirrorRow

    def __init__(
        self,
        rows: Sequence[MirrorRow] = (),
        injured: Side = Side.LEFT,
        *,
        since: str = "since 1st",
        empty: str = "Nothing has been measured yet.",
        id: str | None = None,
    ) -> None:
        super().__init__(id=id)
        self.since = since
        self.empty = empty
        self.set_reactive(MirrorTable.rows, tuple(rows))
        self.set_reactive(MirrorTable.injured, injured)
        self._fit()

    @property
    def chosen(self) -> MirrorRow | None:
        """The row under the cursor."""
        return self.rows[self.cursor] if self.rows else None

    def show(self, rows: Sequence[MirrorRow], injured: Side | None = None) -> None:
        """Show other rows; the cursor stays with its measure where that is still there."""
        held = self.chosen.id if self.chosen else ""
        ids = [row.id for row in rows]
        if injured is not None:
            self.injured = injured
        self.set_reactive(MirrorTable.cursor, ids.index(held) if held in ids else 0)
        self.rows = tuple(rows)

    def choose(self, row_id: str) -> None:
        """Put the cursor on the row with this id, if there is one."""
        for index, row in enumerate(self.rows):
            if row.id == row_id:
                self.cursor = index

    def action_move(self, by: int) -> None:
        """Move the cursor, and stop at the ends."""
        if self.rows:
            self.cursor = min(max(self.cursor + by, 0), len(self.rows) - 1)

    def watch_rows(self) -> None:
        """Keep the room to scroll in step."""
        self._fit()

    def watch_cursor(self) -> None:
        """Tell which row is chosen, and bring it into sight."""
        self.refresh()
        if self.chosen is None or not self.is_mounted:
            return
        room = max(self.scrollable_content_region.height - 1, 1)
        top = round(self.scroll_y)
        if not top <= self.cursor < top + room:
            self.scroll_to(y=self.cursor if self.cursor < top else self.cursor - room + 1, animate=False)
        self.post_message(self.RowChosen(self, self.chosen))

    def jump_spots(self) -> list[Spot]:
        """Each row in sight: going there puts the cursor on it."""
        top, room = round(self.scroll_y), max(self.scrollable_content_region.height - 1, 0)
        rows = range(top, min(top + room, len(self.rows)))
        return [(Offset(0, at - top + 1), partial(setattr, self, "cursor", at)) for at in rows]

    def on_click(self, event: events.Click) -> None:
        """A click on a row chooses it."""
        offset = event.get_content_offset(self)
        if offset is not None and 1 <= offset.y <= len(self.rows):
            self.cursor = min(offset.y - 1 + round(self.scroll_y), len(self.rows) - 1)

    def _fit(self) -> None:
        self.virtual_size = Size(1, max(len(self.rows), 1) + 1)

    def render_line(self, y: int) -> Strip:
        """The header, or the row that stands at this line."""
        room = self.scrollable_content_region.width
        width = room - 1 if self.show_vertical_scrollbar else room
        columns = layout_of(self.rows, width)
        index = y - 1 + round(self.scroll_y)
        pieces: list[Piece] = []
        if y == 0:
            pieces = header_pieces(columns, self.injured, self.since)
        elif index < len(self.rows):
            role = side_role(self.injured) if self.has_focus else Role.QUIET
            pieces = row_pieces(self.rows[index], columns, at_cursor=index == self.cursor, cursor_role=role)
        elif not self.rows and y == 1:
            pieces = [("  ", Role.INK, False), (self.empty, Role.QUIET, False)]
        segments = [Segment(text, paint(self.app, role, bold=bold)) for text, role, bold in pieces if text]
        return Strip(segments).adjust_cell_length(room, paint(self.app, Role.INK))
