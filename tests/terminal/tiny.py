"""A tiny program to prove the driver on: a field, a line that answers, a bell on ctrl+g, its size."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.events import Resize
from textual.widgets import Input, Label


class Tiny(App[None]):
    BINDINGS = [("ctrl+g", "bell", "bell"), ("f2", "say('second')", "say"), ("escape", "say('left')", "leave")]  # noqa: RUF012 - Textual reads it so
    CSS = "Label { color: #56b4e9; }"

    def compose(self) -> ComposeResult:
        yield Input(id="field")
        yield Label("ready", id="answer")
        yield Label("size", id="size")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.action_say(f"got {event.value}")

    def on_resize(self, event: Resize) -> None:
        self.query_one("#size", Label).update(f"size {event.size.width}x{event.size.height}")

    def action_say(self, what: str) -> None:
        self.query_one("#answer", Label).update(what)


if __name__ == "__main__":
    Tiny().run()
