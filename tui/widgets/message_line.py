"""One line for what was saved, what is wrong and what to do about it. It stays until the next thing happens."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from tui.widgets.commands import get
from tui.widgets.look import DONE, FLAG, Role, mark
from tui.widgets.reach import in_reach


class Kind(StrEnum):
    """What a message is: something was saved, something is wrong, or something worth knowing."""

    SAVED = "saved"
    WRONG = "wrong"
    NOTE = "note"


class Said(NamedTuple):
    """A message. `undo` adds the key that takes it back."""

    text: str = ""
    kind: Kind = Kind.NOTE
    undo: bool = False


class MessageLine(Widget):
    """Shows the last message by glyph and word; colour only follows."""

    DEFAULT_CSS = """
    MessageLine { height: auto; min-height: 1; max-height: 2; width: 1fr; padding: 0 1; }
    """

    said: reactive[Said] = reactive(Said())

    def say(self, text: str, kind: Kind = Kind.NOTE, *, undo: bool = False) -> None:
        """Show a message in place of the last."""
        self.said = Said(text, kind, undo)

    def clear(self) -> None:
        """Show nothing."""
        self.said = Said()

    def watch_said(self) -> None:
        """Only a message of two lines, or no longer of two, moves what stands beside it."""
        width, height = self.content_size
        lines = max(self.render().get_height({}, width), 1) if width else 0  # 0: it was not laid out yet
        self.refresh(layout=not lines or min(lines, 2) != height)

    def render(self) -> Content:
        """The glyph of the kind, the text, and how to undo it."""
        said = self.said
        if not said.text:
            return Content("")
        if said.kind is Kind.NOTE:
            return Content.styled(said.text, mark(Role.QUIET))
        glyph, role = (DONE, Role.GAIN) if said.kind is Kind.SAVED else (FLAG, Role.LOSS)
        line = Content.assemble((f"{glyph} ", mark(role, bold=True)), (said.text, mark(Role.INK)))
        if not said.undo:
            return line
        undo = in_reach(get("undo"), self.screen.focused)
        key = undo.key if undo else get("undo").second
        return Content.assemble(line, "   ", (key, mark(Role.INK, bold=True)), (" undo", mark(Role.QUIET)))
