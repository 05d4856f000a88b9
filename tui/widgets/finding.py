"""Mixed into a screen with a field and a list that what is typed narrows: arrows choose, enter opens."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from tui.widgets.chooser import Chooser
from tui.widgets.field_first import FieldFirst
from tui.widgets.message_line import MessageLine
from tui.widgets.pad_input import PadInput


class Finding(FieldFirst):
    """A screen that yields `asked` and a Chooser, and has a method `find`."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "#find"
    DEFAULT_CSS = """
    Finding #ask { height: 1; padding: 0 1; margin: 1 0; }
    Finding #ask Static { width: auto; color: $quiet; }
    Finding #find { width: 1fr; margin: 0 1; background: $sheet; color: $ink; }
    Finding #find:nocolor { text-style: underline; }
    """

    def asked(self, label: str, field: type[PadInput] = PadInput) -> Horizontal:
        """The field with its label."""
        return Horizontal(Static(label), field(leaves=frozenset(), keeps=True, id="find"), id="ask")

    @property
    def typed(self) -> PadInput:
        """The field."""
        return self.query_one("#find", PadInput)

    @property
    def chooser(self) -> Chooser:
        """The list."""
        return self.query_one(Chooser)

    def find(self) -> None:
        """List what the text in the field finds."""
        raise NotImplementedError

    def moved(self) -> None:
        """The cursor stands on another line."""

    @on(Input.Changed, "#find")
    def _typed(self) -> None:
        self.query_one(MessageLine).clear()
        self.find()

    @on(PadInput.Entered)
    def _entered(self, event: PadInput.Entered) -> None:
        event.stop()
        self.action_do("open")

    @on(Chooser.Clicked)
    def _clicked(self) -> None:
        self.action_do("open")

    def action_move(self, by: int) -> None:
        """Move the cursor."""
        self.chooser.move(by)
        self.moved()

    def do_back(self) -> None:
        """Empty the field, else go back."""
        if self.typed.value:
            self.typed.value = ""
        else:
            self.app.pop_screen()
