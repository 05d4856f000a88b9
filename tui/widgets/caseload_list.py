"""The list of the caseload: a line a person, drawn only where it is in sight, so that a long one costs no more."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache, partial
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual import events
from textual.geometry import Offset
from textual.message import Message
from textual.messages import Update
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from store.care.caseload import CaseloadRow
from store.care.visible import visible
from store.knowledge.words import Side
from tui.widgets.look import CURSOR, Role, paint, side_head, side_role
from tui.widgets.spots import Spot

WAITING = "…"
MIND = "!"  # in the margin of whoever was not screened yet, or has a referral to be settled
WHEEL = 3  # rows a notch
CURSOR_CELLS = 2
Piece = tuple[str, Role, bool]  # text, colour, bold


class Columns(NamedTuple):
    """Cells of each column at one width, and of the blanks between them. Without an `injury` it has none."""

    who: int = 7
    side: int = 7
    injury: int = 19  # "lateral ligament II"
    week: int = 3
    next: int = 11  # "today 10:40"
    gap: int = 17  # "none beyond error"
    stage: int = 6
    blank: int = 1

    @property
    def width(self) -> int:
        """Of a whole line."""
        cells = (self.who, self.side, self.injury, self.week, self.next, self.gap, self.stage)
        return CURSOR_CELLS + sum(cells) + self.blank * (sum(map(bool, cells)) - 1)


LONG_NEXT = 12
"""Cells of the next visit from which its time of day stands there too."""

ROOMY = 100
"""Cells from which the last one stays blank, as the first does: a word there touches the edge."""

_WISHES = (
    ("stage", 1),  # "agility"
    ("blank", 1),
    ("next", 5),
    ("injury", 13),
    ("gap", 8),
    ("who", 20),
    ("gap", 15),
    ("injury", 20),
)
"""What spare width goes to, in turn, and how much of it."""


@lru_cache(8)  # each line asks
def columns_of(width: int) -> Columns:
    """The columns at this width. Where there is too little the injury gives way: it stands on the episode."""
    columns = Columns()
    if width < columns.width:
        columns = Columns(injury=0)
        return columns._replace(gap=max(columns.gap + width - columns.width, 4))
    room = width - 1 if width >= ROOMY else width
    for name, wish in _WISHES:
        spare = room - columns.width
        wider = columns._replace(
            **{name: getattr(columns, name) + (wish if name == "blank" else min(wish, spare))}
        )
        if wider.width <= room:
            columns = wider
    return columns


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


def refer_cell(refer: str, gap: str, cells: int) -> str:
    """A referral that nobody has settled, and behind it the gap where there is room for both."""
    both = f"{refer} stands; {gap}"
    return both.ljust(cells) if cell_len(both) <= cells else fitted(refer, cells)


def side_cell(side: Side | None, cells: int) -> str:
    """The side as word and arrow; left stands at the left of the column, right at its right."""
    if side is None:
        return " " * cells
    return f"◀ {side}".ljust(cells) if side is Side.LEFT else f"{side} {side_head(side)}".rjust(cells)


def injury_cell(row: CaseloadRow, cells: int) -> str:
    """What is torn and its grade in exactly so many cells: where it is too long the grade stays."""
    if not cells:
        return ""
    structure = visible(row.structure)
    if row.episode is None:
        return fitted("no episode", cells)
    if row.grade:
        room = cells - cell_len(row.grade) - 1
        name = structure if cell_len(structure) <= room else fitted(structure, room).rstrip()
        return fitted(f"{name} {row.grade}", cells)
    text = f"{structure}, not yet graded"
    return fitted(text if cell_len(text) <= cells else "not yet graded", cells)


def row_pieces(row: CaseloadRow, gap: str, columns: Columns, *, at_cursor: bool) -> list[Piece]:
    """One person's line."""
    ink = Role.INK if row.is_open else Role.QUIET
    side = side_role(row.injured_side) if row.injured_side and row.is_open else Role.QUIET
    week = str(row.week) if row.week is not None else "?" if row.is_open else ""
    clear = row.recall is not None or (row.is_open and gap[-1:].isalpha() and "," in gap)
    due = row.next_long if columns.next >= LONG_NEXT else row.next_words
    stage = row.stage_words or "none" if row.is_open else "closed" if row.episode else ""
    cells: list[Piece] = [
        (fitted(visible(row.label), columns.who), ink, at_cursor),
        (side_cell(row.injured_side, columns.side), side, at_cursor),
        (injury_cell(row, columns.injury), ink if row.grade else Role.QUIET, False),
        (week.rjust(columns.week), ink, False),
        (fitted(due or ("none" if row.is_open else ""), columns.next), Role.INK if due else Role.QUIET, False),
        (refer_cell(row.refer_words, gap, columns.gap), Role.LOSS, True)
        if row.refer_words
        else (gap_cell(gap, columns.gap), Role.INK if clear else Role.QUIET, at_cursor and clear),
        (fitted(stage, columns.stage), Role.QUIET, False),
    ]
    flag = MIND if row.refer_words or not row.screened else ""
    lead = f"{CURSOR}{flag}" if at_cursor else flag
    return [(lead.ljust(CURSOR_CELLS), Role.NOW if at_cursor else Role.LOSS, True), *_spaced(cells, columns)]


