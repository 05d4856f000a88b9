"""The questions that a visit asks again as a group: one key keeps that no change was told."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from store.care import safety
from store.care.dates import day_text
from store.care.faults import FAULTS
from store.care.safety_state import NO_CHANGE, NOT_SCREENED, last_full, of_visit, refer_words, standing_refers
from store.care.safety_words import SUPPORTS, screen_words
from store.care.standing import Standing, standing
from store.knowledge.papers import SafetyScreen
from store.knowledge.words import Person
from tui.screens.heads import who
from tui.widgets import commands
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import FLAG, Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.one_person import OnePerson
from tui.widgets.question_list import QuestionList, QuestionRow


class SafetyAgainScreen(OnePerson):
    """What is on show is kept with it; no single question is answered."""

    WHERE = commands.SAFETY_AGAIN
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.SAFETY_AGAIN)
    AUTO_FOCUS = "QuestionList"
    HELP_TEXT = (
        "Ask for these as a group. Space keeps that they were asked and that no change was told: it is kept as "
        "that, with what was on show, and never as a no to each. If anything has changed, s opens the whole "
        "safety screen. It supports, and does not replace, licensed judgement and local protocol."
    )
    DEFAULT_CSS = """
    SafetyAgainScreen #last { height: auto; padding: 0 1; }
    SafetyAgainScreen #supports { height: auto; padding: 0 1; color: $quiet; }
    """

    def __init__(self, visit: str) -> None:
        super().__init__()
        self.visit = visit
        self.held: Standing | None = None

    def compose(self) -> ComposeResult:
        """Head, what stands, the questions, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield Static(id="last")
        yield QuestionList()
        yield Static(SUPPORTS, id="supports")
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again; a whole screen that was kept meanwhile has done this step."""
        care = self.shell.care
        try:
            visit = care.visit(self.visit)
            assert visit.episode is not None
            self.held = standing(care, visit.episode)
            screens = safety.screens(care, visit.episode)
            asked = of_visit(care, visit)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        if asked and asked[-1].answers and len(self.app.screen_stack) > 1 and self._went:
            self.dismiss()
            return
        title = parts(("asked again as a group", mark(Role.QUIET)))
        self.query_one(HeadLine).show((who(self.held), title))
        self.query_one("#last", Static).update(parts(*_last(screens)))
        rows = [QuestionRow(one.id, one.asks, "", None) for one in care.knowledge.safety.again]
        self.query_one(QuestionList).show(rows, -1)
        self.refresh_keys()

    _went = False  # whether the whole screen was opened from here

    def whom(self) -> Person | None:
        """The person who is asked."""
        return self.held.person if self.held is not None else None

    def keys_now(self) -> list[str | Command]:
        """No change, or the whole screen."""
        no_change = relabelled(get("next"), "asked: no change")
        return [no_change, relabelled(get("safety"), "something changed"), "back", self.only_key()]

    def why_not(self, command_id: str) -> str | None:
        """Nothing can be kept of what cannot be read."""
        if self.held is None and command_id != "back":
            return "This visit cannot be read: go back and look again."
        return None

    def do_next(self) -> None:
        """Keep that the group was asked and no change was told."""
        care = self.shell.care
        try:
            safety.reask(care, care.visit(self.visit))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        below = self.app.screen_stack[-2]
        self.app.pop_screen()
        if isinstance(below, KeyedScreen):
            below.say(f"kept: {NO_CHANGE}", Kind.SAVED, undo=True)

    def do_safety(self) -> None:
        """The whole screen, question by question."""
        assert self.held is not None
        self._went = True
        self.shell.open(commands.SAFETY, episode=self.held.episode.id)


def _last(screens: list[SafetyScreen]) -> list[tuple[str, str]]:
    """What the last whole screen came to, and what stands."""
    last = last_full(screens)
    if last is None:
        return [(f"{FLAG} ", mark(Role.LOSS, bold=True)), (f"{NOT_SCREENED}: s opens it", mark(Role.INK))]
    stand = standing_refers(screens)
    said = [(f"last screened {day_text(last.asked.on)}: {screen_words(last)}", mark(Role.INK))]
    for one in stand:
        said += [(f"\n{FLAG} ", mark(Role.LOSS, bold=True)), (refer_words(one), mark(Role.INK, bold=True))]
    return said
