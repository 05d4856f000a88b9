"""Choose a timer: any technique or exercise, for a bout of it in this visit."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content

from store.care.bout_setting import setting
from store.care.choosing import Choice, choices
from store.care.dose_words import dose_words
from store.care.faults import FAULTS
from store.knowledge.words import Side
from tui.screens.bout_ready import chosen_text
from tui.screens.heads import side_words
from tui.widgets import commands
from tui.widgets.asks_first import AsksFirst
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.finding import Finding
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.lines import Lines
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine

_QUIET = mark(Role.QUIET)


class TimerScreen(Finding, AsksFirst):
    """The activities, narrowed by what is typed; enter opens the timer of one."""

    WHERE = commands.PICK
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.PICK),
        Binding("pageup", "read(-1)", show=False),
        Binding("pagedown", "read(1)", show=False),
    ]
    HELP_TEXT = (
        "This visit's plan stands first, then what was used lately, then everything by the phase of the course. "
        "Type a part of a name, of a kind or of what it trains; up and down choose, enter opens the timer, PgDn "
        "reads on. Its dose can be changed there before it starts. One that was kept paused opens where it was."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    TimerScreen #body { height: 1fr; layout: vertical; }
    TimerScreen #body Chooser { height: 3fr; min-height: 8; }
    TimerScreen #read { height: 2fr; padding: 0 1; scrollbar-size-vertical: 1; border-top: solid $faint; }
    TimerScreen.-wide #body { layout: horizontal; }
    TimerScreen.-wide #body Chooser { width: 62; height: 1fr; }
    TimerScreen.-wide #read { width: 1fr; height: 1fr; padding: 0 2; border-top: none; border-left: solid $faint; }
    """

    def __init__(self, visit: str) -> None:
        super().__init__()
        self.visit = visit

    def compose(self) -> ComposeResult:
        """Head, the field, the list, what the chosen one is for, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield self.asked("timer")
        with Container(id="body"):
            yield Chooser([])
            with VerticalScroll(id="read", can_focus=False):
                yield Lines()
        yield RuleLine()
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
        chooser = self.chooser
        chooser.options = tuple(_option(one, injured) for one in choices(care, visit))
        chooser.narrow("")
        self.call_after_refresh(self._show)

    def keys_now(self) -> list[str | Command]:
        """Open one, or go back."""
        return [relabelled(get("open"), "open the timer"), "back"]

    def find(self) -> None:
        """List the timers with that in their words."""
        self.chooser.narrow(self.typed.value)
        self._show()

    def moved(self) -> None:
        """Tell of the one under the cursor."""
        self._show()

    def on_resize(self) -> None:
        """Wrap what is read to the new width."""
        self.call_after_refresh(self._show)

    def action_read(self, pages: int) -> None:
        """Turn the page of what is read."""
        read = self.query_one("#read", VerticalScroll)
        read.scroll_relative(y=pages * max(read.content_size.height - 1, 1), animate=False)

    def _show(self) -> None:
        """What the activity under the cursor is for, its cautions and its set-up."""
        read, chosen = self.query_one("#read", VerticalScroll), self.chooser.chosen
        width = read.content_size.width - 2  # the scroll bar stands in it
        try:
            found = setting(self.shell.care, self.visit, chosen.id) if chosen else None
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        nothing = [parts(("No timer is called so.", _QUIET))]
        read.query_one(Lines).show(*(chosen_text(found, width) if found else nothing))
        read.scroll_home(animate=False)

    def do_open(self) -> None:
        """Open the timer of the activity under the cursor."""
        chosen = self.chooser.chosen
        if chosen is None:
            self.say("No timer is called so: delete a letter, or choose one with the arrows.", Kind.WRONG)
            return
        if not self.may_start(self.visit, "enter", self.shell.care.knowledge.activities[chosen.id]):
            return
        self.app.pop_screen()
        self.shell.open(commands.BOUT, visit=self.visit, activity=chosen.id)

    def do_back(self) -> None:
        """Go back to the visit."""
        self.app.pop_screen()


def _option(choice: Choice, injured: Side | None) -> Option:
    activity = choice.activity
    words = (activity.id, *activity.short_forms, activity.domain, activity.phase, str(activity.kind))
    says = f"{'kept paused   ' if choice.paused else ''}{dose_words(activity, injured)}"
    return Option(activity.id, activity.name, says, words, choice.group)
