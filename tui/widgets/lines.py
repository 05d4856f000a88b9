"""A few lines of text that change often: painted anew only when they differ, and never laid out anew."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget


class Lines(Widget):
    """Shows lines, one a row; what does not fit on a row ends in an ellipsis."""

    DEFAULT_CSS = """
    Lines { width: 1fr; height: auto; text-wrap: nowrap; text-overflow: ellipsis; }
    """

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self.lines: tuple[Content, ...] = ()

    def show(self, *lines: Content) -> None:
        """Put these lines in place of the last."""
        if [_looks(line) for line in lines] == [_looks(line) for line in self.lines]:
            return
        taller = len(lines) != len(self.lines)
        self.lines = lines
        self.refresh(layout=taller)

    def render(self) -> Content:
        """The lines."""
        return Content("\n").join(list(self.lines))


def _looks(line: Content) -> tuple[str, str]:
    """Two contents are equal to Textual when their text is; here their colours count too."""
    return line.plain, str(line.spans)
