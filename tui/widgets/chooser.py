"""A list under a field that keeps the focus: what is typed narrows it, the arrows move the cursor."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from rich.segment import Segment
from textual import events
from textual.geometry import Offset
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import CURSOR, Role, paint
from tui.widgets.plan_list import fitted
from tui.widgets.spots import Spot


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to choose: `names` are the words that find it, `says` stands beside its name.

    Options of one group stand under its name as long as nothing is typed.
    """

    id: str
    name: str
    says: str
    names: tuple[str, ...] = ()
    group: str = ""

    def found_by(self, text: str) -> bool:
        """Whether each word of the text begins a word of its name or of its other names."""
        words = [*_words(self.name), *(word for name in self.names for word in _words(name))]
        return all(any(word.startswith(part) for word in words) for part in _words(text))


def _words(text: str) -> list[str]:
    """The words of a text, without the commas between them."""
    return text.casefold().replace(",", " ").split()


class Chooser(Widget):
    """The options that fit what was typed, with a cursor that the screen moves."""

    DEFAULT_CSS = """
    Chooser { height: 1fr; width: 1fr; padding: 0 1; background: $ground; }
    """

    shown: reactive[tuple[Option, ...]] = reactive(())
    cursor: reactive[int] = reactive(0)

    class Clicked(Message):
        """The row under the cursor was clicked again."""

    def __init__(self, options: Sequence[Option], *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.options = tuple(options)
        self.set_reactive(Chooser.shown, self.options)
        self._grouped = True

    def found(self, text: str) -> tuple[Option, ...]:
        """What the text finds: that of which it is a whole name first, then what has it in the name on show."""
        found = [option for option in self.options if option.found_by(text)]
        whole = text.casefold().strip()
        return tuple(
            sorted(
                found,
                key=lambda one: (whole not in (one.name, *one.names), not replace(one, names=()).found_by(text)),
            )
        )

    def narrow(self, text: str) -> None:
        """Show what the text finds; the cursor goes to the first."""
        self._grouped = not text.strip()
        self.shown = self.found(text)
        self.cursor = 0

    @property
    def chosen(self) -> Option | None:
        """The option under the cursor."""
        return self.shown[self.cursor] if self.cursor < len(self.shown) else None

    def move(self, by: int) -> None:
        """Move the cursor, and stop at the ends."""
        self.cursor = min(max(self.cursor + by, 0), max(len(self.shown) - 1, 0))

    @property
    def rows(self) -> list[str | int]:
        """What stands row by row: the name of a group, or the number of an option."""
        rows: list[str | int] = []
        group = ""
        for n, option in enumerate(self.shown):
            if self._grouped and option.group != group:
                rows.append(option.group)
                group = option.group
            rows.append(n)
        return rows

    @property
    def top(self) -> int:
        """The first row in sight: the cursor always is."""
        at = self.rows.index(self.cursor) if self.shown else 0
        return max(0, at - max(self.content_size.height - 1, 0))

    def jump_spots(self) -> list[Spot]:
        """Each option in sight: going there puts the cursor on it."""
        shown = list(enumerate(self.rows))[self.top : self.top + self.content_size.height]
        return [
            (Offset(0, y - self.top), partial(setattr, self, "cursor", at))
            for y, at in shown
            if isinstance(at, int)
        ]

    def on_click(self, event: events.Click) -> None:
        """Choose a row; a second click on it opens it."""
        offset = event.get_content_offset(self)
        at = dict(enumerate(self.rows)).get(offset.y + self.top) if offset is not None else None
        if at == self.cursor:
            self.post_message(self.Clicked())
        elif isinstance(at, int):
            self.cursor = at

    def render_line(self, y: int) -> Strip:
        """One option, the name of a group, or a blank row."""
        width, at = self.content_size.width, dict(enumerate(self.rows)).get(y + self.top)
        segments: list[Segment] = []
        if isinstance(at, str):
            segments = [Segment(fitted(at, width), paint(self.app, Role.QUIET))]
        elif at is not None:
            option, on_it = self.shown[at], at == self.cursor
            name = min(28, width // 2)
            segments = [
                Segment(f"{CURSOR if on_it else ' '} ", paint(self.app, Role.NOW, bold=True)),
                Segment(fitted(option.name, name), paint(self.app, Role.NOW if on_it else Role.INK, bold=on_it)),
                Segment(f"  {fitted(option.says, max(width - name - 4, 0))}", paint(self.app, Role.QUIET)),
            ]
        return Strip(segments).adjust_cell_length(width, paint(self.app, Role.INK))
