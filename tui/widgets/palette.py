"""For ctrl+p: the commands of this screen and those that work everywhere; one that cannot run says why."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from contextlib import suppress

from textual import work
from textual.app import ScreenStackError
from textual.await_complete import AwaitComplete
from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider
from textual.css.query import NoMatches

from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.keyed_screen import KeyedScreen

HIDDEN = ("palette", "back")
_gathered = inspect.unwrap(CommandPalette._gather_commands)


class Palette(CommandPalette):
    """Textual's palette, where keys may come faster than it deals with them: a held enter, a page too early."""

    def dismiss(self, result: None = None) -> AwaitComplete:
        """Close it, once only: a second time would take away the screen below."""
        return super().dismiss(result) if self.is_current else AwaitComplete()

    def _action_command_list(self, action: str) -> None:
        with suppress(KeyError):  # Textual's list cannot turn a page before it was painted
            super()._action_command_list(action)

    @work(exclusive=True, group=CommandPalette._GATHER_COMMANDS_GROUP)
    async def _gather_commands(self, search_value: str) -> None:
        with suppress(NoMatches, ScreenStackError):  # the program is closing, and has taken them away
            await _gathered(self, search_value)


class CommandProvider(Provider):
    """Feeds the registry to the palette."""

    def _listed(self) -> list[Command]:
        screen = self.screen
        here = screen.WHERE if isinstance(screen, KeyedScreen) else ""
        return [command for command in commands.on(here) if command.id not in HIDDEN]

    def _says(self, command: Command) -> str:
        """What a command does, or why it cannot run now."""
        screen = self.screen
        barred = screen.why_not(command.id) if isinstance(screen, KeyedScreen) else None
        return f"Not now. {barred}" if barred else command.says

    def _run(self, command: Command) -> Callable[[], None]:
        screen = self.screen
        assert isinstance(screen, KeyedScreen)

        def act() -> None:
            if command.each:
                screen.say(f"Press {command.key}.")
            else:
                screen.action_do(command.id)

        return act

    async def discover(self) -> Hits:
        """All that can be told here, before anything is typed."""
        for command in self._listed() if isinstance(self.screen, KeyedScreen) else []:
            yield DiscoveryHit(_name(command), self._run(command), help=self._says(command))

    async def search(self, query: str) -> Hits:
        """Those whose name or help match."""
        matcher = self.matcher(query)
        for command in self._listed() if isinstance(self.screen, KeyedScreen) else []:
            name = _name(command)
            score = max(matcher.match(name), matcher.match(self._says(command)) * 0.5)
            if score > 0:
                yield Hit(score, matcher.highlight(name), self._run(command), help=self._says(command))


def _name(command: Command) -> str:
    return f"{command.label}  ({command.key})" if command.key else command.label
