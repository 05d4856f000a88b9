"""The criteria of a stage as a list that is walked: the verdict by glyph and word, value, line and age of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from textwrap import wrap

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual import events
from textual.geometry import Offset
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import CURSOR, DONE, Role, paint
from tui.widgets.spots import Spot

VERDICT, VALUE, LINE, AGE = 24, 9, 14, 8
"""Cells of the columns but the words, which take the rest."""

INDENT = 6  # of what is said under a row
ROOMY = 50  # cells in which a criterion is told in full
SHORT, OPEN = "✗", "?"


@dataclass(frozen=True, slots=True)
class CriterionRow:
    """One criterion: `good` whether it counts as met, None where there is no answer; `below` is said under it.

    `words` name it in a few words, `says` in full where there is room.
    """

    id: str
    verdict: str
    good: bool | None
    words: str
    says: str = ""
    value: str = ""
    line: str = ""
    age: str = ""
    below: str = ""

    @property
    def glyph(self) -> str:
        """Its mark: met, short, or open."""
        return OPEN if self.good is None else DONE if self.good else SHORT

    @property
    def role(self) -> Role:
        """Its colour, which says nothing that glyph and word do not."""
        if self.good is None:
            return Role.QUIET
        if self.good:
            return Role.GAIN
        return Role.LOSS if self.verdict.startswith("clearly") or self.verdict == "short" else Role.INK


class CriteriaList(Widget, can_focus=True):
    """The rows, with a cursor that up and down move."""

    DEFAULT_CSS = """
    CriteriaList { height: 1fr; padding: 0 1; background: $ground; }
    """
    HELP_TEXT = "Up and down choose a criterion; m measures it, i tells where its figures come from."

    rows: reactive[tuple[CriterionRow, ...]] = reactive((), layout=True)
    cursor: reactive[int] = reactive(0)

    @dataclass
    class Moved(Message):
        """The cursor came to another row."""

    def show(self, rows: Sequence[CriterionRow]) -> None:
        """Show other rows; the cursor stays on its criterion where that is still there."""
        was = self.chosen.id if self.chosen else ""
        self.rows = tuple(rows)
        ids = [row.id for row in rows]
        self.cursor = ids.index(was) if was in ids else 0
        self.refresh(layout=True)

    @property
    def chosen(self) -> CriterionRow | None:
        """The row under the cursor."""
        return self.rows[self.cursor] if self.cursor < len(self.rows) else None

    def move(self, by: int) -> None:
        """The row above or below."""
        if self.rows:
            self.cursor = min(max(self.cursor + by, 0), len(self.rows) - 1)

    def watch_cursor(self) -> None:
        """Tell whoever asks."""
        self.post_message(self.Moved())

    def on_click(self, event: events.Click) -> None:
        """The row that was clicked."""
        lines = self._lines(self.size.width)
        top = self._first(lines)
        at = top + event.y
        if 0 <= at < len(lines):
            self.cursor = lines[at][0]

    def jump_spots(self) -> list[Spot]:
        """The first line of each row in sight."""
        lines = self._lines(self.size.width)
        top = self._first(lines)
        spots: list[Spot] = []
        seen: set[int] = set()
        for y, (at, _) in enumerate(lines[top : top + self.size.height]):
            if at not in seen:
                seen.add(at)
                spots.append((Offset(0, y), partial(setattr, self, "cursor", at)))
        return spots

    def render_line(self, y: int) -> Strip:
        """One line of a row; the list scrolls with its cursor."""
        width = self.size.width
        lines = self._lines(width)
        at = self._first(lines) + y
        if at >= len(lines):
            return Strip.blank(width, self.rich_style)
        number, pieces = lines[at]
        here = number == self.cursor
        segments = [
            Segment(text, paint(self.app, role, bold=bold or (here and role is Role.INK)))
            for text, role, bold in pieces
        ]
        return Strip(segments).adjust_cell_length(width, self.rich_style)

    def _first(self, lines: Sequence[tuple[int, object]]) -> int:
        """The first line on show, so that the row under the cursor is whole."""
        height = max(self.size.height, 1)
        last = max((at for at, (number, _) in enumerate(lines) if number == self.cursor), default=0)
        return max(last - height + 1, 0)

    def _lines(self, width: int) -> list[tuple[int, list[tuple[str, Role, bool]]]]:
        found: list[tuple[int, list[tuple[str, Role, bool]]]] = []
        for number, row in enumerate(self.rows):
            cursor = CURSOR if number == self.cursor else " "
            room = max(width - VERDICT - VALUE - LINE - AGE - 6, 12)
            words = wrap(row.says if row.says and room >= ROOMY else row.words, room) or [""]
            for at, part in enumerate(words):
                head = [(f"{cursor} {row.glyph} " if at == 0 else "    ", row.role if at == 0 else Role.INK, True)]
                head.append((_cut(row.verdict if at == 0 else "", VERDICT - 3), row.role, False))
                head.append((_cut(part, room + 1), Role.INK, False))
                if at == 0:
                    head.append((f"{row.value:>{VALUE}}", Role.INK, True))
                    head.append((f"  {_cut(row.line, LINE)}", Role.QUIET, False))
                    head.append((f"{row.age:>{AGE}}", Role.QUIET, False))
                found.append((number, head))
            indent = INDENT
            for part in wrap(row.below, max(width - indent - 1, 20)):
                found.append((number, [(" " * indent + part, Role.QUIET, False)]))
        return found


def _cut(text: str, cells: int) -> str:
    return set_cell_size(text, cells) if cell_len(text) <= cells else set_cell_size(text, cells - 1) + "…"
