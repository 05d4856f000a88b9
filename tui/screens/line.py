"""Measure anything: pick a measure by name and go trial by trial, or type one line and see what it will save."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, Static

from store.care import measuring
from store.care.faults import FAULTS, CareFault, EntryError
from store.care.measuring import Preview, Subject, measure_named, preview, read_line
from store.care.undoing import undo
from store.knowledge.kinds import Measure
from store.knowledge.units import unit_words
from tui.screens.heads import side_words
from tui.widgets import commands
from tui.widgets.asks_first import AsksFirst
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field_first import FieldFirst
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import FLAG, Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.pad_input import PadInput
from tui.widgets.whole_sentences import WholeSentences

_QUIET = mark(Role.QUIET)
HOW = 'or one line: lunge left 10.2 10.4 right 4.8 5.0 after tape note "late"'
SWAPPED = "The injured side comes out clearly better: swapped?"


class LineScreen(FieldFirst, AsksFirst):
    """One line of one visit after another. Nothing is saved but by enter."""

    WHERE = commands.LINE
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.LINE),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "#line"
    HELP_TEXT = (
        "Type a part of a measure's name and enter to take it trial by trial. Or type one line: the measure, a "
        "side and its values, the other side and its values, such as lunge left 10.2 10.4 right 4.8 5.0. Two bare "
        "values are left, then right. Below stands what enter will save. Without before or after it takes the "
        "plan's moment. Behind the values: brace, tape, shoe, insole, foam, half-dome, and note with a text in "
        "quotes."
    )
    DEFAULT_CSS = """
    LineScreen #ask { height: 1; padding: 0 1; margin-top: 1; }
    LineScreen #ask Static { width: auto; color: $quiet; }
    LineScreen #line { width: 1fr; margin: 0 1; background: $sheet; color: $ink; }
    LineScreen #line:nocolor { text-style: underline; }
    LineScreen #pointer { height: 1; padding: 0 0 0 9; }
    LineScreen #preview { height: 5; padding: 0 1; }
    LineScreen Chooser { margin-top: 1; }
    LineScreen #steps { height: 1fr; margin: 1 1 0 1; }
    """

    def __init__(self, visit: str, text: str = "") -> None:
        super().__init__()
        self.visit = visit
        self.text = text
        self.seen: Preview | None = None
        self._at_fault = ""  # the line that the message on show finds fault with

    def compose(self) -> ComposeResult:
        """Head, the line, what it will save, the measures, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with Horizontal(id="ask"):
            yield Static("measure")
            yield PadInput(self.text, leaves=frozenset(get("swap").keys), keeps=True, id="line")
        yield Static(id="pointer")
        yield Static(id="preview")
        yield RuleLine()
        every = self.shell.care.knowledge.measures.values()
        yield Chooser([_option(measure) for measure in every if not measure.made_of])
        yield WholeSentences(apart=True, id="steps")
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Say whose, and look at a line that was handed in."""
        subject = self._subject()
        if subject is not None:
            name = parts(("measure anything", mark(Role.INK, bold=True)), (f"   {subject.person.label} ", _QUIET))
            ankle = side_words(subject.injured) if subject.injured else Content("")
            self.query_one(HeadLine).show((parts(name, ankle), Content("")))
        self._look()

    def _subject(self) -> Subject | None:
        """Whose readings are taken, read afresh: what is blind may have changed."""
        try:
            care = self.shell.care
            return measuring.subject_of(care, care.visit(self.visit))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return None

    # looking

    @on(Input.Changed, "#line")
    def _typed(self) -> None:
        """Look afresh; what was wrong with another line is no longer said."""
        message = self.query_one(MessageLine)
        if message.said.kind is Kind.WRONG and self.line != self._at_fault:
            message.clear()
        self._look()

    @property
    def line(self) -> str:
        """What was typed."""
        return self.query_one("#line", Input).value

    def _look(self) -> None:
        """What the line as it stands would save, or why it cannot be read yet."""
        self.seen = None
        words = self.line.split()
        chooser, steps = self.query_one(Chooser), self.query_one("#steps", WholeSentences)
        named = None if self._names(self.line) else self._named()
        chooser.display, steps.display = named is None, named is not None
        if named is not None:
            steps.show([parts((step, _QUIET)) for step in named.steps or (named.asks,)])
        else:
            chooser.narrow(self.line)
        self._point(None)
        subject = None if self._names(self.line) else self._subject()
        if subject is None:
            self._tell(self._first_words(words))
            return
        try:
            self.seen = preview(self.shell.care, subject, read_line(self.shell.care, subject, self.line))
        except FAULTS as fault:
            self._point(fault)
            self._tell(parts((str(fault), _QUIET)))
            return
        self._tell(_preview_words(self.seen, self.size.width - 2))

    def _first_words(self, words: list[str]) -> Content:
        """What can be typed; once a measure is named, how it is measured."""
        measure = self._named()
        if measure is None or not words:
            return parts((HOW, _QUIET))
        name = parts((measure.long_name, mark(Role.INK, bold=True)), (f", {unit_words(measure.unit)}", _QUIET))
        return parts(name, (f"\n{HOW}", _QUIET))

    def _tell(self, text: Content) -> None:
        self.query_one("#preview", Static).update(text)
        self.refresh_keys()

    def _point(self, fault: Exception | None) -> None:
        """Point at the word at fault, under the line."""
        marks = ""
        if isinstance(fault, EntryError):
            marks = " " * fault.start + "^" * max(fault.end - fault.start, 1)
        self.query_one("#pointer", Static).update(parts((marks, mark(Role.LOSS, bold=True))))

    def _names(self, line: str) -> bool:
        """Whether only a measure's name, or a part of one, stands in a line so far."""
        found = self.query_one(Chooser).found(line)
        return len(line.split()) < 2 or (bool(found) and not any(char.isdigit() for char in line))

    def _named(self) -> Measure | None:
        """The measure that the first words name."""
        return measure_named(self.shell.care, self.line)

    # keys

    def keys_now(self) -> list[str | Command]:
        """What enter does now."""
        seen = self.seen
        by_trial = "trial by trial"
        if self._names(self.line):
            return [relabelled(get("open"), by_trial), "undo", "back"]
        shown: list[str | Command] = [relabelled(get("open"), "save")]
        if seen is not None and seen.swapped:
            shown.append(relabelled(get("swap"), "swap them"))
        return [*shown, relabelled(get("measure"), by_trial), "undo", "back"]

    def action_move(self, by: int) -> None:
        """Move the cursor of the list."""
        self.query_one(Chooser).move(by)

    @on(Chooser.Clicked)
    def _clicked(self) -> None:
        self.do_measure()

    def do_open(self) -> None:
        """Save the line, as enter in the field does."""
        self.query_one(PadInput).give()

    @on(PadInput.Entered)
    def _take(self, event: PadInput.Entered) -> None:
        """Save a line; a name alone goes trial by trial. What is unusual wants enter twice."""
        event.stop()
        line, care = event.value, self.shell.care
        if self._names(line):
            self.do_measure()
            return
        try:
            subject = measuring.subject_of(care, care.visit(self.visit))
            seen = preview(care, subject, read_line(care, subject, line))
            doubts = _doubts(seen)
            if doubts and not self.again.confirms(line):
                raise CareFault(f"{' '.join(doubts)} Enter again keeps it.")
            saved = measuring.save(care, subject, seen.entry)
        except FAULTS as fault:
            self._at_fault = line
            self.say(str(fault), Kind.WRONG)
            return
        self.again.take_back()
        event.field.accept(line)
        self.say(saved.says, Kind.SAVED, undo=True)

    def do_measure(self) -> None:
        """Take the measure that is named, or that the cursor is on, trial by trial."""
        chosen = self.query_one(Chooser).chosen if self._names(self.line) else self._named()
        if chosen is not None:
            if not self.may_start(self.visit, "enter", self.shell.care.knowledge.measures[chosen.id]):
                return
            self.app.pop_screen()
            self.shell.open(commands.TRIALS, visit=self.visit, measure=chosen.id)
            return
        try:
            care = self.shell.care
            read_line(care, measuring.subject_of(care, care.visit(self.visit)), self.line)
        except FAULTS as fault:
            self._at_fault = self.line
            self.say(str(fault), Kind.WRONG)

    def do_swap(self) -> None:
        """Exchange left and right in the line where they seem swapped; else it is a sign like any other."""
        field = self.query_one("#line", Input)
        if self.seen is not None and self.seen.swapped:
            field.value = measuring.swapped_line(self.seen.entry)
            field.cursor_position = len(field.value)
            self.say("Left and right are exchanged: enter saves it.")
        else:
            field.insert_text_at_cursor("*")

    def do_undo(self) -> None:
        """Take back what was saved last in this visit."""
        try:
            care = self.shell.care
            self.say(undo(care, care.visit(self.visit)), Kind.SAVED)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        self._look()

    def do_back(self) -> None:
        """Go back. What is typed and not saved is asked about once."""
        typed = self.line.strip()
        if len(typed.split()) > 1 and not self.again.confirms(f"leave {typed}"):
            self._at_fault = self.line
            self.say("This line is not saved: enter saves it, esc again leaves it.", Kind.WRONG)
        else:
            self.app.pop_screen()


