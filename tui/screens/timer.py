"""Choose a timer: any technique or exercise, for a bout of it in this visit."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, Static

from store.care.faults import FAULTS
from store.care.plan_words import dose_words
from store.knowledge.kinds import Activity
from store.knowledge.words import Side
from tui.screens.heads import side_words
from tui.widgets import commands
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field_first import FieldFirst
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.pad_input import PadInput

_QUIET = mark(Role.QUIET)


class TimerScreen(FieldFirst, KeyedScreen[None]):
    """The activities, narrowed by what is typed; enter opens the timer of one."""

    WHERE = commands.PICK
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.PICK),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "#name"
    HELP_TEXT = "Type a part of a name; up and down choose, enter opens the timer. Its dose can be changed there."
    DEFAULT_CSS = """
    TimerScreen #ask { height: 1; padding: 0 1; margin: 1 0; }
    TimerScreen #ask Static { width: auto; color: $quiet; }
    TimerScreen #name { width: 1fr; margin: 0 1; background: $sheet; color: $ink; }
    TimerScreen #name:nocolor { text-style: underline; }
    TimerScreen #shows { height: 3; padding: 0 1; }
    """

    def __init__(self, visit: str) -> None:
        super().__init__()
        self.visit = visit

    def compose(self) -> ComposeResult:
        """Head, the field, the list, what the chosen one is for, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with Horizontal(id="ask"):
            yield Static("timer")
            yield PadInput(leaves=frozenset(), keeps=True, id="name")
        yield Chooser([])
        yield RuleLine()
        yield Static(id="shows")
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Say whose, and list the activities with their doses."""
        care = self.shell.care
        try:
            visit = care.visit(self.visit)
            person = care.person(visit.person)
            injured = care.episode(visit.episode).side if visit.episode else None
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        name = parts(("choose a timer", mark(Role.INK, bold=True)), (f"   {person.label} ", _QUIET))
        self.query_one(HeadLine).show((parts(name, side_words(injured) if injured else ""), Content("")))
        chooser = self.query_one(Chooser)
        chooser.options = tuple(_option(one, injured) for one in care.knowledge.activities.values())
        chooser.narrow("")
        self._show()

    def keys_now(self) -> list[str | Command]:
        """Open one, or go back."""
        return [relabelled(get("open"), "open the timer"), "back"]

    @on(Input.Changed, "#name")
    def _typed(self, event: Input.Changed) -> None:
        self.query_one(Chooser).narrow(event.value)
        self._show()

    @on(PadInput.Entered)
    def _entered(self, event: PadInput.Entered) -> None:
        event.stop()
        self.action_do("open")

    @on(Chooser.Clicked)
    def _clicked(self) -> None:
        self.do_open()

    def action_move(self, by: int) -> None:
        """Move the cursor."""
        self.query_one(Chooser).move(by)
        self._show()

    def _show(self) -> None:
        """What the activity under the cursor is for."""
        chosen = self.query_one(Chooser).chosen
        text = self.shell.care.knowledge.activities[chosen.id].shows if chosen else "No timer is called so."
        self.query_one("#shows", Static).update(parts((text, _QUIET)))

    def do_open(self) -> None:
        """Open the timer of the activity under the cursor."""
        chosen = self.query_one(Chooser).chosen
        if chosen is None:
            self.say("No timer is called so: delete a letter, or choose one with the arrows.", Kind.WRONG)
            return
        self.app.pop_screen()
        self.shell.open(commands.BOUT, visit=self.visit, activity=chosen.id)

    def do_back(self) -> None:
        """Go back to the visit."""
        self.app.pop_screen()


def _option(activity: Activity, injured: Side | None) -> Option:
    words = (activity.id, *activity.short_forms, activity.domain, str(activity.kind))
    says = f"{dose_words(activity, injured)}   {activity.kind}"
    return Option(activity.id, activity.name, says, words)
