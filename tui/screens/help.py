"""Help for what has the focus and for the screen it is on; F1 once more shows every key there is."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.page_of_words import wrapped

DEFERS = "It supports, and does not replace, a licensed clinician's judgement and local protocol."
_KEY_ROOM = 12


class HelpScreen(KeyedScreen[None]):
    """Shows the help of one screen, or all keys."""

    WHERE = commands.HELP
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.HELP)
    DEFAULT_CSS = """
    HelpScreen VerticalScroll { padding: 0 1; scrollbar-size-vertical: 1; }
    HelpScreen Static { height: auto; }
    """

    def __init__(self, where: str = "", focus_text: str = "", screen_text: str = "") -> None:
        super().__init__()
        self.about = where
        self.focus_text = focus_text
        self.screen_text = screen_text
        self.all_keys = not where

    def compose(self) -> ComposeResult:
        """Head, the text that scrolls, the keys."""
        yield HeadLine()
        yield RuleLine()
        with VerticalScroll():
            yield Static(id="text")
        yield RuleLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """What scrolls has the keys that scroll."""
        self.query_one(VerticalScroll).focus()

    def on_resize(self) -> None:
        """Fill it to the width."""
        self._fill()

    def keys_now(self) -> list[str | Command]:
        """Scroll, back, and the other half of the help."""
        return ["back"]

    def do_help(self) -> None:
        """The other half: all keys, or this screen again."""
        if self.about:
            self.all_keys = not self.all_keys
            self._fill()
            self.query_one(VerticalScroll).scroll_home(animate=False)

    def _fill(self) -> None:
        name = commands.SCREENS.get(self.about, "")
        title = "all keys" if self.all_keys else name
        other = f"F1 again: {name if self.all_keys else 'all keys'}" if self.about else ""
        self.query_one(HeadLine).show(
            (
                parts(("help ", mark(Role.QUIET)), (title, mark(Role.INK, bold=True))),
                parts((other, mark(Role.QUIET))),
            )
        )
        self.query_one("#text", Static).update(self._everything() if self.all_keys else self._here())

    @property
    def _room(self) -> int:
        """Cells of a line: without the margins and the bar that scrolls."""
        return self.size.width - 3

    def _here(self) -> Content:
        texts = [text for text in (self.focus_text, self.screen_text) if text]
        own = [command for command in commands.on(self.about) if command.where]
        shared = [command for command in commands.on(self.about) if not command.where]
        blocks = [parts(text) for text in texts]
        if self.about == commands.CASELOAD:
            blocks.append(parts((f"The record: {self.shell.care.path}", mark(Role.QUIET))))
        blocks += [_block("On this screen", own, self._room), _block("Everywhere", shared, self._room)]
        blocks.append(parts((DEFERS, mark(Role.QUIET))))
        return Content("\n\n").join(blocks)

    def _everything(self) -> Content:
        blocks = [
            _block(
                title,
                [command for command in commands.COMMANDS if command.group == group],
                self._room,
                places=True,
            )
            for group, title in commands.GROUPS.items()
        ]
        return Content("\n\n").join([*blocks, parts((DEFERS, mark(Role.QUIET)))])


def _block(title: str, listed: Iterable[Command], room: int, *, places: bool = False) -> Content:
    """A group of keys; what they do hangs beside them, and under it, quiet, on which screens."""
    lines = [parts((title, mark(Role.INK, bold=True)))]
    for command in listed:
        keys = " ".join(key for key in (command.key, command.second) if key)
        words = [(line, Role.INK) for line in wrapped(command.says, room - _KEY_ROOM)]
        words += [(line, Role.QUIET) for line in wrapped(_where(command, places=places), room - _KEY_ROOM)]
        for line, role in words:
            lines.append(parts((f"{keys:<{_KEY_ROOM}}", mark(Role.INK, bold=True)), (line, mark(role))))
            keys = ""
    return Content("\n").join(lines)


def _where(command: Command, *, places: bool) -> str:
    """The screens it works on."""
    return ", ".join(commands.SCREENS[name] for name in command.where) if places else ""
