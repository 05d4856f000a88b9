"""Every command by name, for ctrl+p: those of this screen first; another screen's says where it works."""

from __future__ import annotations

from collections.abc import Callable

from textual.command import DiscoveryHit, Hit, Hits, Provider

from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.keyed_screen import KeyedScreen

HIDDEN = ("palette", "back")


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
