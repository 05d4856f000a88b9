"""The list of the caseload: a line a person, drawn only where it is in sight, so that a long one costs no more."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from store.care.caseload import CaseloadRow
from store.care.in_words import visible
from store.knowledge.words import Side
from tui.widgets.look import CURSOR, Role, paint, side_head, side_role
from tui.widgets.page_of_words import wrapped

WAITING = "…"
WHEEL = 3  # rows a notch
_BLANKS = 10  # of the cursor, and between the columns
Piece = tuple[str, Role, bool]  # text, colour, bold


@dataclass(frozen=True, slots=True)
class Columns:
    """Cells of each column at one width; one blank or two stand between them."""

    who: int
    side: int
    injury: int
    grade: int
    week: int
    gap: int
    stage: int


def columns_of(width: int) -> Columns:
    """The columns at this width: what is spare goes to the gap first, then to the injury, then to the label."""
    side, grade, week, stage = 7, 7, 4, 6
    spare = max(width - _BLANKS - (side + grade + week + stage), 20)
    if spare < 36:  # no room for both: the injury stands on the episode
        return Columns(7, side, 0, grade, week, spare - 7, stage)
    gap = min(spare - 24, 40)
    injury = min(spare - gap - 8, 26)
    return Columns(min(max(spare - gap - injury, 4), 26), side, injury, grade, week, gap, stage)


def fitted(text: str, cells: int) -> str:
    """The text in exactly so many cells, with an ellipsis where it was cut."""
    if not cells:
        return ""
    return set_cell_size(text, cells) if cell_len(text) <= cells else f"{set_cell_size(text, cells - 1)}…"


def gap_cell(gap: str, cells: int) -> str:
    """The gap in exactly so many cells: where it is too long its measure is cut, never its figure."""
    name, comma, figure = gap.rpartition(", ")
    room = cells - cell_len(figure) - 2
    if cell_len(gap) <= cells or not comma or room < 4:
        return fitted(gap, cells)
    return f"{fitted(name, room).rstrip()}, {figure}".ljust(cells)


def side_cell(side: Side | None, cells: int) -> str:
    """The side as word and arrow; left stands at the left of the column, right at its right."""
    if side is None:
        return " " * cells
    return f"◀ {side}".ljust(cells) if side is Side.LEFT else f"{side} {side_head(side)}".rjust(cells)


def row_pieces(row: CaseloadRow, gap: str, columns: Columns, *, at_cursor: bool) -> list[Piece]:
    """One person's line."""
    ink = Role.INK if row.is_open else Role.QUIET
    side = side_role(row.injured_side) if row.injured_side and row.is_open else Role.QUIET
    week = str(row.week) if row.week is not None else "?"
    clear = row.is_open and gap[-1:].isalpha() and "," in gap
    return [
        (f"{CURSOR if at_cursor else ' '} ", Role.NOW, True),
        (fitted(visible(row.label), columns.who), ink, at_cursor),
        ("  ", ink, False),
        (side_cell(row.injured_side, columns.side), side, at_cursor),
        ("  ", ink, False),
        (fitted(visible(row.structure), columns.injury), ink, False),
        (" ", ink, False),
        (fitted(str(row.grade or "not yet"), columns.grade), ink if row.grade else Role.QUIET, False),
        (week.rjust(columns.week), ink, False),
        ("  ", ink, False),
        (gap_cell(gap, columns.gap), ink if clear else Role.QUIET, at_cursor and clear),
        (" ", ink, False),
        (fitted("closed" if not row.is_open else row.stage_words or "none", columns.stage), Role.QUIET, False),
    ]


def header_pieces(columns: Columns) -> list[Piece]:
    """The names of the columns."""
    names = (
        ("  ", 2), ("who", columns.who + 2), ("side".center(columns.side), columns.side + 2),
        ("injury", columns.injury + 1), ("grade", columns.grade), ("week".rjust(columns.week), columns.week + 2),
        ("widest gap", columns.gap + 1), ("stage", columns.stage),
    )  # fmt: skip
    return [(fitted(name, cells), Role.QUIET, False) for name, cells in names]


