"""Questions one under the other with their answers: a flag for a yes, a tick for a no, a dot for not asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap

from rich.cells import set_cell_size
from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import CURSOR, DONE, FLAG, NOTHING, Role, paint

Pieces = list[tuple[str, Role, bool]]
ANSWER = 12  # cells of the answers


@dataclass(frozen=True, slots=True)
class QuestionRow:
    """One question. `sign` says whether its answer is one to mind; None where it was not asked."""

    key: str
    asks: str
    answer: str
    sign: bool | None


class QuestionList(Widget, can_focus=True):
    """The rows of a group, with a cursor that the screen moves."""

    DEFAULT_CSS = """
    QuestionList { height: 1fr; width: 1fr; padding: 0 1; background: $ground; }
    """
    HELP_TEXT = (
        "Up and down go to another line; the line of keys at the foot says what answers it, and what keeps all."
    )

    rows: reactive[tuple[QuestionRow, ...]] = reactive(())
    cursor: reactive[int] = reactive(0)

    @dataclass
    class Clicked(Message):
        """A row was clicked."""

        key: str

    def show(self, rows: Sequence[QuestionRow], cursor: int) -> None:
        """Show other rows, with the cursor on one of them; below nought it is on none."""
        self.rows = tuple(rows)
        self.cursor = min(cursor, max(len(rows) - 1, 0))

    def on_click(self, event: events.Click) -> None:
        """Tell which row was clicked."""
        offset, shown = event.get_content_offset(self), self._in_sight()
        if offset is not None and offset.y < len(shown):
            self.post_message(self.Clicked(self.rows[shown[offset.y][0]].key))

    def _in_sight(self) -> list[tuple[int, Pieces]]:
        """The lines that are painted: the row under the cursor whole, and the one after it if it fits."""
        lines = self._lines()
        height = max(self.content_size.height, 1)
        last = max((n for n, (at, _) in enumerate(lines) if at <= self.cursor + 1), default=0)
        first = next((n for n, (at, _) in enumerate(lines) if at == max(self.cursor, 0)), 0)
        return lines[min(max(0, last - height + 1), first) :][:height]

    def _lines(self) -> list[tuple[int, Pieces]]:
        width = self.content_size.width
        room = max(width - 4 - ANSWER, 10)
        found: list[tuple[int, Pieces]] = []
        for at, row in enumerate(self.rows):
            here = at == self.cursor
            glyph, role = _marks(row.sign)
            ink = Role.NOW if here else Role.INK if row.sign is None or row.sign else Role.QUIET
            for n, part in enumerate(wrap(row.asks, room) or [""]):
                first = n == 0
                pieces: Pieces = [(f"{CURSOR if here and first else ' '} ", Role.NOW, True)]
                pieces.append((f"{glyph if first else ' '} ", role, True))
                pieces.append((set_cell_size(part, room), ink, here))
                answer = row.answer if first else ""
                pieces.append((answer.rjust(ANSWER), role if row.sign is not None else Role.QUIET, here))
                found.append((at, pieces))
        return found

    def render_line(self, y: int) -> Strip:
        """One line of a row, or a blank one."""
        shown = self._in_sight()
        pieces = shown[y][1] if y < len(shown) else []
        segments = [Segment(text, paint(self.app, role, bold=bold)) for text, role, bold in pieces]
        return Strip(segments).adjust_cell_length(self.content_size.width, paint(self.app, Role.INK))


def _marks(sign: bool | None) -> tuple[str, Role]:
    if sign is None:
        return NOTHING, Role.QUIET
    return (FLAG, Role.LOSS) if sign else (DONE, Role.QUIET)
