"""The head of a screen: rows of two parts, left and right, and the thin rule that closes a band."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from tui.widgets.look import RULE, Role, mark

Row = tuple[Content, Content]


def spread(left: Content, right: Content, width: int) -> Content:
    """Both parts on one line of this width; the left one gives way, with an ellipsis, when they do not fit."""
    room = width - right.cell_length - (2 if right.cell_length else 0)
    if left.cell_length > room:
        left = left.truncate(max(room, 0), ellipsis=True)
    return Content.assemble(left, " " * max(width - left.cell_length - right.cell_length, 0), right)


class HeadLine(Widget):
    """Rows of two parts. One bright part a screen: style the rest with `mark(Role.QUIET)`."""

    DEFAULT_CSS = """
    HeadLine { height: auto; width: 1fr; padding: 0 1; }
    """

    rows: reactive[tuple[Row, ...]] = reactive(())

    def __init__(self, *rows: Row, id: str | None = None) -> None:
        super().__init__(id=id)
        self.set_reactive(HeadLine.rows, rows)

    def show(self, *rows: Row) -> None:
        """Put other rows in place."""
        self.rows = rows

    def watch_rows(self, before: tuple[Row, ...], now: tuple[Row, ...]) -> None:
        """Only more rows, or fewer, move what stands below."""
        if len(before) != len(now):
            self.refresh(layout=True)

    def get_content_height(self, _container: object, _viewport: object, _width: int) -> int:
        """One line a row."""
        return len(self.rows)

    def render(self) -> Content:
        """The rows, spread over the width there is."""
        width = self.content_size.width
        return Content("\n").join([spread(left, right, width) for left, right in self.rows])


class RuleLine(Widget):
    """A thin line across the screen."""

    DEFAULT_CSS = """
    RuleLine { height: 1; width: 1fr; }
    """

    def render(self) -> Content:
        """The line."""
        return Content.styled(RULE * self.size.width, mark(Role.FAINT))


def parts(*pieces: str | tuple[str, str] | Content) -> Content:
    """Content from plain text and (text, style) pairs. Nothing in the text is read as markup."""
    return Content.assemble(*pieces)


def spaced(pieces: Sequence[Content], gap: int = 3) -> Content:
    """Pieces side by side with a gap."""
    return Content(" " * gap).join(list(pieces))
