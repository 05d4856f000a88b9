"""One squad: its people, with or without an injury; who is typed is found, taken in, or added as a new person."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Input

from store.care import squads
from store.care.caseload import CaseloadRow
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.squads import Joined
from store.knowledge.planned import Squad
from tui.widgets import commands
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.finding import Finding
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.pad_input import PadInput

NOBODY = "Nobody is in this squad yet: type a label, then enter takes somebody in and F2 adds a new person."


class LabelField(PadInput):
    """The field. While it is empty the minus is no text: it takes somebody out of the squad."""

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Whether a key is text here."""
        return not self._leaves_minus(key) and super().check_consume_key(key, character)

    def _leaves_minus(self, key: str) -> bool:
        self.leaves = frozenset() if self.value else frozenset(get("less").keys)
        return key in self.leaves


class SquadScreen(Finding, Notices):
    """The people of one squad."""

    WHERE = commands.SQUAD
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.SQUAD)
    HELP_TEXT = (
        "The people of a squad. Enter opens whoever is under the cursor: the ankle that is cared for, or the page "
        "of a person without an injury. Type a part of a label: people of the record who are not in the squad are "
        "listed too, and enter takes them in. F2 adds a new person of the label that was typed, uninjured. "
        "While nothing is typed, the minus takes whoever is under the cursor out of the squad; all that is known "
        "of them stays. F6 measures all of them at the sideline, and looks at whoever is hurt there."
    )

    def __init__(self, squad: str) -> None:
        super().__init__()
        self.squad_id = squad
        self.squad: Squad | None = None
        self.rows: dict[str, CaseloadRow] = {}
        self.outside: frozenset[str] = frozenset()
        self.joined: Joined | None = None

    def compose(self) -> ComposeResult:
        """Head, the field, the people, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield self.asked("find or add", LabelField)
        yield Chooser([])
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self.find()

    def read_afresh(self) -> None:
        """As another window left it."""
        self.find()

    def on_screen_suspend(self) -> None:
        """What was done before another screen was opened is no longer the last thing."""
        self.joined = None

    def find(self) -> None:
        """List the people with that in their labels: the squad's own, then others."""
        care, find = self.shell.care, self.typed.value
        try:
            self.squad = squad = squads.squad(care, self.squad_id)
            own, others = squads.people_of(care, squad.id, find), squads.others(care, squad.id, find)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        chooser = self.chooser
        held = chooser.chosen.id if chooser.chosen else ""
        self.rows = {row.person: row for row in (*own, *others)}
        self.outside = frozenset(row.person for row in others)
        chooser.shown = tuple(self._option(row) for row in self.rows.values())
        chooser.cursor = list(self.rows).index(held) if held in self.rows else 0
        self._show_head(squad, len(own), squads.size(care, squad.id) if find.strip() else len(own))
        if not self.rows:
            self.say(f"Nobody has {find.strip()} in the label: F2 adds a new person." if find.strip() else NOBODY)
        self.refresh_keys()

    def _show_head(self, squad: Squad, shown: int, of: int) -> None:
        name = parts(("squad ", mark(Role.QUIET)), (visible(squad.name), mark(Role.INK, bold=True)))
        count = "1 person" if of == 1 else f"{of} people"
        count = f"{shown} of {count}" if shown != of else count
        self.query_one(HeadLine).show((name, parts((count, mark(Role.QUIET)))))

    def _option(self, row: CaseloadRow) -> Option:
        """A line: the label, then what is known."""
        says = f"{row.injured_side} ankle, {visible(row.injury)}" if row.episode else "no episode"
        says += ", closed" if row.episode and not row.is_open else ""
        says += f"   next visit {row.next_long}" if row.next_long else ""
        return Option(
            row.person, visible(row.label), f"enter takes in: {says}" if row.person in self.outside else says
        )

    # keys

    @property
    def chosen(self) -> CaseloadRow | None:
        """Who is under the cursor."""
        option = self.chooser.chosen
        return self.rows.get(option.id) if option is not None else None

    def keys_now(self) -> list[str | Command]:
        """Open or take in, add, take out, undo, back."""
        row = self.chosen
        enter = "take in" if row is not None and row.person in self.outside else "open"
        return [
            relabelled(get("open"), enter), relabelled(get("new"), "new person"),
            relabelled(get("measure"), "sideline"), relabelled(get("less"), "take out"), "undo", "back", "jump",
        ]  # fmt: skip

    def why_not(self, command_id: str) -> str | None:
        """Somebody must be under the cursor, and there must be something to undo."""
        if command_id in ("open", "less") and self.chosen is None:
            return "Nobody is under the cursor: type a label, and F2 adds a new person."
        if command_id == "undo" and self.joined is None:
            return "Nothing to undo: nobody was taken in or out here just now."
        return None

    def moved(self) -> None:
        """Enter opens one of the squad, and takes in another."""
        self.refresh_keys()

    # what it does

    def do_open(self) -> None:
        """Open whoever is under the cursor, or take them into the squad."""
        row = self.chosen
        assert row is not None
        if row.person in self.outside:
            self._join(lambda squad: squads.add(self.shell.care, squad, self.shell.care.person(row.person)))
        elif row.episode is not None and row.is_open:
            self.shell.open(commands.EPISODE, episode=row.episode)
        else:
            self.shell.open(commands.PAGE, person=row.person)

    def do_measure(self) -> None:
        """All of the squad at the sideline."""
        self.shell.open(commands.SIDELINE, squad=self.squad_id)

    def do_new(self) -> None:
        """A new person of the label that was typed."""
        label = self.typed.value
        self._join(lambda squad: squads.add_new(self.shell.care, squad, label))

    def do_less(self) -> None:
        """Take whoever is under the cursor out of the squad."""
        row = self.chosen
        assert row is not None
        self._join(lambda squad: squads.remove(self.shell.care, squad, self.shell.care.person(row.person)))

    def _join(self, act: Callable[[Squad], Joined]) -> None:
        if self.squad is None:
            return
        try:
            self.joined = act(self.squad)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        with self.prevent(Input.Changed):
            self.typed.value = ""
        self.find()
        self.say(self.joined.says, Kind.SAVED, undo=True)

    def do_undo(self) -> None:
        """Take back having taken somebody in or out."""
        assert self.joined is not None
        try:
            says = squads.take_back(self.shell.care, self.joined)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.joined = None
        self.find()
        self.say(says, Kind.SAVED)