def _option(measure: Measure) -> Option:
    names = (measure.id, *measure.short_forms, *measure.long_name.casefold().replace(",", " ").split())
    says = f"{measure.long_name}, {unit_words(measure.unit)}"
    return Option(measure.id, measure.name, says, names, group=measure.domain)


def _doubts(seen: Preview) -> list[str]:
    """What wants enter twice."""
    return [*seen.asks, *([f"{SWAPPED} * swaps them."] if seen.swapped else [])]


def _preview_words(seen: Preview, width: int) -> Content:
    """What would be saved, then what it means, then what wants a second look."""
    lines = [parts(("saves  ", _QUIET), (seen.saves, mark(Role.INK, bold=True)))]
    lines += [parts((f"       {said}", _QUIET)) for said in _side_by_side(seen.says, width - 7)]
    lines += [
        parts((f"{FLAG}      ", mark(Role.LOSS, bold=True)), (doubt, mark(Role.INK))) for doubt in _doubts(seen)
    ]
    return Content("\n").join(lines)


def _side_by_side(texts: Sequence[str], width: int) -> list[str]:
    """Short texts on as few lines as hold them whole."""
    lines: list[str] = []
    for text in texts:
        joined = f"{lines[-1]}   {text}" if lines else text
        if lines and len(joined) <= width:
            lines[-1] = joined
        else:
            lines.append(text)
    return lines
