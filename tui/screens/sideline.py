"""A squad at the sideline: two figures a person, typed one after the other, each against their own baseline."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Static

from store.care import sideline, squads
from store.care.dates import time_text
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.looked import any_due, last_words
from store.care.measuring import Saved, measure_named
from store.care.sideline import BenchRow
from store.knowledge.kinds import Measure
from store.knowledge.planned import Squad
from store.knowledge.units import unit_words
from store.knowledge.words import Person, Side
from tui.widgets import commands
from tui.widgets.bench_list import BenchLine, BenchList
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field_first import FieldFirst
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.pad_input import PadInput

FIRST = "lunge"
EVERY_S = 5.0  # how often it is looked whether somebody is due


class SidelineScreen(FieldFirst, Notices):
    """The people of one squad on the day."""

    WHERE = commands.SIDELINE
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.SIDELINE),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "#figures"
    HELP_TEXT = (
        "Type left and right of whoever is under the cursor, such as 10.2 9.8; enter keeps them and goes on to "
        "the next. The name of another measure, such as girth, turns to that one. Each is held against the "
        "person's own baseline, the last one before today, by the error between visits. F8 looks at somebody "
        "who is hurt; whose next look is due stands at the top. F9 takes back what was kept last."
    )
    DEFAULT_CSS = """
    SidelineScreen #ask { height: 1; padding: 0 1; margin: 1 0; }
    SidelineScreen #ask Static { width: auto; color: $quiet; }
    SidelineScreen #ask #how { width: 1fr; text-wrap: nowrap; text-overflow: ellipsis; }
    SidelineScreen #figures { width: 16; margin: 0 1; background: $sheet; color: $ink; }
    SidelineScreen #figures:nocolor { text-style: underline; }
    """

    def __init__(self, squad: str) -> None:
        super().__init__()
        self.squad_id = squad
        self.squad: Squad | None = None
        self.measure_id = FIRST
        self.rows: list[BenchRow] = []
        self.saved: Saved | None = None

    def compose(self) -> ComposeResult:
        """Head, the field, the people, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with Horizontal(id="ask"):
            yield Static(id="who")
            yield PadInput(leaves=frozenset(), id="figures")
            yield Static(id="how")
        yield BenchList()
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Look now and then whose next look is due."""
        self.set_interval(EVERY_S, self._show)

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self.read_afresh()

    def read_afresh(self) -> None:
        """As another window left it."""
        who = self.chosen
        try:
            self.squad = squads.squad(self.shell.care, self.squad_id)
            self.rows = sideline.bench(self.shell.care, self.squad_id, self.measure)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._show()
        self._go_to(who)

    def tick(self) -> None:
        """As everywhere; what was half typed for somebody who left the squad meanwhile goes to nobody else."""
        who = self.chosen
        super().tick()
        if who is not None and who.id not in self._ids():
            self.field.value = ""
            self.say(f"{visible(who.label)} is not in this squad any more; nothing half typed is kept.")

    def _ids(self) -> list[str]:
        return [row.person.id for row in self.rows]

    def _go_to(self, who: Person | None) -> None:
        """The cursor on the same person, wherever they stand now; on who comes next where they are gone."""
        ids = self._ids()
        at = ids.index(who.id) if who is not None and who.id in ids else self.people.cursor
        self.people.cursor = min(at, max(len(ids) - 1, 0))
        self._show_who()

    @property
    def measure(self) -> Measure:
        """What is measured now."""
        return self.shell.care.knowledge.measures[self.measure_id]

    @property
    def field(self) -> PadInput:
        """The one field."""
        return self.query_one(PadInput)

    @property
    def people(self) -> BenchList:
        """The people."""
        return self.query_one(BenchList)

    @property
    def chosen(self) -> Person | None:
        """Who is under the cursor."""
        row = self.people.chosen
        return next((one.person for one in self.rows if row is not None and one.person.id == row.key), None)

    def _show(self) -> None:
        now = self.shell.clock.now()
        self.people.rows = tuple(
            BenchLine(
                row.person.id,
                visible(row.person.label),
                _figures(row),
                row.says,
                row.worse,
                last_words(row.looks, now),
                any_due(row.looks, now),
            )
            for row in self.rows
        )
        measure, due = self.measure, sideline.due_words(self.rows, now)
        name = parts(
            ("squad ", mark(Role.QUIET)),
            (visible(self.squad.name) if self.squad else "", mark(Role.INK, bold=True)),
            (f"   {measure.name}", mark(Role.INK, bold=True)),
            (f", {unit_words(measure.unit)}", mark(Role.QUIET)),
        )
        clock = parts((due or time_text(now), mark(Role.NOW if due else Role.QUIET, bold=bool(due))))
        self.query_one(HeadLine).show((name, clock), (parts((sideline.DEFERS, mark(Role.QUIET))), parts()))
        self.query_one("#how", Static).update(sideline.how(measure))
        self._show_who()
        self.refresh_keys()

    def _show_who(self) -> None:
        who = self.chosen
        self.query_one("#who", Static).update(visible(who.label) if who else "nobody")

    # keys

    def keys_now(self) -> list[str | Command]:
        """Keep and go on, look at somebody, undo, back."""
        return [relabelled(get("open"), "keep, next"), relabelled(get("visit"), "who is hurt"), "undo", "back"]

    def why_not(self, command_id: str) -> str | None:
        """Somebody must be there, and something to undo."""
        if command_id in {"open", "visit"} and self.chosen is None:
            return "Nobody is in this squad yet: esc goes back, and F2 there adds somebody."
        if command_id == "undo" and self.saved is None:
            return "Nothing to undo: nothing was kept here just now."
        return None

    def action_move(self, by: int) -> None:
        """Another person."""
        self.people.cursor = min(max(self.people.cursor + by, 0), max(len(self.rows) - 1, 0))
        self._show_who()

    @on(BenchList.Clicked)
    def _clicked(self, event: BenchList.Clicked) -> None:
        self.people.cursor = event.at
        self._show_who()

    @on(PadInput.Entered)
    def _entered(self, event: PadInput.Entered) -> None:
        event.stop()
        for line in self.query(MessageLine):
            line.clear()
        reason = self.why_not("open")
        if reason:
            self.say(reason)
        else:
            self._take_in(event.value.strip())

    def do_open(self) -> None:
        """Take in what is in the field."""
        self.field.give()

    def _take_in(self, text: str) -> None:
        """Another measure, or the figures of whoever is under the cursor; nothing typed goes on to the next."""
        person, care = self.chosen, self.shell.care
        assert person is not None
        if not text:
            self.action_move(1)
            return
        about = f"{person.id} {text}"
        try:
            other = measure_named(care, text)
            if other is not None:
                self._turn(other)
                return
            self.saved = sideline.take(care, person, self.measure, text, sure=self.again.answered(about))
        except FAULTS as fault:
            self.again.ask(about)
            self.say(str(fault), Kind.WRONG)
            self.field.refuse(text)
            self.shell.drop_keys()
            return
        self.again.take_back()
        self.read_afresh()
        if self.chosen is not None and self.chosen.id == person.id:
            self.action_move(1)
        self.say(f"{visible(person.label)}: {self.saved.says}", Kind.SAVED, undo=True)

    def _turn(self, measure: Measure) -> None:
        self.measure_id, self.saved = measure.id, None
        self.read_afresh()
        self.say(f"{measure.long_name}: {'left, then right' if measure.paired else 'one value'}")

    def do_undo(self) -> None:
        """Take back what was kept last."""
        assert self.saved is not None
        try:
            says = sideline.take_back(self.shell.care, self.saved)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        back = self.saved.readings[0].person
        self.saved = None
        self.read_afresh()
        self._go_to(next((row.person for row in self.rows if row.person.id == back), None))
        self.say(says)

    def do_visit(self) -> None:
        """Look at whoever is under the cursor."""
        who = self.chosen
        assert who is not None
        self.shell.open(commands.CHECK, person=who.id)

    def do_back(self) -> None:
        """Empty the field, else go back."""
        if self.field.value:
            self.field.value = ""
        else:
            self.dismiss()


def _figures(row: BenchRow) -> tuple[str, str, str, str]:
    """Baseline left and right, today left and right; a measure without sides stands on the left."""
    own, today = row.baseline, row.today
    return (
        own.get(Side.LEFT, own.get(None, "")),
        own.get(Side.RIGHT, ""),
        today.get(Side.LEFT, today.get(None, "")),
        today.get(Side.RIGHT, ""),
    )
