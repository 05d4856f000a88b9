"""The re-sprain log on an episode's screen: typed in one line, shown in the head, taken back by undo."""

from __future__ import annotations

from functools import partial

from textual import on
from textual.content import Content
from textual.widgets import Input

from store.care.faults import FAULTS
from store.care.resprain import HOW, log, logged, next_step_words, short_words, take_back
from tui.screens.appointing import Appointing
from tui.widgets.asked_line import AskedLine
from tui.widgets.head_line import parts
from tui.widgets.look import FLAG, Role, mark
from tui.widgets.message_line import Kind


class NewSprain(AskedLine):
    """That an ankle was sprained again."""

    LABEL, FIELD, MOST, HOW = "new sprain", "sprain", 240, HOW
    HELP_TEXT = (
        "A new sprain that the person tells of: the day first, such as 12 jan, yesterday or 2027-01-12, then "
        "left or right where it is not this ankle, then how it came about. Enter keeps it, esc leaves it. "
        "It is a log only: whoever is to be treated for it gets a new episode, and is screened for safety."
    )
    DEFAULT_CSS = """
    NewSprain Input { width: 32; }
    """


class Spraining(Appointing):
    """The screen of an episode with the line in it, beside the one for the next visit."""

    episode: str

    def do_resprain(self) -> None:
        """Ask when and how."""
        self.query_one(NewSprain).begin()
        self.refresh_keys()

    @on(Input.Submitted, "#sprain")
    def _sprain_typed(self, event: Input.Submitted) -> None:
        event.stop()
        if not event.value.strip():
            self.query_one(NewSprain).end()
            return
        care = self.shell.care
        try:
            made = log(care, self.episode, event.value)
            then = next_step_words(care.episode(self.episode))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.query_one(NewSprain).end()
        self.read_again()
        self.last_act = partial(take_back, care, made)
        self.say(f"new sprain logged; {then}", Kind.SAVED, undo=True)
        self.refresh_keys()

    def do_back(self) -> None:
        """Put the line away, else what else is open, else leave the screen."""
        if self.query_one(NewSprain).display:
            self.query_one(NewSprain).end()
        else:
            super().do_back()

    def sprains(self) -> Content:
        """The last one that was logged, for a head line, and how many more there are."""
        try:
            found = logged(self.shell.care, self.episode)
        except FAULTS:
            return parts()
        if not found:
            return parts()
        more = f" and {len(found) - 1} before it" if len(found) > 1 else ""
        last = short_words(found[-1], self.shell.care.clock.now().on)
        return parts((f"{FLAG} ", mark(Role.LOSS, bold=True)), (f"{last}{more}", mark(Role.INK)))
