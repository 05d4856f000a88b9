"""The line at the foot of a screen: the few keys that matter now, bold, each with its quiet label; clickable."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from tui.widgets.commands import Command, get
from tui.widgets.look import Role, mark

MOST_WHEN_NARROW = 9
NARROW = 100  # columns


class Placed(NamedTuple):
    """A command with the columns it stands on, from `start` up to but not at `end`."""

    command: Command
    start: int
    end: int


def place(commands: Sequence[Command], width: int) -> list[Placed]:
    """The most needed of the commands that fit whole on the line, in order; help with its word is always last."""
    help_command = get("help")
    wanted = [command for command in commands if command.key and command.id != help_command.id]
    if width < NARROW:
        wanted = wanted[: MOST_WHEN_NARROW - 1]
    while True:
        line = [*wanted, help_command]
        cells = [len(command.key) + 1 + len(command.label) for command in line]
        for gap in (3, 2):
            if sum(cells) + gap * (len(line) - 1) <= width:
                return _spread(line, cells, gap)
        if not wanted:
            return []
        wanted = wanted[:-1]


def _spread(line: Sequence[Command], widths: Sequence[int], gap: int) -> list[Placed]:
    placed: list[Placed] = []
    at = 0
    for command, cells in zip(line, widths, strict=True):
        placed.append(Placed(command, at, at + cells))
        at += cells + gap
    return placed


class KeyLine(Widget):
    """The key line. `show` gives it the commands by importance and the ids of those that cannot run now."""

    DEFAULT_CSS = """
    KeyLine { height: 1; width: 1fr; padding: 0 1; dock: bottom; }
    """

    commands: reactive[tuple[Command, ...]] = reactive(())
    barred: reactive[frozenset[str]] = reactive(frozenset())

    class Pressed(Message):
        """A key of the line was clicked."""

        def __init__(self, command: Command) -> None:
            super().__init__()
            self.command = command

    def show(self, commands: Sequence[Command], barred: Collection[str] = ()) -> None:
        """Show these commands, the most important first."""
        self.commands = tuple(commands)
        self.barred = frozenset(barred)

    def render(self) -> Content:
        """The keys that fit."""
        pieces: list[str | tuple[str, str]] = []
        at = 0
        for placed in place(self.commands, self.content_size.width):
            command = placed.command
            can_run = command.id not in self.barred
            pieces.append(" " * (placed.start - at))
            pieces.append((command.key, mark(Role.INK, bold=True) if can_run else mark(Role.QUIET)))
            pieces.append((f" {command.label}", mark(Role.QUIET)))
            at = placed.end
        return Content.assemble(*pieces)

    def on_click(self, event: events.Click) -> None:
        """Find the command under the pointer."""
        offset = event.get_content_offset(self)
        if offset is None:
            return
        for placed in place(self.commands, self.content_size.width):
            if placed.start <= offset.x < placed.end:
                self.post_message(self.Pressed(placed.command))
