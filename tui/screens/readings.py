"""Every reading of a person, or of one measure, the newest first, to be put right or taken out."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input

from store.care import putting_right
from store.care.dates import day_text
from store.care.faults import FAULTS, CareFault
from store.care.in_words import visible
from store.care.putting_right import Righted
from store.care.standing import standing
from store.knowledge.kinds import Measure
from store.knowledge.units import unit_words
from store.knowledge.words import Person, Reading, Side
from tui.screens.heads import who
from tui.widgets import commands
from tui.widgets.asked_line import AskedLine
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, Row, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.plan_list import PlanList, PlanRow, Stand

NONE = "No reading of this measure can be shown: none was taken, or the blind re-test is still to come."
NOTHING = "No reading of this person can be shown: none was taken, or the blind re-test is still to come."
_TITLE = parts(("put a reading right", mark(Role.QUIET)))


class Anew(AskedLine):
    """What is typed in place of a reading."""

    LABEL, FIELD, MOST, HOW = "instead", "anew", 120, "blanks between, or unable"
    HELP_TEXT = (
        "The values of this one reading, with blanks between them, or unable. When it was taken, in what and by "
        "whom stays as it is. Enter keeps it, and what stood before is kept too; esc leaves it as it was."
    )


class ReadingsScreen(OnePerson, Notices):
    """The readings of one measure, seen from an episode; or all of a person, seen from their page. What is put
    right here can be undone here, one after another.
    """

    WHERE = commands.READINGS
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.READINGS),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = ""
    HELP_TEXT = (
        "Every reading, the newest first, also of earlier visits, brought in from a table, or "
        "from before the injury. Up and down choose one; enter types its values anew, and the minus takes it "
        "out: for a slip of the hand or a wrong side. Before and after are the hands-on part. u undoes either, "
        "one after another. What stood before is kept in the file, and the page of sources (i) tells it. What a "
        "blind re-test hides is left out here until it is in."
    )
    DEFAULT_CSS = """
    ReadingsScreen PlanList { height: 1fr; }
    ReadingsScreen Anew Input { width: 32; }
    """

    def __init__(self, *, episode: str = "", measure: str = "", person: str = "") -> None:
        super().__init__()
        self.episode = episode
        self.measure_id = measure
        self.person_id = person
        self.person: Person | None = None
        self.rows: list[Reading] = []
        self.acts: list[Righted] = []

    def compose(self) -> ComposeResult:
        """Head, the readings, the line to type in, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield PlanList()
        yield RuleLine()
        yield Anew()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def measure_of(self, reading: Reading) -> Measure:
        """What was measured."""
        return self.shell.care.knowledge.measures[reading.measure]

    @property
    def chosen(self) -> Reading | None:
        """The reading under the cursor."""
        row = self.query_one(PlanList).chosen
        return next((one for one in self.rows if row is not None and one.id == row.key), None)

    def whom(self) -> Person | None:
        """Whose readings they are."""
        return self.person

    def _read(self) -> None:
        """The list afresh, the cursor on the reading it stood on, or on its place where that is gone."""
        plan = self.query_one(PlanList)
        was = plan.chosen.key if plan.chosen else ""
        try:
            head = self._read_person() if self.person_id else self._read_measure()
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.query_one(HeadLine).show(*head)
        ids = [one.id for one in self.rows]
        at = ids.index(was) if was in ids else min(plan.cursor, max(len(ids) - 1, 0))
        plan.show([_row(one, self.measure_of(one), named=bool(self.person_id)) for one in self.rows], at)
        if not self.rows:
            self.say(self._none)
        self.refresh_keys()

    def _read_measure(self) -> list[Row]:
        """The readings of one measure; who it is, in which episode, and the measure for the head."""
        care = self.shell.care
        measure, held = care.knowledge.measures[self.measure_id], standing(care, self.episode)
        self.person = held.person
        self.rows = putting_right.of_measure(care, held.person.id, measure)
        name = parts((measure.name, mark(Role.INK, bold=True)), (f"  {measure.long_name}", mark(Role.QUIET)))
        return [(who(held), _TITLE), (name, parts((unit_words(measure.unit), mark(Role.QUIET))))]

    def _read_person(self) -> list[Row]:
        """All readings of a person, whatever was measured; who it is for the head."""
        care = self.shell.care
        self.person = person = care.person(self.person_id)
        self.rows = putting_right.of_person(care, person.id)
        return [(parts((visible(person.label), mark(Role.INK, bold=True))), _TITLE)]

    @property
    def _none(self) -> str:
        return NOTHING if self.person_id else NONE

    # keys

    def keys_now(self) -> list[str | Command]:
        """Put right, take out, undo; or what is done in the line."""
        if self.query_one(Anew).display:
            return [relabelled(get("open"), "keep it"), relabelled(get("back"), "leave as it was")]
        enter, less = relabelled(get("open"), "put right"), relabelled(get("less"), "take out")
        return [enter, less, "undo", "back", self.only_key()]

    def why_not(self, command_id: str) -> str | None:
        """A reading must be under the cursor, and there must be something to undo."""
        if command_id in ("open", "less") and self.chosen is None:
            return self._none
        if command_id == "undo" and not self.acts:
            return "Nothing to undo: nothing was put right or taken out here since this screen was opened."
        return None

    def action_move(self, by: int) -> None:
        """The reading above or below."""
        if not self.query_one(Anew).display:
            self.query_one(PlanList).move(by)
            self.refresh_keys()

    @on(PlanList.Clicked)
    def _clicked(self, event: PlanList.Clicked) -> None:
        if not self.query_one(Anew).display:
            self.query_one(PlanList).cursor = event.at
            self.refresh_keys()

    def do_open(self) -> None:
        """Type the values of a reading anew, or keep what was typed."""
        line, reading = self.query_one(Anew), self.chosen
        assert reading is not None
        if line.display:
            self._keep(reading, line.query_one(Input).value)
            return
        if reading.bout is not None:
            self.say("This value was timed: the minus takes it out; time or measure it anew then.", Kind.WRONG)
            return
        line.begin()
        field = line.query_one(Input)
        field.value = putting_right.typed(reading, self.measure_of(reading))
        field.cursor_position = len(field.value)
        self.again.take_back()
        self.refresh_keys()

    @on(Input.Submitted, "#anew")
    def _typed(self, event: Input.Submitted) -> None:
        event.stop()
        self.do_open()

    def _keep(self, reading: Reading, text: str) -> None:
        """Put the reading right; what is unusual is asked about once."""
        care = self.shell.care
        try:
            entry = putting_right.anew(care, reading, self.measure_of(reading), text)
            if entry.asks and not self.again.confirms(text):
                raise CareFault(f"{entry.asks[0]} Enter again keeps it.")
            act = putting_right.put_right(care, reading, entry)
        except FAULTS as fault:
            self.shell.drop_keys()
            self.say(str(fault), Kind.WRONG)
            return
        self.query_one(Anew).end()
        self._done(act)

    def do_less(self) -> None:
        """Take the reading under the cursor out."""
        reading = self.chosen
        assert reading is not None
        try:
            act = putting_right.take_out(self.shell.care, reading, self.measure_of(reading))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._done(act)

    def _done(self, act: Righted) -> None:
        self.acts.append(act)
        self._read()
        self.say(act.says, Kind.SAVED, undo=True)

    def do_undo(self) -> None:
        """Give back what stood before the last of them."""
        act = self.acts.pop()
        try:
            says = putting_right.put_back(self.shell.care, act, self.measure_of(act.now))
        except FAULTS as fault:
            if not isinstance(fault, CareFault):  # the file could not be written to: u tries again
                self.acts.append(act)
            self.say(str(fault), Kind.WRONG)
            return
        self._read()
        self.say(says, Kind.SAVED)

    def do_back(self) -> None:
        """Leave the line, then the screen."""
        if self.query_one(Anew).display:
            self.query_one(Anew).end()
            self.refresh_keys()
        else:
            self.app.pop_screen()


def _row(reading: Reading, measure: Measure, *, named: bool) -> PlanRow:
    """A reading; `named`: what was measured stands with it."""
    day = day_text(reading.taken.on) + (f", {reading.moment.value}" if reading.moment else "")
    says = putting_right.says_of(reading, measure)
    name, says = (measure.name, f"{day}: {says}") if named else (day, says)
    return PlanRow(reading.id, name, says, Stand.OPEN, right=reading.side is Side.RIGHT)
