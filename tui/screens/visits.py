"""The visits of an episode, newest first, and days without one: a list, and beside or below it the one chosen."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical, VerticalScroll

from store.care.dates import day_text
from store.care.faults import FAULTS
from store.care.past_days import FROM_A_TABLE, PastDay, came_from, day_sections, past_days, week_text
from store.care.past_visits import minutes_of, past_visit, visits_that_count
from store.care.past_words import line_says, sections_of, title
from store.care.standing import Standing, standing
from store.care.statements import Section, Statement
from store.knowledge.words import Person, Visit
from tui.screens.heads import head_rows
from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.head_line import HeadLine, RuleLine
from tui.widgets.key_line import KeyLine
from tui.widgets.message_line import MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.plan_list import PlanList, PlanRow, Stand
from tui.widgets.read_on import read_on

WALK = Command("walk", ("up", "down"), "other visit", "Another visit.", "figures", shown="↑ ↓", each=True)
"""Stands in the key line alone: the arrows walk every list."""
ABOUT = 20  # cells for the names of activities
NONE_YET = (Section("no visit yet", (Statement("", "esc goes back, and v starts the visit there"),)),)


class VisitsScreen(OnePerson, Notices):
    """What was said, measured and timed in each visit. It keeps nothing but where the cursor stands."""

    WHERE = commands.VISITS
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.VISITS),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = ""
    HELP_TEXT = (
        "The visits of this episode, the newest first; one in which nothing was said, measured or timed is none. "
        "A day on which readings were brought in from a table stands among them. "
        "Up and down choose one, page down and page up read on in it. Of a visit that goes on, what came before a "
        "blind re-test stays hidden until the re-test is in. A value that was typed wrong is put right from its "
        "chart: g on the episode, then e."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    VisitsScreen #body { height: 1fr; layout: vertical; }
    VisitsScreen #list { height: 6; }
    VisitsScreen #list PlanList { height: 5; max-width: 58; }
    VisitsScreen VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    VisitsScreen.-wide #body { layout: horizontal; }
    VisitsScreen.-wide #list { height: 1fr; width: 44; border-right: solid $faint; padding-top: 1; }
    VisitsScreen.-wide #list PlanList { height: 1fr; }
    VisitsScreen.-wide #list RuleLine { display: none; }
    VisitsScreen.-wide VerticalScroll { padding: 1 0 0 1; }
    """

    def __init__(self, episode: str) -> None:
        super().__init__()
        self.episode = episode
        self.held: Standing | None = None
        self.visits: list[Visit] = []
        self.days: tuple[PastDay, ...] = ()

    def compose(self) -> ComposeResult:
        """Head, the list, the visit that is chosen, the keys."""
        yield HeadLine()
        yield RuleLine()
        with Container(id="body"):
            with Vertical(id="list"):
                yield PlanList()
                yield RuleLine()
            with VerticalScroll(can_focus=False):
                yield PageOfWords(about=ABOUT)
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def _read(self) -> None:
        """The list afresh, the cursor on the visit it stood on."""
        care, plan = self.shell.care, self.query_one(PlanList)
        chosen = plan.chosen.key if plan.chosen else ""
        try:
            self.held = held = standing(care, self.episode)
            self.visits, self.days = visits_that_count(care, held.episode), past_days(care, held.episode)
        except FAULTS as fault:
            self.query_one(PageOfWords).show((Section("nothing can be told", (Statement("why", str(fault)),)),))
            return
        self.query_one(HeadLine).show(*head_rows(held)[:1])
        dated = [(visit.started.on, _row(visit, held)) for visit in self.visits]
        dated += [(day.on, _day_row(day, held)) for day in self.days]
        dated.sort(key=lambda one: one[0], reverse=True)
        rows = [row for _, row in dated]
        keys = [row.key for row in rows]
        plan.show(rows, keys.index(chosen) if chosen in keys else 0)
        self._show_chosen(chosen)

    def _show_chosen(self, was: str = "") -> None:
        """All of the visit under the cursor, from its top where it is another one than before."""
        page, chosen = self.query_one(PageOfWords), self.query_one(PlanList).chosen
        if chosen is None or self.held is None:
            page.show(NONE_YET)
            return
        if chosen.key != was:
            self.query_one(VerticalScroll).scroll_home(animate=False)
        day = next((one for one in self.days if _key(one) == chosen.key), None)
        if day is not None:
            page.show(day_sections(day, self.held.episode))
            return
        try:
            past = past_visit(self.shell.care, self.shell.care.visit(chosen.key), self.held.episode)
        except FAULTS as fault:
            page.show((Section("this visit cannot be told", (Statement("why", str(fault)),)),))
            return
        page.show((Section(title(past), ()), *sections_of(past)))

    @on(PlanList.Clicked)
    def _clicked(self, event: PlanList.Clicked) -> None:
        self.query_one(PlanList).cursor = event.at
        self._show_chosen()

    # keys

    def keys_now(self) -> list[str | Command]:
        """To another visit, on in this one, and back."""
        return [WALK, "read", "back", self.only_key()]

    def whom(self) -> Person | None:
        """The person whose visits they are."""
        return self.held.person if self.held is not None else None

    def action_move(self, by: int) -> None:
        """The row above or below."""
        plan = self.query_one(PlanList)
        was = plan.chosen.key if plan.chosen else ""
        plan.move(by)
        self._show_chosen(was)

    def do_read(self, key: str) -> None:
        """A page on, or back."""
        read_on(self.query_one(VerticalScroll), key)


def _key(day: PastDay) -> str:
    return f"day {day.on}"


def _day_row(day: PastDay, held: Standing) -> PlanRow:
    name, week = day_text(day.on, weekday=True), week_text(day.on, held.episode)
    tabled = any(came_from(one) == FROM_A_TABLE for one in day.readings)
    return PlanRow(_key(day), name, week, Stand.OPEN, beside="table" if tabled else "typed")


def _row(visit: Visit, held: Standing) -> PlanRow:
    current = held.open_visit
    goes_on = current is not None and current.id == visit.id
    says = line_says(visit, held.episode, goes_on=goes_on)
    took = round(minutes_of(visit) or 0)
    return PlanRow(visit.id, day_text(visit.started.on, weekday=True), says, Stand.OPEN, took)
