"""An assessment in order and time: the block in giant letters with its seconds; what was left out at the end."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content

from store.care import practising
from store.care.faults import FAULTS
from store.care.practising import PRACTISED, Walk, minutes
from store.care.timing import Guard
from store.knowledge.practice import PracticeStep
from store.knowledge.tries import PracticeTry, TryKind
from tui.widgets import commands
from tui.widgets.answering import Answering
from tui.widgets.big_word import BigWord
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.lines import Lines
from tui.widgets.look import CURSOR, DONE, Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.question_list import QuestionList, QuestionRow
from tui.widgets.read_on import read_on

READY, WALKING, TELLING, TOLD = "-ready", "-walking", "-telling", "-told"
EVERY_S = 0.1  # how often the seconds are painted


class WalkScreen(Answering):
    """One assessment, from its first block to what was left out."""

    WHERE = commands.WALK
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.WALK),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = ""
    HELP_TEXT = (
        "Space, or the pedal, starts and goes to the next block; u goes back to the block before; x ends early. "
        "The bell rings when the time of a block is over. At the end each step is answered: y was done, n was "
        "left out, by you or by who watched. Enter keeps it and tells the time of each block, what was left out, "
        "and the order to learn. Esc before that leaves, asked twice: how far it came is kept, and does not go on."
    )
    DEFAULT_CSS = """
    WalkScreen BigWord { height: 9; padding: 1 1 0 1; }
    WalkScreen #blocks { height: 1fr; padding: 0 1; }
    WalkScreen QuestionList, WalkScreen VerticalScroll { display: none; }
    WalkScreen.-telling QuestionList, WalkScreen.-told VerticalScroll { display: block; }
    WalkScreen.-telling #blocks, WalkScreen.-told #blocks { display: none; }
    WalkScreen.-telling BigWord, WalkScreen.-told BigWord { display: none; }
    WalkScreen VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    """

    def __init__(self, ref: str) -> None:
        super().__init__()
        self.ref = ref
        self.state = READY
        self.walk: Walk | None = None
        self.kept: PracticeTry | None = None
        self.start_s = 0.0
        self.over_s = 0.0
        self.rung: int | None = None  # the block whose bell was rung
        self.answers: dict[str, bool] = {}
        self.trail: list[tuple[str, bool | None]] = []  # each step that was answered, and what stood before
        self.pedal = Guard()

    def compose(self) -> ComposeResult:
        """Head, the block, all blocks; later the steps, and what came of it."""
        yield HeadLine()
        yield RuleLine()
        yield BigWord()
        yield Lines(id="blocks")
        yield QuestionList()
        with VerticalScroll(can_focus=False):
            yield PageOfWords()
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Show what is to come; the clock does not run before space."""
        self.walk = Walk(self.shell.care.knowledge.practice.sequences[self.ref])
        self.query_one(BigWord).company = tuple(block.word for block in self.walk.sequence.blocks)
        self._turn(READY)
        self.set_interval(EVERY_S, self._tick)

    def _turn(self, state: str) -> None:
        self.remove_class(READY, WALKING, TELLING, TOLD)
        self.state = state
        self.add_class(state)
        self._show()

    # what is shown

    @property
    def steps(self) -> tuple[PracticeStep, ...]:
        """The steps that are answered at the end."""
        return self.walk.sequence.steps if self.walk is not None else ()

    def _at_s(self) -> float:
        return self.shell.clock.ticks() - self.start_s

    def _tick(self) -> None:
        """Paint the seconds; the bell rings once when the time of a block is over."""
        if self.state != WALKING or self.walk is None:
            return
        late = len(self.walk.ended_s) if self.walk.left_s(self._at_s()) <= 0 else None
        if late is not None and late != self.rung and self.shell.sounder.on:
            self.app.bell()
        self.rung = late
        self._show_clock()

    def _show(self) -> None:
        """Everything, for the state it is in."""
        if self.walk is None:
            return
        self._show_clock()
        if self.state == TELLING:
            rows = [_row(step, self.answers.get(step.id)) for step in self.steps]
            self.query_one(QuestionList).show(rows, self.query_one(QuestionList).cursor)
        elif self.state == TOLD:
            self.query_one(PageOfWords).show(practising.walked(self.walk, self.answers))
        self.refresh_keys()

    def _show_clock(self) -> None:
        """What changes with the seconds."""
        walk = self.walk
        assert walk is not None
        at = self._at_s() if self.state == WALKING else self.over_s
        left = walk.left_s(at)
        block = walk.block or walk.sequence.blocks[-1]
        late = left < 0
        says = f"{minutes(-left)} over" if late else f"{minutes(left)} left"
        role = Role.LOSS if late else Role.INK
        ready = self.state == READY
        aside = ((block.name, Role.QUIET), (minutes(block.budget_s) if ready else says, role))
        self.query_one(BigWord).show(block.word, Role.LOSS if late else Role.NOW, aside)
        self.query_one("#blocks", Lines).show(*self._blocks())
        right = f"{minutes(at)} of {minutes(walk.sequence.budget_s)}"
        self.query_one(HeadLine).show(
            (parts((walk.sequence.name, mark(Role.INK, bold=True))), parts((right, mark(Role.INK)))),
            (parts((PRACTISED, mark(Role.QUIET))), parts()),
        )

    def _blocks(self) -> Iterator[Content]:
        """A line a block: its word, what it is, its minutes, and what it took."""
        walk = self.walk
        assert walk is not None
        for n, block in enumerate(walk.sequence.blocks):
            here, over = n == len(walk.ended_s), n < len(walk.ended_s)
            glyph = DONE if over else CURSOR if here else " "
            took = f"took {minutes(walk.taken_s[n])}" if over else ""
            late = over and walk.taken_s[n] >= block.budget_s + 0.5
            yield parts(
                (f"{glyph} ", mark(Role.NOW if here else Role.QUIET)),
                (block.word.lower().ljust(10), mark(Role.NOW if here else Role.INK, bold=here)),
                (block.name.ljust(42), mark(Role.QUIET)),
                (minutes(block.budget_s).rjust(5), mark(Role.QUIET)),
                (took.rjust(12), mark(Role.LOSS if late else Role.INK)),
            )

    # keys

    def keys_now(self) -> list[str | Command]:
        """The next block; or the answers; or on in what is told."""
        if self.state == READY:
            return [relabelled(get("on"), "start"), "back"]
        if self.state == WALKING:
            return [relabelled(get("on"), "next block"), "undo", relabelled(get("end"), "end here"), "back"]
        if self.state == TELLING:
            done = relabelled(get("answer"), "done, left out")
            return [done, relabelled(get("open"), "keep and tell"), "undo", "back"]
        return ["read", "back"]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command in this state."""
        wrong = {
            "on": self.state in {TELLING, TOLD},
            "end": self.state != WALKING,
            "answer": self.state != TELLING,
            "open": self.state != TELLING,
            "read": self.state != TOLD,
        }
        if wrong.get(command_id):
            return "Not now: the key line says what can be done."
        if command_id == "undo":
            nothing = self.state in {READY, TOLD} or (self.state == TELLING and not self.trail)
            nothing = nothing or (self.state == WALKING and self.walk is not None and not self.walk.ended_s)
            return "Nothing to undo here." if nothing else None
        return None

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back that it was about to be left, and that the pedal is held."""
        if command_id != "back":
            self.again.take_back()
        if command_id != "on":
            self.pedal = Guard()
        super().action_do(command_id, key)

    def do_on(self) -> None:
        """Start, or go to the next block; after the last one the steps are told. A held pedal is one press."""
        assert self.walk is not None
        self.pedal, new = self.pedal.pressed(int(self.shell.clock.ticks() * 1000))
        if not new:
            return
        if self.state == READY:
            self.start_s = self.shell.clock.ticks()
            self._keep(begin=True)
            self._turn(WALKING)
            return
        self.walk = self.walk.on(self._at_s())
        self._keep()
        if self.walk.block is None:
            self.do_end()
        else:
            self._show()

    def do_end(self) -> None:
        """The time is over: now the steps, done or left out."""
        self.over_s = self._at_s()
        self._turn(TELLING)
        self.set_focus(self.query_one(QuestionList))

    def do_answer(self, key: str) -> None:
        """Whether the step under the cursor was done, and on to the next."""
        if self.is_held(key):
            return
        at = self.query_one(QuestionList).cursor
        step = self.steps[at]
        self.trail.append((step.id, self.answers.get(step.id)))
        self.answers[step.id] = key == "y"
        self.query_one(QuestionList).cursor = min(at + 1, len(self.steps) - 1)
        self._show()

    def do_open(self) -> None:
        """Keep it and tell; what was not answered counts as left out."""
        done = [step.id for step in self.steps if self.answers.get(step.id)]
        self._keep({"done": done, "left_out": [one.id for one in self.steps if one.id not in done]}, ended=True)
        self.set_focus(None)
        self._turn(TOLD)

    def do_undo(self) -> None:
        """Back to the block before, or the last answer out."""
        assert self.walk is not None
        if self.state == WALKING:
            self.walk = self.walk.back()
            self._keep()
        else:
            step, before = self.trail.pop()
            if before is None:
                self.answers.pop(step, None)
            else:
                self.answers[step] = before
            self.query_one(QuestionList).cursor = [one.id for one in self.steps].index(step)
        self._show()

    def do_read(self, key: str) -> None:
        """On in what is told, or back."""
        read_on(self.query_one(VerticalScroll), key)

    def do_back(self) -> None:
        """Leave; in the middle it is asked once, since it does not go on later."""
        if self.state in {WALKING, TELLING} and not self.again.confirms("leave"):
            self.say("Not over yet: esc again leaves, and the answers so far are not kept.", Kind.WRONG)
        else:
            self.dismiss()

    def action_move(self, by: int) -> None:
        """The step above or below."""
        if self.state == TELLING:
            asked = self.query_one(QuestionList)
            asked.cursor = min(max(asked.cursor + by, 0), len(self.steps) - 1)

    @on(QuestionList.Clicked)
    def _clicked(self, event: QuestionList.Clicked) -> None:
        self.query_one(QuestionList).cursor = [step.id for step in self.steps].index(event.key)

    def _keep(self, data: dict[str, list[str]] | None = None, *, begin: bool = False, ended: bool = False) -> None:
        """Keep how far it has come; what cannot be kept is said, and the practice goes on."""
        assert self.walk is not None
        care, so_far = self.shell.care, {"block_s": [round(one, 1) for one in self.walk.taken_s]}
        try:
            fresh = begin or self.kept is None
            if self.kept is None or fresh:
                self.kept = practising.begin(care, TryKind.SEQUENCE, self.ref, so_far)
            if ended or not fresh:
                self.kept = practising.keep(care, self.kept, {**so_far, **(data or {})}, ended=ended)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)


def _row(step: PracticeStep, done: bool | None) -> QuestionRow:
    answer = "" if done is None else "done" if done else "left out"
    return QuestionRow(step.id, step.asks, answer, None if done is None else not done)
