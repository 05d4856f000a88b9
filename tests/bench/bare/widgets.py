"""Peer: the least Textual program worth the name, three widgets. For start and memory."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Footer, Header, Label


class Bare(App[None]):
    def compose(self) -> ComposeResult:
        yield Header()
        yield Label("painted")
        yield Footer()


if __name__ == "__main__":
    Bare().run()
