"""The people of a squad at the sideline: own baseline, today, what that says, and what the last look came to."""

from __future__ import annotations

from dataclasses import dataclass

from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import CURSOR, FLAG, NOTHING, Role, paint
from tui.widgets.plan_list import fitted

WHO, FIGURE = 8, 7
LOOKED = 14
MARKS = 3  # the cursor, the flag, a blank


@dataclass(frozen=True, slots=True)
class BenchLine:
    """One person. `figures` are baseline left and right, then today left and right; empty where there is none."""

    key: str
    who: str
    figures: tuple[str, str, str, str]
    says: str = ""
    worse: bool = False
    looked: str = ""
    due: bool = False


class BenchList(Widget):
    """The rows under their heads, with a cursor that the screen moves."""

    DEFAULT_CSS = """
    BenchList { height: 1fr; width: 1fr; padding: 0 1; background: $ground; }
    """

    rows: reactive[tuple[BenchLine, ...]] = reactive(())
    cursor: reactive[int] = reactive(0)

    @dataclass
    class Clicked(Message):
        """A row was clicked."""

        at: int

    @property
    def chosen(self) -> BenchLine | None:
        """The row under the cursor."""
        return self.rows[self.cursor] if self.cursor < len(self.rows) else None

    @property
    def _top(self) -> int:
        return max(0, self.cursor - max(self.content_size.height - 2, 0))

    def on_click(self, event: events.Click) -> None:
        """Tell which row was clicked."""
        offset = event.get_content_offset(self)
        if offset is not None and 0 < offset.y <= len(self.rows) - self._top:
            self.post_message(self.Clicked(offset.y - 1 + self._top))

    def render_line(self, y: int) -> Strip:
        """The heads, one person, or a blank row."""
        width = self.content_size.width
        says = max(width - MARKS - WHO - 4 * FIGURE - 4 - LOOKED, 0)
        pieces: list[tuple[str, Role, bool]] = []
        at = y - 1 + self._top
        if y == 0:
            heads = ("◀ own", "own ▶", "◀ now", "now ▶")
            pieces = [(f"{'':{MARKS}}{'who':<{WHO}}", Role.QUIET, False)]
            pieces += [
                (f"{head:>{FIGURE}}", role, False)
                for head, role in zip(heads, (Role.LEFT, Role.RIGHT, Role.LEFT, Role.RIGHT), strict=True)
            ]
            pieces += [(f"  {fitted('against own', says)}  {fitted('last look', LOOKED)}", Role.QUIET, False)]
        elif at < len(self.rows):
            pieces = self._row(self.rows[at], says, here=at == self.cursor)
        segments = [Segment(text, paint(self.app, role, bold=bold)) for text, role, bold in pieces]
        return Strip(segments).adjust_cell_length(width, paint(self.app, Role.INK))

    def _row(self, row: BenchLine, says: int, *, here: bool) -> list[tuple[str, Role, bool]]:
        flag = FLAG if row.worse or row.due else " "
        roles = (Role.QUIET, Role.QUIET, Role.LEFT, Role.RIGHT)
        return [
            (CURSOR if here else " ", Role.NOW, True),
            (f"{flag} ", Role.LOSS, True),
            (fitted(row.who, WHO), Role.NOW if here else Role.INK, here),
            *(
                (f"{(figure or NOTHING):>{FIGURE}}", role, False)
                for figure, role in zip(row.figures, roles, strict=True)
            ),
            (f"  {fitted(row.says, says)}", Role.LOSS if row.worse else Role.QUIET, row.worse),
            (f"  {fitted(row.looked, LOOKED)}", Role.NOW if row.due else Role.INK, row.due),
        ]