def flat_pieces(words: str, columns: Columns, margin: str = "") -> list[Piece]:
    """The line under a person's: which measure has come to a stand, from where the injury stands on."""
    indent = columns.who + columns.side + 2 * columns.blank
    room = columns.width - CURSOR_CELLS - indent
    return [
        (f"{margin.ljust(CURSOR_CELLS)}{'':{indent}}", Role.QUIET, False),
        (fitted(words, room), Role.LOSS, False),
    ]


def header_pieces(columns: Columns) -> list[Piece]:
    """The names of the columns; that of the weeks, which is longer than they, begins in the blank before it."""
    injury = "injury" if columns.injury else ""
    names = (
        fitted("who", columns.who), "side".center(columns.side), fitted(injury, columns.injury),
        "week"[-columns.week - 1 :], fitted("next visit", columns.next), fitted("widest gap", columns.gap),
        fitted("stage", columns.stage),
    )  # fmt: skip
    pieces = _spaced([(name, Role.QUIET, False) for name in names], columns)
    at = next(n for n, piece in enumerate(pieces) if piece[0] == "week")
    pieces[at - 1] = (" " * (columns.blank - 1), Role.QUIET, False)
    return [(" " * CURSOR_CELLS, Role.QUIET, False), *pieces]


def _spaced(cells: Sequence[Piece], columns: Columns) -> list[Piece]:
    """The cells with blanks between them; one without width has none."""
    shown = [cell for cell in cells if cell[0]]
    blank: Piece = (" " * columns.blank, Role.QUIET, False)
    return [piece for cell in shown for piece in (blank, cell)][1:]


