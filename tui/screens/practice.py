"""What can be practised: assessments in order and time, paper cases, and the measures of one's own error."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from store.care.faults import FAULTS
from store.care.practising import OFFER_GROUPS, PRACTISED, offers
from store.knowledge.tries import TryKind
from tui.widgets import commands
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.finding import Finding
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine

_SCREEN = {TryKind.SEQUENCE: commands.WALK, TryKind.CASE: commands.CASE, TryKind.DRILL: commands.DRILL}


class PracticeScreen(Finding):
    """The list, narrowed by what is typed; enter opens one."""

    WHERE = commands.PRACTICE
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.PRACTICE)
    HELP_TEXT = (
        "An assessment shows its blocks with their minutes, and only at its end what was left out. A person on "
        "paper tells a finding where you ask for it or test it, and then you decide. Your own error: measure the "
        "same ankles twice, without seeing what you had. Type a part of a name, up and down choose, enter begins."
    )

    def compose(self) -> ComposeResult:
        """Head, the field, the list, messages, keys."""
        yield HeadLine((parts(("practice", mark(Role.INK, bold=True))), parts((PRACTISED, mark(Role.QUIET)))))
        yield RuleLine()
        yield self.asked("practise")
        yield Chooser([])
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top: the last try stands beside each."""
        chooser, at = self.chooser, self.chooser.cursor
        try:
            found = offers(self.shell.care)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.kinds = {f"{one.kind}:{one.ref}": one for one in found}
        chooser.options = tuple(
            Option(key, one.name, one.says, one.names, OFFER_GROUPS[one.kind]) for key, one in self.kinds.items()
        )
        chooser.narrow(self.typed.value)
        chooser.cursor = min(at, max(len(chooser.shown) - 1, 0))
        self.refresh_keys()

    def find(self) -> None:
        """What the text in the field finds."""
        self.chooser.narrow(self.typed.value)
        if not self.chooser.shown:
            self.say(f"Nothing to practise is called {self.typed.value.strip()}.")
        self.refresh_keys()

    def keys_now(self) -> list[str | Command]:
        """Begin, go back."""
        return [relabelled(get("open"), "begin"), "back", "jump"]

    def why_not(self, command_id: str) -> str | None:
        """One must be there to be begun."""
        if command_id == "open" and self.chooser.chosen is None:
            return f"Nothing to practise is called {self.typed.value.strip()}."
        return None

    def do_open(self) -> None:
        """Begin what is under the cursor."""
        chosen = self.chooser.chosen
        assert chosen is not None
        one = self.kinds[chosen.id]
        self.shell.open(_SCREEN[one.kind], ref=one.ref)