class CaseloadList(Widget):
    """The rows, with a cursor that the screen moves: the field above keeps the focus.

    It scrolls by itself and has no bar: a new set of rows then costs a paint, and no layout of the screen. An
    arrow in the margin says that there is more above or below. `empty` is what is said where there are no rows.
    """

    DEFAULT_CSS = """
    CaseloadList { height: 1fr; width: 1fr; padding: 0 1; background: $ground; }
    """

    rows: reactive[tuple[CaseloadRow, ...]] = reactive(())
    cursor: reactive[int] = reactive(0)
    top: reactive[int] = reactive(0)
    gaps: reactive[Mapping[str, str]] = reactive({})
    empty: reactive[str] = reactive("")

    class Moved(Message):
        """The cursor or the part in sight moved: more rows, or gaps, may be wanted."""

    class Opened(Message):
        """A row was clicked while the cursor stood on it."""

    @property
    def chosen(self) -> CaseloadRow | None:
        """The row under the cursor."""
        return self.rows[self.cursor] if self.cursor < len(self.rows) else None

    @property
    def room(self) -> int:
        """Rows that fit under the header."""
        return max(self.content_size.height - 1, 1)

    @property
    def in_sight(self) -> Sequence[CaseloadRow]:
        """The rows on show."""
        return self.rows[self.top : self.top + self.room]

    def show(self, rows: Sequence[CaseloadRow], *, keep: bool) -> None:
        """Show other rows; the cursor stays with its episode where `keep` and it is still there."""
        held = self.chosen.episode if keep and self.chosen else None
        ids = [row.episode for row in rows]
        self.set_reactive(CaseloadList.cursor, ids.index(held) if held is not None and held in ids else 0)
        self.rows = tuple(rows)
        self._into_sight()
        self.refresh()  # also where the rows are the same: what is typed is seen to be answered

    def move(self, by: int) -> None:
        """Move the cursor, and stop at the ends."""
        if self.rows:
            self.cursor = min(max(self.cursor + by, 0), len(self.rows) - 1)

    def watch_cursor(self) -> None:
        """Bring the cursor into sight and tell of it."""
        self._into_sight()
        self.post_message(self.Moved())

    def on_resize(self) -> None:
        """Keep the cursor in sight."""
        self._into_sight()
        self.post_message(self.Moved())

    def on_click(self, event: events.Click) -> None:
        """A click chooses a row; on the chosen one it opens it."""
        offset = event.get_content_offset(self)
        at = offset.y - 1 + self.top if offset is not None and offset.y >= 1 else -1
        if 0 <= at < len(self.rows):
            if at == self.cursor:
                self.post_message(self.Opened())
            self.cursor = at

    def on_mouse_scroll_down(self) -> None:
        """The wheel moves what is in sight."""
        self._scroll(WHEEL)

    def on_mouse_scroll_up(self) -> None:
        """The wheel moves what is in sight."""
        self._scroll(-WHEEL)

    def _scroll(self, by: int) -> None:
        self.top = min(max(self.top + by, 0), max(len(self.rows) - self.room, 0))
        self.post_message(self.Moved())

    def _into_sight(self) -> None:
        top = min(self.top, max(len(self.rows) - self.room, 0))
        if self.cursor < top:
            top = self.cursor
        elif self.cursor >= top + self.room:
            top = self.cursor - self.room + 1
        self.top = top

    def _margin(self, at: int) -> str:
        """An arrow beside the first and the last row in sight where there are more beyond."""
        if at == self.top > 0:
            return "↑ "
        return "↓ " if at == self.top + self.room - 1 and at + 1 < len(self.rows) else ""

    def render_line(self, y: int) -> Strip:
        """The header, or the row that stands at this line."""
        width = self.content_size.width
        columns = columns_of(width)
        at = y - 1 + self.top
        row = self.rows[at] if y and at < len(self.rows) else None
        ground = Role.SHEET if row is not None and at == self.cursor else Role.GROUND
        pieces: list[Piece] = []
        if row is not None:
            gap = self.gaps.get(row.episode or "", WAITING) if row.is_open else ""
            pieces = row_pieces(row, gap, columns, at_cursor=at == self.cursor)
            if at != self.cursor and self._margin(at):
                pieces[0] = (self._margin(at), Role.QUIET, False)
        elif not self.rows:
            lines = ["", *(part for line in self.empty.splitlines() for part in wrapped(line, width - 2))]
            pieces = [("  ", Role.INK, False), (lines[y], Role.QUIET, False)] if y < len(lines) else []
        elif y == 0:
            pieces = header_pieces(columns)
        segments = [Segment(text, paint(self.app, role, bold=bold, on=ground)) for text, role, bold in pieces]
        return Strip(segments).adjust_cell_length(width, paint(self.app, Role.INK, on=ground))
