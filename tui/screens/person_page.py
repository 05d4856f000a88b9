"""The page of a person apart from any ankle: squads, episodes, and what was measured before an injury."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from store.care.bare_person import PersonView, person_view, start_visit
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.undoing import undo
from store.knowledge.words import Person
from tui.screens.appointing import Appointing, NextVisit
from tui.widgets import commands
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.page_of_words import PageOfWords


class PersonPage(Notices, Appointing):
    """One person. It reads its view whenever something may have changed, and keeps nothing else."""

    WHERE = commands.PAGE
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.PAGE)
    AUTO_FOCUS = "VerticalScroll"
    HELP_TEXT = (
        "A person without an injured ankle in care, such as one of a squad before the season. m measures: what is "
        "kept here is their own baseline, and a later injury is held against it. e puts a value right that was "
        "typed wrong, or takes it out. a opens a new episode once an ankle is injured."
    )
    DEFAULT_CSS = """
    PersonPage VerticalScroll { height: 1fr; padding: 1 0 0 0; scrollbar-size-vertical: 1; }
    """

    def __init__(self, person: str) -> None:
        super().__init__()
        self.person_id = person
        self.shown: PersonView | None = None

    def compose(self) -> ComposeResult:
        """Head, what is known, when they come, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with VerticalScroll():
            yield PageOfWords()
        yield RuleLine()
        yield NextVisit()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def on_screen_suspend(self) -> None:
        """What was said before another screen is stale after it."""
        self.query_one(MessageLine).clear()
        self.last_act = None

    def _read(self) -> None:
        try:
            self.shown = shown = person_view(self.shell.care, self.person_id)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        age = f"  {shown.age} years" if shown.age is not None else ""
        name = parts((visible(shown.person.label), mark(Role.INK, bold=True)), (age, mark(Role.QUIET)))
        self.query_one(HeadLine).show((name, self.coming(shown.person)))
        self.query_one(PageOfWords).show(shown.sections)
        self.refresh_keys()

    # keys

    def keys_now(self) -> list[str | Command]:
        """A new episode, a baseline, when they come."""
        if self.query_one(NextVisit).display:
            return [relabelled(get("open"), "save"), relabelled(get("back"), "put away")]
        another = relabelled(get("another"), "new episode")
        right = relabelled(get("edit"), "put right")
        return ["measure", another, right, "appoint", "undo", "back", self.only_key(), "jump"]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if self.shown is None:
            return None if command_id == "back" else "This person cannot be read: go back and look again."
        if command_id == "undo" and self.last_act is None and self.shown.visit is None:
            return "Nothing to undo: nothing was saved here today."
        return None

    def whom(self) -> Person | None:
        """The person."""
        return self.shown.person if self.shown is not None else None

    def read_again(self) -> None:
        """After something was taken back here."""
        self._read()

    def appointment_changed(self) -> None:
        """The head tells when they come."""
        self._read()

    # what it does

    def do_measure(self) -> None:
        """Measure anything, in today's visit without an episode."""
        assert self.shown is not None
        try:
            visit = start_visit(self.shell.care, self.shown.person)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.shell.open(commands.LINE, visit=visit.id)

    def do_edit(self) -> None:
        """Put right what was measured, or take it out."""
        self.shell.open(commands.READINGS, person=self.person_id)

    def do_another(self) -> None:
        """A new episode of this person."""
        assert self.shown is not None
        self.shell.open(commands.PERSON, person=self.shown.person, last=self.shown.last_episode)

    def do_undo(self) -> None:
        """Take back what was planned here last, else what was measured last today."""
        if self.undo_last():
            return
        assert self.shown is not None
        assert self.shown.visit is not None
        try:
            says = undo(self.shell.care, self.shown.visit)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._read()
        self.say(says, Kind.SAVED)
