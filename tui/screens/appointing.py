"""When a person comes next, typed in one line on a screen about them; the same line moves it or calls it off."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from textual import on
from textual.content import Content
from textual.widgets import Input

from store.care.appointments import coming_words, plan, take_back
from store.care.faults import FAULTS
from store.knowledge.words import Person
from tui.widgets.asked_line import AskedLine
from tui.widgets.head_line import parts
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind
from tui.widgets.one_person import OnePerson


class NextVisit(AskedLine):
    """When a person comes next."""

    LABEL, FIELD, MOST = "next visit", "when", 60
    HOW = "thu 10:40, 3 dec 14:00 or +7 10:40"
    HELP_TEXT = (
        "When this person comes next: a day and a time, such as thu 10:40, 3 dec 14:00, 3.12. 14:00, "
        "tomorrow 9:00 or +7 10:40 for a week from today; behind it how long, such as 45min. What is planned is "
        "moved by typing another time; off calls it off, and also fri 9:00 plans one more. Enter saves, "
        "esc leaves it as it was."
    )


class Appointing(OnePerson):
    """A screen about one person with the line in it. `planned_for` names the episode that an appointment is of."""

    last_act: Callable[[], str] | None = None
    """Takes back what was done here last, and says what that was; None where nothing was."""

    def planned_for(self) -> str | None:
        """The episode, where there is one."""
        return None

    def read_again(self) -> None:
        """Show the person as they stand now."""
        raise NotImplementedError

    def appointment_changed(self) -> None:
        """Show again when the person comes."""
        raise NotImplementedError

    def do_appoint(self) -> None:
        """Ask when."""
        person = self.whom()
        if person is not None:
            planned = coming_words(self.shell.care, person.id)
            says = f"now {planned}: type another time, or off, or also fri 9:00" if planned else ""
            self.query_one(NextVisit).begin(says)
            self.refresh_keys()

    @on(Input.Submitted, "#when")
    def _when_typed(self, event: Input.Submitted) -> None:
        event.stop()
        person = self.whom()
        if person is None or not event.value.strip():
            self.query_one(NextVisit).end()
            return
        try:
            change = plan(self.shell.care, person, event.value, self.planned_for())
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.query_one(NextVisit).end()
        self.last_act = partial(take_back, self.shell.care, change)
        self.say(change.says, Kind.SAVED, undo=True)
        self.appointment_changed()

    def do_back(self) -> None:
        """Put the line away, else leave the screen."""
        if self.query_one(NextVisit).display:
            self.query_one(NextVisit).end()
        else:
            self.app.pop_screen()

    def undo_last(self) -> bool:
        """Take back what was done here last; whether there was anything."""
        act, self.last_act = self.last_act, None
        if act is None:
            return False
        try:
            says, kind = act(), Kind.SAVED
        except FAULTS as fault:
            says, kind = str(fault), Kind.WRONG
        self.read_again()
        self.say(says, kind)
        return True

    def coming(self, person: Person) -> Content:
        """When a person comes next, for a head line."""
        try:
            words = coming_words(self.shell.care, person.id)
        except FAULTS:
            words = ""
        if not words:
            return parts(("no next visit planned", mark(Role.QUIET)))
        return parts(("next visit ", mark(Role.QUIET)), (words, mark(Role.INK)))
