"""The squads: a list to type in; enter opens one, and F2 makes one of the name that was typed."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.squads import every_squad, make
from tui.widgets import commands
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.finding import Finding
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices

NONE_YET = "No squad is here yet: type its name, and F2 makes it."


class SquadsScreen(Finding, Notices):
    """The squads, narrowed by what is typed."""

    WHERE = commands.SQUADS
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.SQUADS)
    HELP_TEXT = (
        "A squad is a named group of people, for a trainer. Type a part of a name to find one, up and down "
        "choose, enter opens it. A name that is not there yet is made a squad by F2."
    )

    DEFAULT_CSS = """
    SquadsScreen #find { max-width: 56; }
    """

    def compose(self) -> ComposeResult:
        """Head, the field, the list, messages, keys."""
        yield HeadLine((parts(("squads", mark(Role.INK, bold=True))), parts()))
        yield RuleLine()
        yield self.asked("squad")
        yield Chooser([])
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self.find()

    def read_afresh(self) -> None:
        """As another window left it."""
        self.find()

    def find(self) -> None:
        """List the squads with that in their names."""
        chooser, find = self.chooser, self.typed.value
        try:
            found = every_squad(self.shell.care, find)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        held = chooser.chosen.id if chooser.chosen else ""
        chooser.shown = tuple(Option(row.squad.id, visible(row.squad.name), row.says) for row in found)
        ids = [row.squad.id for row in found]
        chooser.cursor = ids.index(held) if held in ids else 0
        if not found:
            self.say(f"No squad has {find.strip()} in its name: F2 makes it." if find.strip() else NONE_YET)
        self.refresh_keys()

    def keys_now(self) -> list[str | Command]:
        """Open one, make one, go back."""
        return ["open", relabelled(get("new"), "new squad"), "back", "jump"]

    def why_not(self, command_id: str) -> str | None:
        """One must be there to be opened."""
        if command_id == "open" and self.chooser.chosen is None:
            return "No squad is under the cursor: type a name, and F2 makes it."
        return None

    def do_open(self) -> None:
        """The people of the squad under the cursor."""
        chosen = self.chooser.chosen
        assert chosen is not None
        self.shell.open(commands.SQUAD, squad=chosen.id)

    def do_new(self) -> None:
        """A squad of the name that was typed, and into it."""
        try:
            made = make(self.shell.care, self.typed.value)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.typed.value = ""
        self.shell.open(commands.SQUAD, squad=made.id)
