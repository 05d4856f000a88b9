"""The plan of a visit as a list that is walked: a cursor on the next step, what came of each, what it wants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial
from textwrap import TextWrapper

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual import events
from textual.geometry import Offset
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import CURSOR, DONE, FLAG, NOTHING, Role, paint
from tui.widgets.spots import Spot

Pieces = list[tuple[str, Role, bool]]
"""One line in parts: text, colour, bold."""


class Stand(StrEnum):
    """How a step stands."""

    OPEN = "open"
    DONE = "done"
    LATER = "later"
    DROPPED = "dropped"
    PAUSED = "paused"  # a bout that was left, told before the plan


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One step: `key` names it, `minutes` is what it still wants, `drop` asks whether to leave it out.

    `minds` is what to mind with this person before it, in a few words. `right`: it is of the right ankle alone, in
    a list of both, and what it says stands further to the right than that of the left. `beside` is a word that
    stands where the minutes do, in at most six letters.
    """

    key: str
    name: str
    says: str
    stand: Stand
    minutes: float = 0.0
    drop: bool = False
    minds: str = ""
    right: bool = False
    beside: str = ""


GLYPHS = {Stand.DONE: DONE, Stand.PAUSED: FLAG, Stand.LATER: NOTHING, Stand.DROPPED: "-"}
_NAME = 18
_MINUTES = 7
_LEAST = 10  # cells in which a text can still be wrapped
_ASIDE, _SAYS = 32, 36  # cells by which the right ankle's stands further right, where so many are left for it
_MIND = "mind: "
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

    def _lines(self, width: int) -> list[tuple[int, Pieces]]:
        """All lines of the list, each with the index of its row; a tall screen has a blank one between rows."""
        apart = self.screen.size.height >= TALL and len(self.rows) < 12
        found: list[tuple[int, Pieces]] = []
        for at, row in enumerate(self.rows):
            if apart and at:
                found.append((at - 1, []))
            found += [(at, line) for line in row_lines(row, width, at_cursor=at == self.cursor)]
        return found

    def get_content_height(self, _container: object, _viewport: object, width: int) -> int:
        """All rows, while there is room."""
        return max(len(self._lines(width)), 1)

    def in_sight(self) -> list[tuple[int, Pieces]]:
        """The lines that are painted: the row under the cursor is among them whole."""
        lines, height = self._lines(self.content_size.width), max(self.content_size.height, 1)
        last = max((n for n, (at, line) in enumerate(lines) if at == self.cursor and line), default=0)
        return lines[max(0, last - height + 1) :][:height]

    def jump_spots(self) -> list[Spot]:
        """The first line of each row in sight: going there is a click on it."""
        spots: list[Spot] = []
        seen: set[int] = set()
        for y, (at, _) in enumerate(self.in_sight()):
            if at not in seen:
                seen.add(at)
                spots.append((Offset(0, y), partial(self.go_to, at)))
        return spots

    def go_to(self, at: int) -> None:
        """As a click on a row that the cursor is not on."""
        if at != self.cursor:
            self.post_message(self.Clicked(at))

    def on_click(self, event: events.Click) -> None:
        """Tell which row was clicked."""
        offset, shown = event.get_content_offset(self), self.in_sight()
        if offset is not None and offset.y < len(shown):
            self.post_message(self.Clicked(shown[offset.y][0]))

    def render_line(self, y: int) -> Strip:
        """One line of a row, or a blank one."""
        shown = self.in_sight()
        pieces = shown[y][1] if y < len(shown) else []
        segments = [Segment(text, paint(self.app, role, bold=bold)) for text, role, bold in pieces]
        return Strip(segments).adjust_cell_length(self.content_size.width, paint(self.app, Role.INK))


def row_lines(row: PlanRow, width: int, *, at_cursor: bool) -> list[Pieces]:
    """A row as lines of (text, colour, bold): cursor, mark, name, what it says, and what it still wants.

    What is too long for its column goes on in the next line; what to mind has lines of its own. Nothing is cut.
    """
    name_role = {Stand.OPEN: Role.INK, Stand.PAUSED: Role.INK, Stand.DONE: Role.INK}.get(row.stand, Role.QUIET)
    says_role = Role.INK if row.stand in (Stand.DONE, Stand.PAUSED) else Role.QUIET
    beside = f"{row.minutes:g} min" if row.stand is Stand.OPEN and row.minutes else row.beside
    wants = "drop?" if row.drop else beside
    glyph = FLAG if row.minds else GLYPHS.get(row.stand, " ")
    glyph_role = {Stand.DONE: Role.GAIN, Stand.PAUSED: Role.NOW}.get(row.stand, Role.QUIET)
    glyph_role = Role.LOSS if row.minds else glyph_role
    minutes = _MINUTES if wants else 0
    names, says = _columns(row, max(width - 4 - minutes, _LEAST))
    room = max(map(cell_len, [*names, " " * _name_cells(width - 4 - minutes)]))
    lines: list[Pieces] = []
    for n in range(max(len(names), len(says))):
        name = names[n] if n < len(names) else ""
        said = f"  {says[n]}" if n < len(says) else ""
        lines.append(
            [
                (f"{CURSOR if at_cursor and n == 0 else ' '} ", Role.NOW, True),
                (f"{glyph if n == 0 else ' '} ", glyph_role, True),
                (
                    set_cell_size(name, min(room, width - 4 - minutes)),
                    Role.NOW if at_cursor and name_role is Role.INK else name_role,
                    at_cursor,
                ),
                (set_cell_size(said, max(width - 4 - minutes - room, 0)), says_role, False),
                (
                    wants.rjust(minutes) if n == 0 else " " * minutes,
                    Role.LOSS if row.drop else Role.QUIET,
                    row.drop,
                ),
            ]
        )
    minded = _wrapped(row.minds, max(width - 4 - len(_MIND), _LEAST))
    for n, text in enumerate(minded):
        lines.append([(f"    {_MIND if n == 0 else ' ' * len(_MIND)}{text}", Role.INK, False)])
    return lines


def _wrapped(text: str, width: int) -> list[str]:
    """The text in lines of so many cells; a word with a hyphen stays whole where there is room for it."""
    longest = max(map(len, text.split()), default=0)
    return TextWrapper(width, break_on_hyphens=longest > width).wrap(text)


def _columns(row: PlanRow, width: int) -> tuple[list[str], list[str]]:
    """Name and saying, each in the lines of its column; the name of a bout that was left has all the room."""
    if row.stand is Stand.PAUSED:
        names = _wrapped(row.name, width)
        fits = cell_len(names[-1]) + 2 + cell_len(row.says) <= width and len(names) == 1
        return (names, [row.says]) if fits else ([*names, row.says], [])
    column = _name_cells(width)
    if width - column - 2 < _LEAST:  # too narrow for two columns: one under the other
        return [*_wrapped(row.name, width), *(f"  {line}" for line in _wrapped(row.says, width - 2))], []
    room = width - column - 2
    aside = max(min(_ASIDE, room - _SAYS), 0) if row.right else 0
    said = _wrapped(row.says, room - aside)
    return _wrapped(row.name, column) or [""], [f"{' ' * aside}{line}" for line in said]


def _name_cells(width: int) -> int:
    return _NAME if width < 50 else _NAME + 4


def fitted(text: str, cells: int) -> str:
    """The text in exactly so many cells, with an ellipsis where it was cut."""
    if cell_len(text) <= cells:
        return set_cell_size(text, cells)
    return f"{set_cell_size(text, max(cells - 1, 0))}…" if cells > 0 else ""
