"""One line of a form with a few words to choose from: arrows or space walk them, a first letter goes there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Generic, TypeVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from tui.widgets.look import Role, mark

Value = TypeVar("Value")
LABEL_ROOM = 17
"""Columns of the label. A bracket hangs before the column in which the text of other fields begins."""


class ChoiceField(Widget, Generic[Value], can_focus=True):
    """A labelled choice. The chosen word stands in brackets, so that it is seen without colour."""

    DEFAULT_CSS = """
    ChoiceField { height: auto; min-height: 1; width: 1fr; padding: 0 1; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,space", "walk(1)", "next", show=False),
        Binding("left", "walk(-1)", "before", show=False),
    ]

    chosen: reactive[int] = reactive(0)

    @dataclass
    class Changed(Message):
        """Another word was chosen."""

        field: ChoiceField[object]

        @property
        def control(self) -> ChoiceField[object]:
            """The field, for selectors of handlers."""
            return self.field

    def __init__(
        self,
        label: str,
        choices: Sequence[tuple[Value, str]],
        *,
        value: Value | None = None,
        help_text: str = "",
        id: str | None = None,
    ) -> None:
        super().__init__(id=id)
        self.label = label
        self.choices = tuple(choices)
        self.HELP_TEXT = help_text
        values = [each for each, _ in self.choices]
        self.set_reactive(ChoiceField.chosen, values.index(value) if value in values else 0)

    @property
    def value(self) -> Value:
        """What was chosen."""
        return self.choices[self.chosen][0]

    @value.setter
    def value(self, value: Value) -> None:
        self.chosen = [each for each, _ in self.choices].index(value)

    def action_walk(self, by: int) -> None:
        """To the next word, and round."""
        self.chosen = (self.chosen + by) % len(self.choices)

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """A letter that begins one of the words is this field's, not the screen's."""
        del key
        return character is not None and any(
            word.lower().startswith(character.lower()) for _, word in self.choices
        )

    def on_key(self, event: events.Key) -> None:
        """Go to the next word that begins with the letter."""
        if event.character is None or not event.character.isprintable() or event.character == " ":
            return
        letter = event.character.lower()
        for step in range(1, len(self.choices) + 1):
            at = (self.chosen + step) % len(self.choices)
            if self.choices[at][1].lower().startswith(letter):
                self.chosen = at
                event.stop()
                event.prevent_default()
                return

    def on_click(self, event: events.Click) -> None:
        """Choose the word under the pointer."""
        offset = event.get_content_offset(self)
        at = LABEL_ROOM
        for number, (_, word) in enumerate(self.choices):
            if offset is not None and at <= offset.x < at + len(word) + 2:
                self.chosen = number
            at += len(word) + 2

    def watch_chosen(self) -> None:
        """Tell."""
        if self.is_mounted:
            self.post_message(self.Changed(self))  # type: ignore[arg-type]  # Changed is generic by its owner

    def render(self) -> Content:
        """The label and the words, the chosen one in brackets."""
        label = mark(Role.INK, bold=True) if self.has_focus else mark(Role.QUIET)
        pieces: list[tuple[str, str]] = [(self.label.ljust(LABEL_ROOM)[:LABEL_ROOM], label)]
        for number, (_, word) in enumerate(self.choices):
            if number == self.chosen:
                pieces.append((f"[{word}]", mark(Role.INK, bold=True)))
            else:
                pieces.append((f" {word} ", mark(Role.QUIET)))
        return Content.assemble(*pieces)
