"""A look at somebody who is hurt: one key a sign, and one large outcome with its reason under it."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from store.care import sideline
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.looked import kept_words
from store.care.sideline import DEFERS
from store.care.statements import Section, Statement
from store.knowledge.rechecks import Recheck
from store.knowledge.sideline import BenchOutcome, Sign
from store.knowledge.words import Person, Side
from tui.screens.heads import side_words
from tui.widgets import commands
from tui.widgets.answering import Answering
from tui.widgets.big_word import BigWord
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.question_list import QuestionList, QuestionRow

_LOOK = {BenchOutcome.EMERGENCY: Role.LOSS, BenchOutcome.TODAY: Role.LOSS, BenchOutcome.REMOVE: Role.NOW}


class CheckScreen(Answering):
    """The signs of one person, the gravest first. What was answered is in hand until enter keeps it."""

    WHERE = commands.CHECK
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.CHECK),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "QuestionList"
    HELP_TEXT = (
        "The arrows say which ankle. Every sign is put so that yes stops: y and n answer and go on, space takes "
        "an answer out, u takes the last one back. What was not looked at is unknown, never a no, and then it is "
        "a re-check. The gravest sign decides what stands in large letters; its reason stands below. Enter keeps "
        "it, and says when the next look is due. The ladder of jumps and runs comes last, and not after a yes."
    )
    DEFAULT_CSS = """
    CheckScreen BigWord { height: 6; padding: 0 1; }
    CheckScreen QuestionList { height: 1fr; }
    CheckScreen PageOfWords { height: 6; border-top: solid $faint; }
    """

    def __init__(self, person: str) -> None:
        super().__init__()
        self.person_id = person
        self.person: Person | None = None
        self.side: Side | None = None
        self.answers: dict[str, bool] = {}
        self.trail: list[tuple[str, bool | None]] = []  # each sign that was answered, and what stood before
        self.at = 0
        self.keeps: list[Recheck] = []  # the look as it was kept, and as it was amended on this screen
        self.stood: tuple[Side | None, dict[str, bool]] = (None, {})  # what esc may leave unasked

    def compose(self) -> ComposeResult:
        """Head, the outcome, the signs, why, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield BigWord(company=("REFER TODAY",))
        yield QuestionList()
        yield PageOfWords(about=6)
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Read who it is."""
        try:
            self.person = self.shell.care.person(self.person_id)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        self._show()

    @property
    def signs(self) -> tuple[Sign, ...]:
        """What is looked at."""
        return self.shell.care.knowledge.sideline.signs

    def _show(self) -> None:
        care = self.shell.care
        if self.person is None:
            return
        found = sideline.looked_at(care, self.answers)
        which = (
            side_words(self.side, " ankle") if self.side else parts(("left or right?", mark(Role.NOW, bold=True)))
        )
        who = parts(which, "  ", (visible(self.person.label), mark(Role.INK, bold=True)))  # the ankle is never cut
        self.query_one(HeadLine).show(
            (who, parts((sideline.warns(care, self.person), mark(Role.LOSS, bold=True)))),
            (parts((DEFERS, mark(Role.QUIET))), parts()),
        )
        self.query_one(BigWord).show(sideline.outcome_word(found.outcome), _LOOK.get(found.outcome, Role.INK))
        rows = [_row(sign, self.answers.get(sign.id), barred=sign.id in found.barred) for sign in self.signs]
        self.query_one(QuestionList).show(rows, self.at)
        why = tuple(
            Statement("why" if n == 0 else "", says) for n, says in enumerate(sideline.reasons(care, found))
        )
        self.query_one(PageOfWords).show((Section("", why),))
        self.refresh_keys()

    # keys

    def keys_now(self) -> list[str | Command]:
        """Which ankle, the answers, keep."""
        which = relabelled(get("turn"), "left, right")
        return [which, "answer", "unasked", relabelled(get("open"), "keep"), "undo", "back"]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if self.person is None:
            return None if command_id == "back" else "This person cannot be read: go back and look again."
        if command_id == "undo" and not self.trail and not self.keeps:
            return "Nothing to undo: nothing was answered or kept here."
        if command_id == "open" and self.keeps and self._in_hand == (self.keeps[-1].side, self.keeps[-1].answers):
            return "Kept already: esc goes back, and F8 there begins another look."
        return None

    @property
    def _in_hand(self) -> tuple[Side | None, dict[str, bool]]:
        return self.side, dict(self.answers)

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back that it was about to be left."""
        if command_id != "back":
            self.again.take_back()
        super().action_do(command_id, key)

    def do_turn(self, key: str) -> None:
        """Which ankle it is."""
        self.side = Side.LEFT if key == "left" else Side.RIGHT
        self._show()

    def do_answer(self, key: str) -> None:
        """Whether the sign is there, and on to the next."""
        if not self.is_held(key):
            self._put(key == "y")

    def do_unasked(self) -> None:
        """Not looked at: the answer goes, and nothing is taken for no."""
        self._put(None)

    def _put(self, there: bool | None) -> None:
        sign = self.signs[self.at]
        self.trail.append((sign.id, self.answers.get(sign.id)))
        self._set(sign.id, there)
        self.at = min(self.at + 1, len(self.signs) - 1)
        self._show()

    def _set(self, sign: str, there: bool | None) -> None:
        if there is None:
            self.answers.pop(sign, None)
        else:
            self.answers[sign] = there

    def do_open(self) -> None:
        """Keep the look; where it was kept here already, as it is now."""
        assert self.person is not None
        before = self.keeps[-1] if self.keeps else None
        try:
            kept = sideline.keep(self.shell.care, self.person, self.side, self.answers, before)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.keeps.append(kept)
        self.trail.clear()
        self.stood = self._in_hand
        self._show()
        self.say(f"kept: {kept_words(kept)}", Kind.SAVED, undo=True)

    def do_undo(self) -> None:
        """The last answer; where none is in hand, the look that was kept."""
        if self.trail:
            sign, before = self.trail.pop()
            self._set(sign, before)
            self.at = [one.id for one in self.signs].index(sign)
            self._show()
            return
        one = self.keeps.pop()
        try:
            stands = sideline.take_back_look(self.shell.care, one, self.keeps[-1] if self.keeps else None)
        except FAULTS as fault:
            self.keeps.append(one)
            self.say(str(fault), Kind.WRONG)
            return
        if self.keeps:
            self.keeps[-1] = stands
        self.stood = self._in_hand
        self._show()
        again = f"; kept is {kept_words(stands)}" if self.keeps else ""
        self.say(f"took back: {one.outcome}, {one.side}{again}")

    def do_back(self) -> None:
        """Leave; what is not kept is asked about once."""
        if self.answers and self._in_hand != self.stood and not self.again.confirms("leave"):
            self.say("Not kept yet: enter keeps it, esc again leaves it.", Kind.WRONG)
        else:
            self.dismiss()

    def action_move(self, by: int) -> None:
        """The sign above or below."""
        self.again.take_back()
        self.at = min(max(self.at + by, 0), len(self.signs) - 1)
        self.query_one(QuestionList).cursor = self.at

    @on(QuestionList.Clicked)
    def _clicked(self, event: QuestionList.Clicked) -> None:
        self.at = [sign.id for sign in self.signs].index(event.key)
        self.query_one(QuestionList).cursor = self.at


def _row(sign: Sign, there: bool | None, *, barred: bool) -> QuestionRow:
    answer = ("not now" if barred else "") if there is None else "yes" if there else "no"
    return QuestionRow(sign.id, sign.asks, answer, there)