class CaseloadList(Widget):
    """The rows, with a cursor that the screen moves: the field above keeps the focus. Whose ankle has come to a
    stand has a second line (`flats`, by episode).

    It scrolls by itself and has no bar: a new set of rows then costs a paint, and no layout of the screen. An
    arrow in the margin says that there is more above or below. `empty` is what is said where there are no rows.
    """

    DEFAULT_CSS = """
    CaseloadList { height: 1fr; width: 1fr; padding: 0 0 0 1; background: $ground; }
    """

    rows: reactive[tuple[CaseloadRow, ...]] = reactive(())
    cursor: reactive[int] = reactive(0)
    top: reactive[int] = reactive(0)
    gaps: reactive[Mapping[str, str]] = reactive({})
    flats: reactive[Mapping[str, str]] = reactive({})
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
        lines = self._lines()
        return self.rows[self.top : lines[-1][0] + 1] if lines else ()

    def _flat(self, at: int) -> str:
        """The words of a row's second line; empty where it has none."""
        row = self.rows[at]
        return self.flats.get(row.episode or "", "") if self.flats and row.is_open else ""

    def _lines(self) -> list[tuple[int, str]]:
        """For each line under the header its row, with the words where it is a second line."""
        top, room = self.top, self.room
        there = range(top, min(top + room, len(self.rows)))
        if not self.flats:  # the usual case, and each line that is painted asks
            return [(at, "") for at in there]
        lines: list[tuple[int, str]] = []
        for at in there:
            flat = self._flat(at)
            lines += [(at, ""), (at, flat)] if flat else [(at, "")]
        return lines[:room]

    def _first_above(self, last: int) -> int:
        """The first row from which all down to the last one are whole in sight."""
        if not self.flats:
            return max(last - self.room + 1, 0)
        left, first = self.room, last
        for at in range(last, -1, -1):
            left -= 2 if self._flat(at) else 1
            if left < 0:
                break
            first = at
        return first

    def show(self, rows: Sequence[CaseloadRow], *, keep: bool) -> None:
        """Show other rows; the cursor stays with its episode where `keep` and it is still there."""
        held = _key(self.chosen) if keep and self.chosen else None
        ids = [_key(row) for row in rows]
        self.set_reactive(CaseloadList.cursor, ids.index(held) if held is not None and held in ids else 0)
        self.rows = tuple(rows)
        self._into_sight()
        self.refresh()  # also where the rows are the same: what is typed is seen to be answered
        self.screen.post_message(Update(self))  # now, for the paint of the letter typed: else a frame or two later

    def move(self, by: int) -> None:
        """Move the cursor, and stop at the ends."""
        if self.rows:
            self.cursor = min(max(self.cursor + by, 0), len(self.rows) - 1)

    def watch_cursor(self) -> None:
        """Bring the cursor into sight and tell of it."""
        self._into_sight()
        self.post_message(self.Moved())

    def watch_flats(self) -> None:
        """More lines, or fewer: keep the cursor in sight."""
        self._into_sight()
        self.post_message(self.Moved())

    def on_resize(self) -> None:
        """Keep the cursor in sight."""
        self._into_sight()
        self.post_message(self.Moved())

    def jump_spots(self) -> list[Spot]:
        """Each row in sight: going there opens it."""
        lines = enumerate(self._lines(), 1)
        return [(Offset(0, y), partial(self.open_at, at)) for y, (at, flat) in lines if not flat]

    def open_at(self, at: int) -> None:
        """Put the cursor on a row and open it."""
        self.cursor = at
        self.post_message(self.Opened())

    def on_click(self, event: events.Click) -> None:
        """A click chooses a row; on the chosen one it opens it."""
        offset = event.get_content_offset(self)
        lines = self._lines()
        if offset is not None and 1 <= offset.y <= len(lines):
            at = lines[offset.y - 1][0]
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
        self.top = min(max(self.top + by, 0), self._first_above(len(self.rows) - 1) if self.rows else 0)
        self.post_message(self.Moved())

    def _into_sight(self) -> None:
        if not self.rows:
            self.top = 0
            return
        top = min(self.top, self._first_above(len(self.rows) - 1), self.cursor)
        self.top = max(top, self._first_above(self.cursor))

    def _margin(self, at: int, y: int) -> str:
        """An arrow beside the first and the last row in sight where there are more beyond."""
        if at == self.top > 0:
            return "↑ "
        return "↓ " if y == self.room and at + 1 < len(self.rows) else ""

    def render_line(self, y: int) -> Strip:
        """The header, or the row that stands at this line."""
        width = self.content_size.width
        columns = columns_of(width)
        on_show = self._lines() if y else []
        at, flat = on_show[y - 1] if 1 <= y <= len(on_show) else (-1, "")
        row = self.rows[at] if at >= 0 else None
        ground = Role.SHEET if row is not None and at == self.cursor else Role.GROUND
        pieces: list[Piece] = []
        if flat:
            below = self._margin(at, y) if self.cursor != at > self.top else ""
            pieces = flat_pieces(flat, columns, below)
        elif row is not None:
            gap = self.gaps.get(row.episode or "", WAITING) if row.is_open else row.recall_words
            pieces = row_pieces(row, gap, columns, at_cursor=at == self.cursor)
            if at != self.cursor and self._margin(at, y):
                flag = pieces[0][0].strip()
                pieces[0] = (f"{self._margin(at, y).strip()}{flag}".ljust(CURSOR_CELLS), Role.QUIET, False)
        elif not self.rows:
            from tui.widgets.page_of_words import wrapped  # of no use where there are rows

            lines = ["", *(part for line in self.empty.splitlines() for part in wrapped(line, width - 2))]
            pieces = [("  ", Role.INK, False), (lines[y], Role.QUIET, False)] if y < len(lines) else []
        elif y == 0:
            pieces = header_pieces(columns)
        segments = [Segment(text, paint(self.app, role, bold=bold, on=ground)) for text, role, bold in pieces]
        return Strip(segments).adjust_cell_length(width, paint(self.app, Role.INK, on=ground))


def _key(row: CaseloadRow) -> str:
    """What a row is about: an episode, or a person who has none."""
    return row.episode or row.person
