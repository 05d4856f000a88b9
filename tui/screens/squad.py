"""One squad: its people, with or without an injury; who is typed is found, taken in, or added as a new person."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from store.care import squads
from store.care.caseload import CaseloadRow
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.squads import Joined
from store.knowledge.planned import Squad
from tui.widgets import commands
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field_first import FieldFirst
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


class SquadScreen(FieldFirst, Notices):
    """The people of one squad."""

    WHERE = commands.SQUAD
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.SQUAD),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "#label"
    HELP_TEXT = (
        "The people of a squad. Enter opens whoever is under the cursor: the ankle that is cared for, or the page "
        "of a person without an injury. Type a part of a label: people of the record who are not in the squad are "
        "listed too, and enter takes them in. F2 adds a new person of the label that was typed, uninjured. "
        "While nothing is typed, the minus takes whoever is under the cursor out of the squad; all that is known "
        "of them stays."
    )
    DEFAULT_CSS = """
    SquadScreen #ask { height: 1; padding: 0 1; margin: 1 0; }
    SquadScreen #ask Static { width: auto; color: $quiet; }
    SquadScreen #label { width: 1fr; margin: 0 1; background: $sheet; color: $ink; }
    SquadScreen #label:nocolor { text-style: underline; }
    """

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
        with Horizontal(id="ask"):
            yield Static("find or add")
            yield LabelField(leaves=frozenset(), keeps=True, id="label")
        yield Chooser([])
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def on_screen_suspend(self) -> None:
        """What was done before another screen was opened is no longer the last thing."""
        self.joined = None

    def _read(self) -> None:
        care, find = self.shell.care, self.query_one(LabelField).value
        try:
            self.squad = squad = squads.squad(care, self.squad_id)
            own, others = squads.people_of(care, squad.id, find), squads.others(care, squad.id, find)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        chooser = self.query_one(Chooser)
        held = chooser.chosen.id if chooser.chosen else ""
        self.rows = {row.person: row for row in (*own, *others)}
        self.outside = frozenset(row.person for row in others)
        chooser.shown = tuple(self._option(row) for row in self.rows.values())
        chooser.cursor = list(self.rows).index(held) if held in self.rows else 0
        self._show_head(squad, len(own))
        if not self.rows:
            self.say(f"Nobody has {find.strip()} in the label: F2 adds a new person." if find.strip() else NOBODY)
        self.refresh_keys()

    def _show_head(self, squad: Squad, shown: int) -> None:
        name = parts(("squad ", mark(Role.QUIET)), (visible(squad.name), mark(Role.INK, bold=True)))
        count = "1 person" if shown == 1 else f"{shown} people"
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
        option = self.query_one(Chooser).chosen
        return self.rows.get(option.id) if option is not None else None

    def keys_now(self) -> list[str | Command]:
        """Open or take in, add, take out, undo, back."""
        row = self.chosen
        enter = "take in" if row is not None and row.person in self.outside else "open"
        return [
            relabelled(get("open"), enter), relabelled(get("new"), "new person"),
            relabelled(get("less"), "take out"), "undo", "back", "jump",
        ]  # fmt: skip

    def why_not(self, command_id: str) -> str | None:
        """Somebody must be under the cursor, and there must be something to undo."""
        if command_id in ("open", "less") and self.chosen is None:
            return "Nobody is under the cursor: type a label, and F2 adds a new person."
        if command_id == "undo" and self.joined is None:
            return "Nothing to undo: nobody was taken in or out here just now."
        return None

    @on(Input.Changed, "#label")
    def _typed(self) -> None:
        self.query_one(MessageLine).clear()
        self._read()

    @on(PadInput.Entered)
    def _entered(self, event: PadInput.Entered) -> None:
        event.stop()
        self.action_do("open")

    @on(Chooser.Clicked)
    def _clicked(self) -> None:
        self.action_do("open")

    def action_move(self, by: int) -> None:
        """Move the cursor."""
        self.query_one(Chooser).move(by)
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

    def do_new(self) -> None:
        """A new person of the label that was typed."""
        label = self.query_one(LabelField).value
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
            self.query_one(LabelField).value = ""
        self._read()
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
        self._read()
        self.say(says, Kind.SAVED)

    def do_back(self) -> None:
        """Empty the field, else go back."""
        field = self.query_one(LabelField)
        if field.value:
            field.value = ""
        else:
            self.app.pop_screen()
