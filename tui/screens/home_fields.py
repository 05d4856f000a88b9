"""The two fields of the home programme's screen: the days at home, and what to add."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Static

from tui.widgets.pad_input import PadInput

HOW = "mon 3 pain 1, tue 2, wed 0   or 5/7 morning 2"


class DaysLine(Horizontal):
    """The line of the days at home: hidden until it is asked for."""

    HELP_TEXT = (
        "On which days it was done at home: a day, how many of the things were done, and where it was told the "
        "pain on the morning after, such as mon 3 pain 1, tue 2, wed 0. A day is mon, mon-wed, yesterday, 3 dec, "
        "2026-12-03. Of the days since last time in all, 5/7 morning 2 is kept with what is said. Enter saves."
    )
    DEFAULT_CSS = """
    DaysLine { height: 1; padding: 0 1; display: none; }
    DaysLine Static { width: auto; color: $quiet; }
    DaysLine PadInput { width: 1fr; max-width: 46; margin: 0 2 0 1; background: $sheet; color: $ink; }
    DaysLine PadInput:nocolor { text-style: underline; }
    DaysLine #days-how { width: 1fr; text-wrap: nowrap; text-overflow: ellipsis; }
    """

    def compose(self) -> ComposeResult:
        """The label, the field, how it is typed."""
        yield Static("days")
        yield PadInput(leaves=frozenset(), id="days")
        yield Static(HOW, id="days-how")


class AddingField(Horizontal):
    """The field that finds what to add; the list under it is narrowed by what is typed."""

    HELP_TEXT = "A part of the name of what to do at home; the arrows choose, enter adds it, esc leaves it."
    DEFAULT_CSS = """
    AddingField { height: 1; padding: 0 1; display: none; }
    AddingField Static { width: auto; color: $quiet; }
    AddingField PadInput { width: 1fr; margin: 0 1; background: $sheet; color: $ink; }
    AddingField PadInput:nocolor { text-style: underline; }
    """

    def compose(self) -> ComposeResult:
        """The label and the field."""
        yield Static("add")
        yield PadInput(leaves=frozenset(), keeps=True, id="adding")
