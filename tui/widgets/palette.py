"""Every command by name, for ctrl+p: those of this screen first; another screen's says where it works."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from textual.await_complete import AwaitComplete
from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider

from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.keyed_screen import KeyedScreen

HIDDEN = ("palette", "back")


class Palette(CommandPalette):
    """Textual's palette, where keys may come faster than it deals with them: a held enter, a page too early."""

    def dismiss(self, result: None = None) -> AwaitComplete:
        """Close it, once only: a second time would take away the screen below."""
        return super().dismiss(result) if self.is_current else AwaitComplete()

    def _action_command_list(self, action: str) -> None:
        with suppress(KeyError):  # Textual's list cannot turn a page before it was painted
            super()._action_command_list(action)


class CommandProvider(Provider):
    """Feeds the registry to the palette."""

    def _listed(self) -> list[Command]:
        screen = self.screen
        here = screen.WHERE if isinstance(screen, KeyedScreen) else ""
        own = commands.on(here)
        rest = [command for command in commands.COMMANDS if command not in own]
        return [command for command in (*own, *rest) if command.id not in HIDDEN]

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
        """All of them, before anything is typed."""
        for command in self._listed() if isinstance(self.screen, KeyedScreen) else []:
            yield DiscoveryHit(_name(command), self._run(command), help=command.says)

    async def search(self, query: str) -> Hits:
        """Those whose name or help match."""
        matcher = self.matcher(query)
        for command in self._listed() if isinstance(self.screen, KeyedScreen) else []:
            name = _name(command)
            score = max(matcher.match(name), matcher.match(command.says) * 0.5)
            if score > 0:
                yield Hit(score, matcher.highlight(name), self._run(command), help=command.says)


def _name(command: Command) -> str:
    return f"{command.label}  ({command.key})" if command.key else command.label
