"""One line of a screen to type in: a label, a field, how it is typed. Hidden until it is asked for."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, Static

from tui.widgets.plain_input import PlainInput


class AskedLine(Horizontal):
    """A subclass names the label, the field's id, how many characters it takes, and how it is typed."""

    LABEL: ClassVar[str]
    FIELD: ClassVar[str]
    MOST: ClassVar[int]
    HOW: ClassVar[str]
    DEFAULT_CSS = """
    AskedLine { height: 1; padding: 0 1; display: none; }
    AskedLine Static { width: auto; color: $quiet; }
    AskedLine Input { width: 24; margin: 0 2 0 1; background: $sheet; color: $ink; }
    AskedLine Input:nocolor { text-style: underline; }
    AskedLine .how { width: 1fr; text-wrap: nowrap; text-overflow: ellipsis; }
    """

    def compose(self) -> ComposeResult:
        """The label, the field, how it is typed."""
        yield Static(self.LABEL)
        yield PlainInput(max_length=self.MOST, id=self.FIELD)
        yield Static(Content(self.HOW), classes="how")

    def begin(self, says: str = "") -> None:
        """Show the line; `says` stands in place of how it is typed."""
        self.query_one(".how", Static).update(Content(says or self.HOW))
        self.display = True
        self.query_one(Input).focus()

    def end(self) -> None:
        """Put the line away; the screen has its own focus again."""
        self.query_one(Input).value = ""
        self.display = False
        own = self.screen.AUTO_FOCUS
        self.screen.set_focus(self.screen.query(own).first() if own else None)
