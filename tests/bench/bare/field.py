"""Peer: one bare Input. For the time from a key to what it paints."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Input


class Field(App[None]):
    def compose(self) -> ComposeResult:
        yield Input(placeholder="painted")


if __name__ == "__main__":
    Field().run()
