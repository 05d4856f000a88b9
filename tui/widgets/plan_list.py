"""The plan of a visit as a list that is walked: a cursor on the next step, what came of each, what it wants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import CURSOR, DONE, FLAG, NOTHING, Role, paint


class Stand(StrEnum):
    """How a step stands."""

    OPEN = "open"
    DONE = "done"
    LATER = "later"
    DROPPED = "dropped"
    PAUSED = "paused"  # a bout that was left, told before the plan


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One line: `key` names it, `minutes` is what it still wants, `drop` asks whether to leave it out."""

    key: str
    name: str
    says: str
    stand: Stand
    minutes: float = 0.0
    drop: bool = False


GLYPHS = {Stand.DONE: DONE, Stand.PAUSED: FLAG, Stand.LATER: NOTHING, Stand.DROPPED: "-"}
_NAME = 18
_MINUTES = 6
_LEAST = 10  # cells under which a cut text says nothing
TALL = 34  # rows of the screen from which the lines stand apart


class PlanList(Widget):
    """The rows, with a cursor that the screen moves."""

    DEFAULT_CSS = """
    PlanList { height: auto; max-height: 100%; width: 1fr; padding: 0 1; background: $ground; }
    """

    rows: reactive[tuple[PlanRow, ...]] = reactive((), layout=True)
    cursor: reactive[int] = reactive(0)

    @dataclass
    class Clicked(Message):
        """A row was clicked."""

        at: int

    @property
    def chosen(self) -> PlanRow | None:
        """The row under the cursor."""
        return self.rows[self.cursor] if self.cursor < len(self.rows) else None

    def show(self, rows: Sequence[PlanRow], cursor: int) -> None:
        """Show other rows, with the cursor on one of them."""
        self.rows = tuple(rows)
        self.cursor = min(max(cursor, 0), max(len(rows) - 1, 0))

    def move(self, by: int) -> None:
        """Move the cursor, and stop at the ends."""
        self.cursor = min(max(self.cursor + by, 0), max(len(self.rows) - 1, 0))

    @property
    def pitch(self) -> int:
        """Lines of the screen from one row to the next."""
        return 2 if self.screen.size.height >= TALL and len(self.rows) < 12 else 1

    def get_content_height(self, _container: object, _viewport: object, _width: int) -> int:
        """All rows, while there is room."""
        return max(len(self.rows) * self.pitch - (self.pitch - 1), 1)

    @property
    def top(self) -> int:
        """The first row in sight: the cursor always is."""
        return max(0, self.cursor - max((self.content_size.height - 1) // self.pitch, 0))

    def on_click(self, event: events.Click) -> None:
        """Tell which row was clicked."""
        offset = event.get_content_offset(self)
        at = offset.y // self.pitch + self.top if offset is not None else len(self.rows)
        if at < len(self.rows):
            self.post_message(self.Clicked(at))

    def render_line(self, y: int) -> Strip:
        """One row, or a blank one."""
        ground = paint(self.app, Role.INK)
        at = y // self.pitch + self.top
        segments: list[Segment] = []
        if at < len(self.rows) and y % self.pitch == 0:
            pieces = row_pieces(self.rows[at], self.content_size.width, at_cursor=at == self.cursor)
            segments = [Segment(text, paint(self.app, role, bold=bold)) for text, role, bold in pieces]
        return Strip(segments).adjust_cell_length(self.content_size.width, ground)


def row_pieces(row: PlanRow, width: int, *, at_cursor: bool) -> list[tuple[str, Role, bool]]:
    """A row as (text, colour, bold): cursor, mark, name, what it says, and what it still wants at the right."""
    name_role = {Stand.OPEN: Role.INK, Stand.PAUSED: Role.INK, Stand.DONE: Role.INK}.get(row.stand, Role.QUIET)
    says_role = Role.INK if row.stand in (Stand.DONE, Stand.PAUSED) else Role.QUIET
    wants = "drop?" if row.drop else f"{row.minutes:g} min" if row.stand is Stand.OPEN and row.minutes else ""
    glyph = GLYPHS.get(row.stand, " ")
    glyph_role = {Stand.DONE: Role.GAIN, Stand.PAUSED: Role.NOW}.get(row.stand, Role.QUIET)
    name_cells = cell_len(row.name) if row.stand is Stand.PAUSED else _NAME if width < 60 else _NAME + 4
    minutes = _MINUTES if wants else 0
    name_cells = min(name_cells, max(width - 4 - minutes, 0))
    spare = max(width - 4 - name_cells - minutes, 0)
    says = fitted(f"  {row.says}", spare) if spare >= _LEAST else " " * spare
    return [
        (f"{CURSOR if at_cursor else ' '} ", Role.NOW, True),
        (f"{glyph} ", glyph_role, True),
        (fitted(row.name, name_cells), Role.NOW if at_cursor and name_role is Role.INK else name_role, at_cursor),
        (says, says_role, False),
        (wants.rjust(_MINUTES) if wants else "", Role.LOSS if row.drop else Role.QUIET, row.drop),
    ]


def fitted(text: str, cells: int) -> str:
    """The text in exactly so many cells, with an ellipsis where it was cut."""
    if cell_len(text) <= cells:
        return set_cell_size(text, cells)
    return f"{set_cell_size(text, max(cells - 1, 0))}…" if cells > 0 else ""
