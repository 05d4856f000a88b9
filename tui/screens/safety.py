"""The safety screen: one key a question, group by group, and beside it what it comes to and why."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input

from store.care import safety
from store.care.faults import FAULTS
from store.care.safety import NO, NONE, YES, Draft, Word
from store.care.safety_state import refer_words, stands
from store.care.safety_words import rule_of
from store.care.standing import Standing, standing
from store.knowledge.papers import SafetyScreen
from store.knowledge.words import Person
from tui.screens.heads import who
from tui.screens.safety_lines import LARGE, Asked, asked_rows, outcome_look, outcome_sections, question_row, whole
from tui.widgets import commands
from tui.widgets.answering import Answering
from tui.widgets.big_word import BigWord
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.plain_input import PlainInput
from tui.widgets.question_list import QuestionList
from tui.widgets.read_on import read_on

DIGITS = 7  # characters of a number


class SafetyPage(OnePerson, Answering, Notices):
    """The questions of one episode. What was answered is in hand until enter keeps it."""

    WHERE = commands.SAFETY
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.SAFETY),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "QuestionList"
    HELP_TEXT = (
        "Every question is put so that yes is the sign to mind. y and n answer and go on, space takes the answer "
        "out again: not asked is unknown, and never a no. Numbers are typed, and enter takes them in; n is none "
        "where it says so; u takes the last answer back. Left and right go to another group. Enter keeps the "
        "screen; changed later, what stood first stays in the file. k settles a referral that stands, with a "
        "reason. A star marks what the record knew already. It supports, and does not replace, licensed judgement "
        "and local protocol."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    SafetyPage #body { height: 1fr; layout: vertical; }
    SafetyPage #outcome { height: 8; border-top: solid $faint; }
    SafetyPage BigWord { height: 1; padding: 0 1; }
    SafetyPage VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    SafetyPage.-wide #body { layout: horizontal; }
    SafetyPage.-wide #outcome { height: 1fr; width: 56; border-top: none; border-left: solid $faint; }
    SafetyPage.-wide BigWord { height: 8; padding: 1 1; }
    SafetyPage #reason { display: none; padding: 0 1; background: $sheet; }
    SafetyPage.-deciding #reason { display: block; }
    """

    def __init__(self, episode: str) -> None:
        super().__init__()
        self.episode = episode
        self.held: Standing | None = None
        self.draft: Draft | None = None
        self.standing: tuple[SafetyScreen, ...] = ()
        self.at = ""  # the name of the answer under the cursor
        self.typed = ""
        self.made_here: list[str] = []
        self.trail: list[
            tuple[Draft, str]
        ] = []  # before each answer in hand: the draft, and where the cursor stood

    def compose(self) -> ComposeResult:
        """Head, the questions of a group, the outcome beside or below, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield BigWord(company=LARGE)
        with Container(id="body"):
            yield QuestionList()
            with Vertical(id="outcome"), VerticalScroll(can_focus=False):
                yield PageOfWords(about=15)
        yield PlainInput(select_on_focus=True, id="reason", placeholder="why it is settled; enter keeps it")
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Read the record; the cursor stands on the first question that was not asked."""
        self._read()
        if self.draft is not None:
            rows = asked_rows(self.shell.care, self.draft)
            self.at = next((key for _, key in rows if key not in self.draft.answers), rows[0][1])
            self._show()

    def _read(self) -> None:
        """Begin, or go on with what is kept of today: no answer is in hand then."""
        care = self.shell.care
        self.trail.clear()
        try:
            self.held = standing(care, self.episode)
            self.draft = safety.begin(care, self.episode)
            self.standing = stands(care, self.episode)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)

    def read_afresh(self) -> None:
        """As another window left it; what was answered here and not kept yet is laid over it."""
        was = self.draft
        self._read()
        if was is not None and was.changed and self.draft is not None:
            self.draft = safety.laid_over(self.draft, was)
        self._show()

    # what is shown

    def _rows(self) -> list[Asked]:
        return asked_rows(self.shell.care, self.draft) if self.draft is not None else []

    @property
    def group(self) -> str:
        """The group of the question under the cursor."""
        return next((question.group for question, key in self._rows() if key == self.at), "emergency")

    def _show(self) -> None:
        """The questions of the group in hand, and what all of them come to."""
        draft, held, care = self.draft, self.held, self.shell.care
        if draft is None or held is None:
            return
        unkept = "not kept yet" if draft.changed else "kept" if draft.kept else "nothing asked yet"
        self.query_one(HeadLine).show(
            (who(held), self._what_stands()),
            (parts((self._title(), mark(Role.INK, bold=True))), parts((unkept, mark(Role.QUIET)))),
        )
        own = [row for row in self._rows() if row[0].group == self.group]
        shown = [question_row(row, draft, self.typed if row[1] == self.at else "") for row in own]
        at = next((n for n, (_, key) in enumerate(own) if key == self.at), 0)
        self.query_one(QuestionList).show(shown, at)
        found = safety.found(care, draft)
        words, role = outcome_look(whole(found))
        self.query_one(BigWord).show(words, role)
        self.query_one(PageOfWords).show(outcome_sections(care, draft, found, self.group, self.standing))
        self.refresh_keys()

    def _what_stands(self) -> Content:
        """What was found before and nobody settled; else what this screen is."""
        if self.standing:
            return parts((refer_words(self.standing[-1]), mark(Role.LOSS, bold=True)))
        return parts(("safety screen", mark(Role.QUIET)))

    def _title(self) -> str:
        """The group in hand, and how many there are."""
        groups = self.shell.care.knowledge.safety.groups
        number = next(n for n, one in enumerate(groups) if one.id == self.group)
        return f"{groups[number].name}, {number + 1} of {len(groups)}"

    # keys

    def whom(self) -> Person | None:
        """The person who is screened."""
        return self.held.person if self.held is not None else None

    def keys_now(self) -> list[str | Command]:
        """Answer, go on, keep."""
        if self.has_class("-deciding"):
            return [relabelled(get("open"), "settle it"), relabelled(get("back"), "leave it")]
        enter = relabelled(get("open"), "take the number" if self.typed else "keep the screen")
        settle = [relabelled(get("decide"), "settle")] if self.standing else []
        keys: list[str | Command] = [
            *settle,
            "answer",
            "unasked",
            "figure",
            enter,
            relabelled(get("turn"), "group"),
        ]
        return [*keys, "read", "source", "undo", "back", self.only_key()]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if self.draft is None:
            return None if command_id == "back" else "This episode cannot be read: go back and look again."
        if command_id in {"answer", "unasked", "figure", "decide"} and self.draft.episode.closed is not None:
            return "This episode is closed: open it again first."
        if command_id == "undo" and not (self.trail or self.made_here):
            return "Nothing to undo: nothing was answered or kept here since this screen was opened."
        if command_id == "decide" and not self.standing:
            return "Nothing stands to be settled; what is in hand is kept first, by enter."
        return None

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back that it was about to be left."""
        if command_id != "back":
            self.again.take_back()
        super().action_do(command_id, key)

    def _answer(self, word: Word | None) -> None:
        """Answer what is under the cursor, or take its answer out."""
        assert self.draft is not None
        self.trail.append((self.draft, self.at))
        self.draft = safety.answer(self.draft, self.at, word)

    def _step(self, by: int) -> None:
        """The cursor to another question, over the ends of groups."""
        keys = [key for _, key in self._rows()]
        at = keys.index(self.at) if self.at in keys else 0
        self.at, self.typed = keys[min(max(at + by, 0), len(keys) - 1)], ""

    def _onward(self) -> None:
        """The cursor to the next question that was not asked; where none is left, to the next one."""
        assert self.draft is not None
        keys = [key for _, key in self._rows()]
        after = keys[keys.index(self.at) + 1 :] if self.at in keys else keys
        following = next((key for key in after if key not in self.draft.answers), "")
        if following:
            self.at, self.typed = following, ""
        else:
            self._step(1)

    def action_move(self, by: int) -> None:
        """The question above or below; a number that was typed is taken in first."""
        self.again.take_back()
        if self.draft is None or (self.typed and not self._take()):
            return
        self._step(by)
        self._show()

    @on(QuestionList.Clicked)
    def _clicked(self, event: QuestionList.Clicked) -> None:
        self.at, self.typed = event.key, ""
        self._show()

    def do_turn(self, key: str) -> None:
        """The first question of the group after or before."""
        groups = [one.id for one in self.shell.care.knowledge.safety.groups]
        to = groups[(groups.index(self.group) + (1 if key == "right" else -1)) % len(groups)]
        self.at, self.typed = next(name for question, name in self._rows() if question.group == to), ""
        self._show()

    def do_read(self, key: str) -> None:
        """On in the reasons, or back."""
        read_on(self.query_one(VerticalScroll), key)

    # answers

    @property
    def asked(self) -> Asked:
        """The question under the cursor."""
        return next(row for row in self._rows() if row[1] == self.at)

    def do_answer(self, key: str) -> None:
        """Yes or no, and on to the next; of a number n is none, where there can be none."""
        question, _ = self.asked
        if question.unit and (key == "y" or not question.none):
            self.say(f"Type a number in {question.unit}; space leaves it not asked.")
            return
        if self.is_held(key):
            return
        word, group = NONE if question.unit else YES if key == "y" else NO, self.group
        self._answer(word)
        self._onward()
        self._show()
        if self.group != group:
            self.say(f"On to {self._title()}.")

    def do_unasked(self) -> None:
        """Not asked: the answer goes, and nothing is taken for no."""
        self._answer(None)
        self._step(1)
        self._show()

    def do_figure(self, key: str) -> None:
        """A figure of a number."""
        if not self.asked[0].unit:
            self.say("This one is answered with y or n; space is not asked.")
            return
        if key == "backspace":
            self.typed = self.typed[:-1]
        elif len(self.typed) < DIGITS:
            self.typed += {"full_stop": ".", "comma": ","}.get(key, key)
        self._show()

    def _take(self) -> bool:
        """Take the typed number in; False, with a sentence, where it cannot be."""
        question, _ = self.asked
        try:
            self._answer(safety.number_of(question, self.typed))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            self.shell.drop_keys()
            return False
        self.typed = ""
        return True

    # keeping, settling, leaving

    def do_open(self) -> None:
        """Take a typed number in; else keep the screen, or the reason for which it is settled."""
        if self.has_class("-deciding"):
            self._settle()
        elif self.typed:
            if self._take():
                self._onward()
                self._show()
        elif self.draft is not None:
            try:
                kept = safety.keep(self.shell.care, self.draft)
            except FAULTS as fault:
                self.say(str(fault), Kind.WRONG)
                return
            self.made_here.append(kept.id)
            self._read()
            self._show()
            self.say(f"kept the safety screen: {kept.outcome}", Kind.SAVED, undo=True)

    def do_decide(self) -> None:
        """Ask for the reason; nothing is settled before it is given."""
        self.add_class("-deciding")
        field = self.query_one("#reason", Input)
        field.value = ""
        self.set_focus(field)
        self.refresh_keys()

    @on(Input.Submitted, "#reason")
    def _reason_given(self, event: Input.Submitted) -> None:
        event.stop()
        self._settle()

    def _settle(self) -> None:
        try:
            settled = safety.settle(self.shell.care, self.episode, self.query_one("#reason", Input).value)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.made_here += [one.id for one in settled]
        self._asked_no_more()
        self.read_afresh()
        self.say(f"settled: {settled[0].settled_because}", Kind.SAVED, undo=True)

    def _asked_no_more(self) -> None:
        self.remove_class("-deciding")
        self.set_focus(self.query_one(QuestionList))
        self.refresh_keys()

    def do_undo(self) -> None:
        """Take back the last answer in hand; where there is none, the last thing kept here."""
        if self.trail:
            self.draft, self.at = self.trail.pop()
            self.typed = ""
            self._show()
            self.say("took back the last answer")
            return
        try:
            says = safety.take_back(self.shell.care, self.made_here[-1])
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.made_here.pop()
        self._read()
        if self.at not in [key for _, key in self._rows()]:
            self.at = self._rows()[0][1]
        self._show()
        self.say(says)

    def do_source(self) -> None:
        """Where the rule of this group comes from."""
        self.shell.open(commands.SAFETY_SOURCE, episode=self.episode, rule=rule_of(self.group))

    def do_back(self) -> None:
        """Leave the reason, then the screen; what is not kept is asked about once."""
        if self.has_class("-deciding"):
            self._asked_no_more()
        elif self.draft is not None and self.draft.changed and not self.again.confirms("leave"):
            self.say("Not kept yet: enter keeps it, esc again leaves it.", Kind.WRONG)
        else:
            self.dismiss()
