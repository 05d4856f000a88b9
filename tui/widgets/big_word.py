"""One word or figure in letters that fill the room they are given, to be read from across the room."""

from __future__ import annotations

from itertools import groupby

from rich.segment import Segment
from textual.reactive import reactive
from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.letters import Scale, scale_for, word_rows
from tui.widgets.look import Role, paint

Aside = tuple[tuple[str, Role], ...]
ASIDE_GAP = 2


class BigWord(Widget):
    """The word, as tall as the widget allows; plain bold text where there is no room for letters.

    `aside` are short lines in plain text to the right of the word, level with its foot. `company` are the words it
    will also show: with them the letters keep one size from word to word.
    """

    DEFAULT_CSS = """
    BigWord { width: 1fr; height: 10; }
    """

    text: reactive[str] = reactive("")
    role: reactive[Role] = reactive(Role.NOW)
    aside: reactive[Aside] = reactive(())

    def __init__(
        self,
        text: str = "",
        role: Role = Role.NOW,
        *,
        aside: Aside = (),
        company: tuple[str, ...] = (),
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        super().__init__(id=id, classes=classes)
        self.company = company
        self.set_reactive(BigWord.text, text)
        self.set_reactive(BigWord.role, role)
        self.set_reactive(BigWord.aside, aside)

    def show(self, text: str, role: Role | None = None, aside: Aside | None = None) -> None:
        """Show another word, and, where given, another colour and other lines beside it."""
        self.text = text
        self.role = self.role if role is None else role
        self.aside = self.aside if aside is None else aside

    @property
    def scale(self) -> Scale | None:
        """How large the letters are now; None when the word is written as plain text."""
        beside = max((len(line) for line, _ in self.aside), default=0)
        room = self.content_size.width - (beside + ASIDE_GAP if beside else 0)
        scales = [scale_for(word.upper(), room, self.content_size.height) for word in {self.text, *self.company}]
        fitting = [scale for scale in scales if scale is not None]
        if scale_for(self.text.upper(), room, self.content_size.height) is None:
            return None
        return min(fitting, key=lambda scale: (scale.height, scale.width))

    def render_line(self, y: int) -> Strip:
        """One row of the letters, with what stands beside them."""
        scale = self.scale
        ground = paint(self.app, Role.INK)
        if scale is None:
            return self._plain(y)
        rows = word_rows(self.text.upper(), scale)
        segments: list[Segment] = []
        if y < len(rows):
            solid, edge = paint(self.app, self.role, on=self.role), paint(self.app, self.role)
            for letter, run in groupby(rows[y]):
                # A full block on a ground of its own colour: no seam between cells, yet a block without colour.
                segments.append(Segment(letter * len(list(run)), solid if letter == "█" else edge))
        from_foot = len(rows) - 1 - y
        if 0 <= from_foot < len(self.aside):
            line, role = self.aside[len(self.aside) - 1 - from_foot]
            segments += [
                Segment(" " * ASIDE_GAP, ground),
                Segment(line, paint(self.app, role, bold=role is not Role.QUIET)),
            ]
        return Strip(segments).adjust_cell_length(self.content_size.width, ground)

    def _plain(self, y: int) -> Strip:
        ground = paint(self.app, Role.INK)
        lines = [(self.text, self.role), *self.aside]
        if y >= len(lines):
            return Strip([]).adjust_cell_length(self.content_size.width, ground)
        line, role = lines[y]
        segment = Segment(line, paint(self.app, role, bold=y == 0))
        return Strip([segment]).adjust_cell_length(self.content_size.width, ground)

    def get_selection(self, selection: Selection) -> tuple[str, str]:
        """The word as text, for the clipboard."""
        del selection
        return self.text, "\n"
