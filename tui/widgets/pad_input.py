"""A field that leaves some printable keys to the screen, and gives what was typed the moment enter is pressed.

Keys may come faster than they are dealt with: a save waits for the disk while the next value is typed. So enter
takes the text out at once, and what follows it begins the next one.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.message import Message

from tui.widgets.plain_input import PlainInput


class PadInput(PlainInput):
    """A field. `leaves` are the keys that it does not take as text.

    With `keeps` the text stays in the field at enter, and `accept` takes it out.
    """

    takes_enter = True

    @dataclass
    class Entered(Message):
        """Enter was pressed with this text: `accept` or `refuse` it."""

        field: PadInput
        value: str

    def __init__(
        self, value: str = "", *, leaves: frozenset[str], keeps: bool = False, id: str | None = None
    ) -> None:
        super().__init__(value, id=id)
        self.leaves = leaves
        self.keeps = keeps

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Whether a key is text here."""
        return key not in self.leaves and super().check_consume_key(key, character)

    async def _on_key(self, event: events.Key) -> None:
        if event.key == "enter":
            event.stop()
            event.prevent_default()
            self.give()
        elif event.key in self.leaves:
            event.prevent_default()  # Textual would go on to the handler of Input; so it goes up to the screen

    async def action_submit(self) -> None:
        """Enter, by another way."""
        self.give()

    def give(self) -> None:
        """Hand out the text; what is typed from now on is the next."""
        value = self.value
        if not self.keeps:
            self.value = ""
        self.post_message(self.Entered(self, value))

    def accept(self, text: str) -> None:
        """A text was taken: only what was typed since stays."""
        if self.keeps and self.value.startswith(text):
            self.value = self.value[len(text) :]

    def refuse(self, text: str) -> None:
        """A text could not be taken: it stands before what was typed since."""
        if not self.keeps:
            self.value = text + self.value
            self.cursor_position = len(self.value)
