"""A person on paper: what is asked for or tested is told, and then the student decides."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll

from store.care import paper_cases, practising
from store.care.faults import FAULTS
from store.care.paper_cases import OUTCOMES
from store.care.practising import PRACTISED
from store.care.statements import Section, Statement
from store.knowledge.practice import Outcome, PaperCase
from store.knowledge.tries import PracticeTry, TryKind
from tui.widgets import commands
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.question_list import QuestionList, QuestionRow
from tui.widgets.read_on import read_on


class CaseScreen(KeyedScreen[None]):
    """One case: the things to ask on the left, the story and what was found on the right."""

    WHERE = commands.CASE
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.CASE),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "QuestionList"
    HELP_TEXT = (
        "Up and down choose what to ask, look at or test; enter does it, and what it finds is told. Nothing else "
        "is. k decides: up and down choose, enter says it. Then what the usual rules make of it is told, and what "
        "had to be asked and was not. The person is invented; your own school and local protocol come first."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    CaseScreen #body { height: 1fr; layout: vertical; }
    CaseScreen QuestionList { height: 8; }
    CaseScreen VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; border-top: solid $faint; }
    CaseScreen.-wide #body { layout: horizontal; }
    CaseScreen.-wide QuestionList { height: 1fr; width: 58; padding: 1; }
    CaseScreen.-wide VerticalScroll { border-top: none; border-left: solid $faint; padding: 1 0 0 1; }
    CaseScreen.-told QuestionList { display: none; }
    CaseScreen.-told VerticalScroll { border: none; }
    """

    def __init__(self, ref: str) -> None:
        super().__init__()
        self.ref = ref
        self.asked: list[str] = []
        self.at = 0
        self.deciding = False
        self.decided: Outcome | None = None
        self.kept: PracticeTry | None = None

    def compose(self) -> ComposeResult:
        """Head, what can be asked, what was found, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with Container(id="body"):
            yield QuestionList()
            with VerticalScroll(can_focus=False):
                yield PageOfWords()
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """The story, and what was found of it before it was left today."""
        try:
            self.kept = practising.left_today(self.shell.care, TryKind.CASE, self.ref)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        if self.kept is not None:
            self.asked = list(self.kept.data["asked"])
            self.say("This one was left today and goes on where it was.")
        self._show()

    @property
    def case(self) -> PaperCase:
        """The case."""
        return self.shell.care.knowledge.practice.cases[self.ref]

    @property
    def rows(self) -> list[QuestionRow]:
        """What can be asked, or what is to be decided between."""
        if self.deciding:
            return [QuestionRow(one, words, "", None) for one, words in OUTCOMES.items()]
        blocks = self.shell.care.knowledge.practice.case_blocks
        return [
            QuestionRow(step.id, step.asks, block.word.lower(), False if step.id in self.asked else None)
            for block in blocks
            for step in block.steps
        ]

    def _show(self) -> None:
        rows = self.rows
        self.query_one(QuestionList).show(rows, self.at)
        self.query_one(HeadLine).show(
            (
                parts((self.case.name, mark(Role.INK, bold=True)), ("  a person on paper", mark(Role.QUIET))),
                parts((f"{len(self.asked)} asked", mark(Role.QUIET))),
            ),
            (parts((PRACTISED, mark(Role.QUIET))), parts()),
        )
        self.set_class(self.decided is not None, "-told")
        self.query_one(PageOfWords).show(self._told())
        self.refresh_keys()

    def _told(self) -> list[Section]:
        """The story with what was found, the last first; once it is decided, what it comes to."""
        known = self.shell.care.knowledge.practice
        if self.decided is not None:
            return paper_cases.judged(self.shell.care.knowledge, self.case, self.asked, self.decided)
        names = {step.id: step.asks for block in known.case_blocks for step in block.steps}
        found = [Statement(names[one], known.finding(self.case, one)) for one in reversed(self.asked)]
        story = Section("the story", (Statement("", self.case.story),))
        return [story, Section("what you found", tuple(found) or (Statement("", "nothing was asked yet"),))]

    # keys

    def keys_now(self) -> list[str | Command]:
        """Ask, decide."""
        if self.decided is not None:
            return ["read", "back"]
        if self.deciding:
            return [relabelled(get("open"), "say it"), "back"]
        return [relabelled(get("open"), "ask or test"), "decide", "read", "back"]

    def why_not(self, command_id: str) -> str | None:
        """What is decided is over."""
        if self.decided is not None and command_id in {"open", "decide"}:
            return "It is decided: esc goes back to the list."
        return None

    def do_open(self) -> None:
        """Ask what is under the cursor, or say what it comes to."""
        row = self.rows[self.at]
        if self.deciding:
            self._decide(Outcome(row.key))
            return
        if row.key in self.asked:
            self.asked.remove(row.key)  # told again, on top
        self.asked.append(row.key)
        self._keep()
        self._show()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def do_decide(self) -> None:
        """Choose what it comes to."""
        self.deciding, self.at = True, 0
        self._show()
        self.say("What do you do with this person? Up and down choose, enter says it.")

    def _decide(self, outcome: Outcome) -> None:
        self.decided, self.deciding, self.at = outcome, False, 0
        self._keep()
        self.set_focus(None)
        self._show()

    def _keep(self) -> None:
        """Keep how far it has come; what cannot be kept is said, and the practice goes on."""
        care, data = self.shell.care, {"asked": list(self.asked)}
        try:
            if self.kept is None:
                self.kept = practising.begin(care, TryKind.CASE, self.ref, data)
            if self.decided is not None:
                self.kept = practising.keep(care, self.kept, {**data, "outcome": self.decided}, ended=True)
            elif self.kept.data != data:
                self.kept = practising.keep(care, self.kept, data)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)

    def do_read(self, key: str) -> None:
        """On in what is told, or back."""
        read_on(self.query_one(VerticalScroll), key)

    def do_back(self) -> None:
        """Leave the decision, then the screen; what was asked is kept."""
        if self.deciding:
            self.deciding, self.at = False, 0
            self._show()
        else:
            self.dismiss()

    def action_move(self, by: int) -> None:
        """The row above or below."""
        self.at = min(max(self.at + by, 0), len(self.rows) - 1)
        self.query_one(QuestionList).cursor = self.at

    @on(QuestionList.Clicked)
    def _clicked(self, event: QuestionList.Clicked) -> None:
        self.at = [row.key for row in self.rows].index(event.key)
        self.query_one(QuestionList).cursor = self.at
