"""The caseload: who is next and who is stuck. What is typed finds people; enter opens what the cursor is on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.timer import Timer
from textual.widgets import Input, Static

from store.care import caseload as listing
from store.care.caseload import CaseloadCount, CaseloadRow
from store.care.dates import day_text, time_text
from store.care.faults import FAULTS
from store.care.invented import is_invented
from store.care.own_settings import fault_line
from store.care.visible import visible
from store.knowledge.words import Person
from tui.widgets import commands
from tui.widgets.caseload_list import CaseloadList
from tui.widgets.commands import Command
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.plain_input import PlainInput

PAGE = 60
"""Rows read at a time; the next ones are read when the cursor comes near the last."""

RECALLS = 99
"""Recalls that are looked for; where there are more of them, that is said."""

FIRST_GAP_S, NEXT_GAP_S, BLINK_S = 0.05, 0.005, 0.015
"""The rows are painted before the first gap is worked out, and a key comes in before the next ones."""

_ARROWS: tuple[tuple[str, str], ...] = (
    ("up", "move(-1)"), ("down", "move(1)"), ("pageup", "page(-1)"), ("pagedown", "page(1)"),
    ("ctrl+home", "move(-1000000)"), ("ctrl+end", "move(1000000)"),
)  # fmt: skip


class CaseloadScreen(OnePerson, Notices):
    """The list of people with an open episode."""

    WHERE = commands.CASELOAD
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.CASELOAD),
        *(Binding(key, act, show=False) for key, act in _ARROWS),
    ]
    AUTO_FOCUS = "#find"
    HELP_TEXT = (
        "Type a part of a label to find somebody, or of the sport or goal of an open episode; up and down choose, "
        "enter opens. The widest gap is the largest in multiples of its own measurement error (MDC). Weeks count "
        "from the injury, the first is 1. ! stands before whoever was not screened for safety yet, or has a "
        "referral that nobody has settled. The line under a person names a measure that has come to a stand. "
        "Whose recall after discharge is due stands below the open ones. Letters are text here: "
        "F8 starts the visit."
    )
    DEFAULT_CSS = """
    CaseloadScreen #search { height: 1; padding: 0 1; }
    CaseloadScreen #search Static { width: auto; }
    CaseloadScreen #find {
        width: 1fr; margin: 0 2 0 1; background: $ground; color: $ink;
    }
    """

    def __init__(self) -> None:
        super().__init__()
        self.closed_too = False
        self.invented = False
        self.counted: CaseloadCount | None = None
        self._filling: Timer | None = None
        self.recalls: tuple[CaseloadRow, ...] = ()

    def compose(self) -> ComposeResult:
        """Head, the field, the list, messages, the keys."""
        yield HeadLine()
        with Horizontal(id="search"):
            yield Static(parts(("find", mark(Role.QUIET))))
            yield PlainInput(id="find")
            yield Static(id="count")
        yield RuleLine()
        yield CaseloadList()
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Say what is wrong with the settings."""
        wrong = fault_line(self.shell.care.settings)
        if wrong:
            self.say(wrong, Kind.WRONG)

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top, to show whom it was left to show."""
        if self.shell.only is not None:
            self.only_changed()
        else:
            self._read(keep=True)

    def on_screen_suspend(self) -> None:
        """What was said before another screen is stale after it."""
        self.query_one(MessageLine).clear()

    # reading

    @property
    def people(self) -> CaseloadList:
        """The rows."""
        return self.query_one(CaseloadList)

    def tick(self) -> None:
        """Keep the time on show, and read again when another window has written."""
        self._show_head()
        super().tick()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read(keep=True)

    def _read(self, *, keep: bool) -> None:
        """Read the rows and counts afresh; the gaps follow once the rows are painted."""
        self.people.gaps = {}
        self._show_head()
        self._find(keep=keep)
        try:
            counted = listing.count(self.shell.care)
            self.invented = is_invented(self.shell.care)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.counted = counted
        self._show_count()
        self._show_head()
        self.set_timer(FIRST_GAP_S, self._read_recalls)

    def _show_count(self) -> None:
        """How many are open, were seen today and are to be called back; nothing while one person is shown."""
        due, counted = len(self.recalls), self.counted
        many = f"more than {RECALLS}" if due > RECALLS else f"{due}"
        text = f"{counted.open} open, {counted.seen_today} seen today" if counted is not None else ""
        recalls = f", {many} recall{'' if due == 1 else 's'} due" if due else ""
        pieces = [(text, mark(Role.QUIET)), (recalls, mark(Role.INK))] if not self.shell.only else []
        self.query_one("#count", Static).update(parts(*pieces))

    def _read_recalls(self) -> None:
        """Whose recall is due, once the rows are painted: they stand below the open ones."""
        if not self.is_current:
            return
        before = self.recalls
        try:
            self.recalls = listing.recall_rows(self.shell.care, RECALLS + 1)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        if self.recalls != before:
            self._show_count()
            self._find(keep=True)

    def _find(self, *, keep: bool) -> None:
        wanted = max(PAGE, len(self.people.rows)) if keep else PAGE
        rows = self._rows(wanted, ())
        self.people.show(rows, keep=keep)
        if not rows:
            self.people.empty = self._empty_text()
        self._fill_gaps()
        self.refresh_keys()

    def _rows(self, wanted: int, there: Sequence[CaseloadRow]) -> tuple[CaseloadRow, ...]:
        """So many more rows after those that are there."""
        only = self.shell.only.id if self.shell.only is not None else ""
        find = self.query_one(Input).value
        try:
            rows = listing.more_rows(self.shell.care, there, wanted, find, closed_too=self.closed_too, only=only)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return ()
        if self.closed_too:
            return listing.with_recalls(rows, self.recalls)
        if len(rows) < wanted:
            shown = {row.episode for row in there}
            due = listing.those_holding(self.recalls[:RECALLS], find, only)
            rows = (*rows, *(row for row in due if row.episode not in shown))
        return rows

    def _read_more(self) -> None:
        """The next page, when the cursor comes near the end of what was read."""
        rows = self.people.rows
        if len(rows) % PAGE or self.people.cursor + self.people.room < len(rows):
            return
        more = self._rows(PAGE, rows)
        if more:
            self.people.show((*rows, *more), keep=True)

    def _fill_gaps(self) -> None:
        """Work out gaps a few at a time, for rows in sight only, with paint and keys let in between."""
        if self._filling is not None:
            self._filling.stop()
        self._filling = self.set_timer(FIRST_GAP_S, self._fill_some)

    def _unfilled(self) -> list[CaseloadRow]:
        gaps = self.people.gaps
        return [row for row in self.people.in_sight if row.is_open and row.episode and row.episode not in gaps]

    def _fill_some(self) -> None:
        """As many gaps as a blink allows, then one paint for all of them."""
        if not self.is_current:
            return
        clock, gaps, flats = self.shell.clock, dict(self.people.gaps), dict(self.people.flats)
        until = clock.ticks() + BLINK_S
        for row in self._unfilled():
            gaps[row.episode or ""], flats[row.episode or ""] = self._gap_of(row)
            if clock.ticks() >= until:
                break
        if len(gaps) > len(self.people.gaps):
            self.people.gaps = gaps
            self.people.flats = {episode: words for episode, words in flats.items() if words}
            self._filling = self.set_timer(NEXT_GAP_S, self._fill_some)

    def _gap_of(self, row: CaseloadRow) -> tuple[str, str]:
        """The widest gap of an episode, and what has come to a stand."""
        care, episode = self.shell.care, row.episode or ""
        try:
            return listing.widest_gap(care, episode), listing.flat_words(care, episode)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return "cannot be read", ""

    @on(CaseloadList.Moved)
    def _moved(self) -> None:
        self._read_more()
        self._fill_gaps()
        self.refresh_keys()

    @on(Input.Changed, "#find")
    def _typed(self) -> None:
        self.query_one(MessageLine).clear()
        self._find(keep=False)

    # what it shows

    def _show_head(self) -> None:
        now = self.shell.clock.now()
        when = parts((f"{day_text(now.on, weekday=True)}  ", mark(Role.QUIET)), (time_text(now), mark(Role.INK)))
        clinic = self.shell.care.settings.clinic
        what = f"   {clinic}" if clinic else ""
        what += "   invented people" if self.invented else ""
        only = self.shell.only
        what = f"   only {visible(only.label)} is shown" if only is not None else what
        self.query_one(HeadLine).show(
            (parts(("bothfeet", mark(Role.INK, bold=True)), (what, mark(Role.QUIET))), when)
        )

    def _empty_text(self) -> str:
        find = self.query_one(Input).value.strip()
        if self.shell.only is not None:
            closed = "" if self.closed_too else "\nF5 shows the closed episodes too."
            return f"{self.only_says()}{closed}"
        if find:
            elsewhere = "" if self.closed_too else " F5 looks among the closed ones too."
            nor = ", nor a sport or a goal" if len(find) >= listing.LEAST_WORD else ""
            return f"Nobody here has a label with {find} in it{nor}.\nF2 adds a new person.{elsewhere}"
        if self.closed_too or not listing.caseload(self.shell.care, closed=True, limit=1):
            care = self.shell.care
            new = f"\n\nA new record: {care.path}\nIf another was meant, ctrl+q leaves this one empty."
            first = "Nobody is in this record yet.\nF2 adds the first person and the injured ankle."
            return f"{first}{new if care.newly_made else ''}"
        return "No episode is open.\nF2 adds a person and the injured ankle; F5 shows the closed ones."

    def keys_now(self) -> list[str | Command]:
        """The keys that arrive where the field has the focus."""
        closed = commands.get("closed")._replace(label="hide closed" if self.closed_too else "closed")
        if self.shell.only is not None:
            return ["open", "visit", self.only_key(), closed]
        return ["open", "new", "visit", closed, "squads", "jump", "practice", "only"]

    def why_not(self, command_id: str) -> str | None:
        """Open and visit need somebody under the cursor."""
        if command_id in ("new", "squads", "practice") and self.shell.only is not None:
            return self.only_says()
        if command_id not in ("open", "visit"):
            return None
        row = self.people.chosen
        if row is None:
            return self.only_says() or "Nobody is in the list: F2 adds a person, esc empties the field."
        if command_id == "visit" and row.episode is None:
            return f"{visible(row.label)} has no episode: enter opens what is known, and a new episode there."
        if command_id == "visit" and not row.is_open:
            return f"The episode of {visible(row.label)} is closed: enter opens it to look at."
        return None

    # what it does

    def action_move(self, by: int) -> None:
        """Move the cursor by rows."""
        self.people.move(by)

    def action_page(self, by: int) -> None:
        """Move the cursor by what is in sight."""
        self.people.move(by * self.people.room)

    @on(Input.Submitted, "#find")
    @on(CaseloadList.Opened)
    def _entered(self) -> None:
        self.action_do("open")

    def do_open(self) -> None:
        """Open the episode under the cursor."""
        row = self.people.chosen
        assert row is not None
        if row.episode is None:
            self.shell.open(commands.PAGE, person=row.person)
        else:
            self.shell.open(commands.EPISODE, episode=row.episode)

    def do_squads(self) -> None:
        """The squads."""
        self.shell.open(commands.SQUADS)

    def do_practice(self) -> None:
        """What can be practised."""
        self.shell.open(commands.PRACTICE)

    def whom(self) -> Person | None:
        """The person under the cursor."""
        row = self.people.chosen
        return self.shell.care.person(row.person) if row is not None else None

    def only_changed(self) -> None:
        """The rows and the counts afresh; what was typed may be another's label."""
        with self.prevent(Input.Changed):
            self.query_one(Input).value = ""
        self._read(keep=True)

    def do_new(self) -> None:
        """A new person; what was typed to find them is their label."""
        self.shell.open(commands.PERSON, label=self.query_one(Input).value.strip())

    def do_closed(self) -> None:
        """Show the closed ones too, or hide them."""
        self.closed_too = not self.closed_too
        self._find(keep=True)

    def do_visit(self) -> None:
        """Start the visit of the person under the cursor, or go back into it."""
        row = self.people.chosen
        assert row is not None
        assert row.episode is not None
        from store.care import visits  # not for the first paint

        care = self.shell.care
        try:
            visit = visits.start_visit(care, care.episode(row.episode))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.shell.open(commands.VISIT, visit=visit.id)

    def do_back(self) -> None:
        """Empty the field; this is the first screen, so there is nothing behind it."""
        field = self.query_one(Input)
        if field.value:
            field.value = ""
        else:
            self.say("This is the first screen: ctrl+q closes the program.")
