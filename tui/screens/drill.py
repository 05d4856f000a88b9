"""One's own error: a number of ankles, one value each, round by round, and nothing of it shown before the end."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from store.care import drilling, practising
from store.care.drilling import Drill
from store.care.faults import FAULTS, CareFault
from store.care.practising import PRACTISED
from store.knowledge.kinds import Measure
from store.knowledge.tries import PracticeTry, TryKind
from store.knowledge.units import unit_words
from tui.widgets import commands
from tui.widgets.big_word import BigWord
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field_first import FieldFirst
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.pad_input import PadInput
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.read_on import read_on

USUAL = "8 x 2"


class DrillScreen(FieldFirst):
    """First how many ankles and how often, then the values, then what they say of the examiner."""

    WHERE = commands.DRILL
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.DRILL)
    AUTO_FOCUS = "#value"
    HELP_TEXT = (
        "Say how many ankles and how often, such as 8 x 2: left and right of four people are eight. Then measure "
        "every ankle once, in one order, and after the last one begin again with the first. What was typed is not "
        "shown again, so that you measure anew each time; u takes the last value back, x ends early and counts "
        "whole rounds. At the end: how large your own error is. What was typed is kept, and a drill that was left "
        "goes on where it was, the same day."
    )
    DEFAULT_CSS = """
    DrillScreen #ask { height: 1; padding: 0 1; margin: 1 0; }
    DrillScreen #ask Static { width: auto; color: $quiet; }
    DrillScreen #value { width: 24; margin: 0 1; background: $sheet; color: $ink; }
    DrillScreen #value:nocolor { text-style: underline; }
    DrillScreen BigWord { height: 1fr; max-height: 11; padding: 1 1; }
    DrillScreen VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    DrillScreen.-told BigWord, DrillScreen.-told #ask, DrillScreen.-asking BigWord { display: none; }
    DrillScreen.-measuring VerticalScroll { display: none; }
    """

    def __init__(self, ref: str) -> None:
        super().__init__()
        self.ref = ref
        self.drill: Drill | None = None
        self.kept: PracticeTry | None = None
        self.told = False

    def compose(self) -> ComposeResult:
        """Head, which ankle, the field, what came of it, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield BigWord(company=("ankle 40",))
        with Horizontal(id="ask"):
            yield Static(id="label")
            yield PadInput(leaves=frozenset(), id="value")
            yield Static(id="unit")
        with VerticalScroll(can_focus=False):
            yield PageOfWords()
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Ask how many; one that was left today goes on."""
        try:
            self.kept = practising.left_today(self.shell.care, TryKind.DRILL, self.ref)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        if self.kept is not None:
            self.drill = drilling.resumed(self.shell.care, self.kept)
            self.say("This one was left today and goes on where it was; x ends it.")
        self._show()

    @property
    def measure(self) -> Measure:
        """What is measured."""
        return self.shell.care.knowledge.measures[self.ref]

    @property
    def field(self) -> PadInput:
        """The one field."""
        return self.query_one("#value", PadInput)

    def _show(self) -> None:
        """Which ankle, in which round; never a value."""
        drill = self.drill
        self.set_class(drill is None, "-asking")
        self.set_class(drill is not None and not self.told, "-measuring")
        self.set_class(self.told, "-told")
        count = "" if drill is None else f"round {drill.round} of {drill.repeats}"
        self.query_one(HeadLine).show(
            (
                parts((f"your own error, {self.measure.name}", mark(Role.INK, bold=True))),
                parts((count, mark(Role.INK))),
            ),
            (parts((PRACTISED, mark(Role.QUIET))), parts()),
        )
        label, unit = ("how many, how often", "") if drill is None else ("value", unit_words(self.measure.unit))
        self.query_one("#label", Static).update(label)
        self.query_one("#unit", Static).update(unit)
        self.field.placeholder = USUAL if drill is None else ""
        self.field.leaves = frozenset() if drill is None else frozenset({"u", "x"})  # no letter is in a value
        aside = () if drill is None else ((f"of {drill.ankles}", Role.QUIET),)
        self.query_one(BigWord).show("" if drill is None else f"ankle {drill.ankle}", Role.NOW, aside)
        page = self.query_one(PageOfWords)
        if self.told and drill is not None:
            page.show(drilling.told(drill))
        elif drill is None:
            page.show(drilling.how(self.measure))
        else:
            page.show(())
        self.refresh_keys()

    # keys

    def keys_now(self) -> list[str | Command]:
        """Begin, take the value in, take the last one back."""
        if self.told:
            return ["read", "undo", "back"]
        if self.drill is None:
            return [relabelled(get("open"), "begin"), "read", "back"]
        return [relabelled(get("open"), "next ankle"), "undo", relabelled(get("end"), "end here"), "back"]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if command_id == "undo" and (self.drill is None or not self.drill.values):
            return "Nothing to undo: no value was typed yet."
        if command_id in {"open", "end"} and self.told:
            return "All is measured: esc goes back."
        if command_id == "end" and (self.drill is None or not self.drill.enough):
            return "Two whole rounds are wanted before there is an error to tell: esc leaves it, kept as it is."
        return None

    @on(PadInput.Entered)
    def _entered(self, event: PadInput.Entered) -> None:
        event.stop()
        for line in self.query(MessageLine):  # what was said belongs to the value before
            line.clear()
        self._take_in(event.value)

    def do_open(self) -> None:
        """Take in what is in the field."""
        self.field.give()

    def _take_in(self, text: str) -> None:
        """Begin with so many ankles, or take a value in; what cannot be taken stays in the field."""
        try:
            if self.told:
                return
            if self.drill is None:
                self._begin(text.strip() or USUAL)
            else:
                self._take(self.drill, text.strip())
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            self.field.refuse(text)
            self.shell.drop_keys()

    def _begin(self, line: str) -> None:
        drill = drilling.planned(self.measure, line)
        self.kept = practising.begin(self.shell.care, TryKind.DRILL, self.ref, drill.data)
        self.drill = drill
        self._show()

    def _take(self, drill: Drill, text: str) -> None:
        further, asks = drilling.with_value(self.shell.care, drill, text)
        if asks and not self.again.confirms(text):
            raise CareFault(f"{asks[0]} Enter again keeps it.")
        self.again.take_back()
        self._keep(further, ended=further.done)
        self._show()

    def do_end(self) -> None:
        """End early: whole rounds count."""
        assert self.drill is not None
        try:
            self._keep(self.drill, ended=True)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._show()

    def _keep(self, further: Drill, *, ended: bool = False) -> None:
        """On disk first, then shown."""
        assert self.kept is not None
        self.kept = practising.keep(self.shell.care, self.kept, further.data, ended=ended)
        self.drill, self.told = further, ended
        self.set_focus(None if ended else self.field)

    def do_undo(self) -> None:
        """Take the last value back; it is measured again."""
        assert self.drill is not None
        try:
            self._keep(drilling.without_last(self.drill))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._show()
        self.say(f"took the last value back: ankle {self.drill.ankle} again")

    def do_read(self, key: str) -> None:
        """On in what is told, or back."""
        read_on(self.query_one(VerticalScroll), key)

    def do_back(self) -> None:
        """Leave; what was typed is kept."""
        self.dismiss()
