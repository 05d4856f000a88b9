"""A bare application with our themes, to stand parts and screens on."""

from __future__ import annotations

import os
from datetime import datetime
from typing import Any, ClassVar
from zoneinfo import ZoneInfo

from textual.app import App, ComposeResult
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input

from store.knowledge.time import SetClock
from tui.widgets import commands, look
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.message_line import MessageLine
from tui.widgets.terminal import wants_no_color

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=ZoneInfo("Europe/Brussels"))


class Stage(App[None]):
    """Shows the parts, one under the other, or one screen."""

    ENABLE_COMMAND_PALETTE = False
    CSS = "Stage { background: $ground; color: $ink; } Screen { background: $ground; color: $ink; }"

    def __init__(
        self,
        *parts: Widget,
        screen: Screen[Any] | None = None,
        theme: str = "dark",
        ansi_color: bool | None = None,
    ) -> None:
        super().__init__(ansi_color=True if wants_no_color(os.environ) else ansi_color)
        self.parts = parts
        self.shown = screen
        self.care: Any = None
        self.only: Any = None
        self.clock = SetClock(NOON)
        self.opened: list[tuple[str, dict[str, object]]] = []
        self.seen: list[object] = []
        for each in look.themes():
            self.register_theme(each)
        self.theme = theme
        self.animation_level = "none"

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return look.variable_defaults()

    def compose(self) -> ComposeResult:
        yield from self.parts

    async def on_mount(self) -> None:
        if self.shown is not None:
            await self.push_screen(self.shown)

    def open(self, name: str, **arguments: object) -> None:
        self.opened.append((name, arguments))


class Bare(KeyedScreen[None]):
    """A keyed screen with the parts it is given: for the parts that need a screen of ours around them."""

    WHERE = commands.EPISODE
    BINDINGS: ClassVar = commands.bindings(commands.EPISODE)

    def __init__(self, *parts: Widget) -> None:
        super().__init__()
        self.parts = parts
        self.done: list[str] = []
        self.barred: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        yield from self.parts

    def why_not(self, command_id: str) -> str | None:
        return self.barred.get(command_id)

    def do_measure(self) -> None:
        self.done.append("measure")

    def do_undo(self) -> None:
        self.done.append("undo")


class Ward(Bare):
    """A first screen for the application in tests: a field, a message line and the keys."""

    HELP_TEXT = "Where this ankle stands."

    def __init__(self) -> None:
        super().__init__(HelpfulInput(id="find"), MessageLine(), KeyLine())

    def do_timer(self) -> None:
        """A fault of our own, with a person's name in a variable and in its message."""
        person = "Very Private Name"
        raise ValueError(f"cannot time {person}")


class HelpfulInput(Input):
    """A field that has help of its own."""

    HELP_TEXT = "Type a part of a label."
