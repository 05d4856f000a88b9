"""A page of words: titles, and statements whose words hang beside what they are about, wrapped to the width."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.cells import cell_len
from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from store.care.statements import Section, Statement
from tui.widgets.look import Role, mark

ABOUT = 20
NARROW_ABOUT = 15
NARROW = 90  # columns of the page, not of the screen


def wrapped(text: str, cells: int) -> list[str]:
    """The text in lines of at most so many cells; a word that is longer by itself is cut."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        while cell_len(word) > cells:
            head = _head(word, cells)
            lines += [line, head] if line else [head]
            line, word = "", word[len(head) :]
        joined = f"{line} {word}" if line else word
        if cell_len(joined) > cells:
            lines.append(line)
            joined = word
        line = joined
    return [*lines, line] if line else lines


def _head(word: str, cells: int) -> str:
    for cut in range(min(len(word), cells), 0, -1):  # a word may be a pasted page: no longer head can fit
        if cell_len(word[:cut]) <= cells:
            return word[:cut]
    return word[:1]


def statement_lines(statement: Statement, width: int, about: int = 0) -> list[Content]:
    """A statement as lines: what it is about once, its words, and under them, quiet, how it is known.

    `about` is the cells of the first column, 0: as many as fit the width.
    """
    about = about or (NARROW_ABOUT if width < NARROW else ABOUT)
    room = max(width - about - 1, 10)
    left = wrapped(statement.about, about) or [""]
    right = [(line, Role.INK) for line in wrapped(statement.says, room)]
    right += [(line, Role.QUIET) for line in wrapped(statement.known, room)]
    lines = []
    for n in range(max(len(left), len(right))):
        name = left[n] if n < len(left) else ""
        words, role = right[n] if n < len(right) else ("", Role.INK)
        blank = " " * (about + 1 - cell_len(name))
        lines.append(Content.assemble((name, mark(Role.QUIET)), blank, (words, mark(role))))
    return lines


class PageOfWords(Widget):
    """Sections one under the other; `about` is the cells of the first column, 0: as many as fit."""

    DEFAULT_CSS = """
    PageOfWords { height: auto; width: 1fr; padding: 0 1; }
    """

    sections: reactive[tuple[Section, ...]] = reactive((), layout=True)

    def __init__(self, sections: Sequence[Section] = (), id: str | None = None, *, about: int = 0) -> None:
        super().__init__(id=id)
        self.about = about
        self.set_reactive(PageOfWords.sections, tuple(sections))

    def show(self, sections: Iterable[Section]) -> None:
        """Put other sections in place."""
        self.sections = tuple(sections)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the words take at this width."""
        del container, viewport
        return len(self._lines(width))

    def render(self) -> Content:
        """The page."""
        return Content("\n").join(self._lines(self.content_size.width))

    def _lines(self, width: int) -> list[Content]:
        lines: list[Content] = []
        for section in self.sections:
            lines += [Content.styled(line, mark(Role.INK, bold=True)) for line in wrapped(section.title, width)]
            for statement in section.statements:
                lines += statement_lines(statement, width, self.about)
            lines.append(Content(""))
        return lines
