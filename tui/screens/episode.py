"""Where one ankle stands: the mirrored table, the gap chart of the measure under the cursor, and what it means."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from store.care import visits
from store.care.ahead_words import count_text, next_text
from store.care.charted import charted
from store.care.compared import since_first_text
from store.care.dates import day_text, time_text
from store.care.faults import FAULTS
from store.care.foreseeing import curve, foresee
from store.care.measured import MeasureStanding
from store.care.recall import next_recall, tail_of
from store.care.stages import coming_stage, reached_last, stage_standing
from store.care.standing import Standing, standing
from store.knowledge.words import Person, Visit
from tui.screens.amending import Amending
from tui.screens.appointing import NextVisit
from tui.screens.figures import chart_data, mirror_row, shown_measures
from tui.screens.heads import head_rows
from tui.screens.spraining import NewSprain, Spraining
from tui.widgets import commands
from tui.widgets.asks_first import AsksFirst
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.gap_chart import GapChart
from tui.widgets.head_line import HeadLine, Row, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import FLAG, Role, mark, verdict_mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.mirror import MirrorTable
from tui.widgets.notices import Notices

EMPTY = "Nothing has been measured yet: v starts the visit."
EMPTY_CLOSED = "Nothing was measured in this episode."
EMPTY_IN_VISIT = "Nothing has been measured yet: v goes back into the visit, m measures."
WIDE = 110  # columns from which there is room for more words
_NEEDS_ROW = ("chart", "source", "open")


class EpisodeScreen(Amending, Spraining, AsksFirst, Notices):
    """One episode. It reads its standing whenever something may have changed, and keeps nothing else."""

    WHERE = commands.EPISODE
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.EPISODE)
    AUTO_FOCUS = "MirrorTable"
    HELP_TEXT = (
        "The table shows the latest reading that counts of each side: before the hands-on part, or unmarked. The "
        "gap is the injured side against its reference, in a word. The last column is the change since the first "
        "reading: ▲ clear gain, ▼ clear loss, ≈ within measurement error, ○ error unknown. Days ago "
        "behind a name: nothing fresh is known of it. One measure is the main one; the others are secondary. i "
        "tells where a figure comes from."
    )
    VERTICAL_BREAKPOINTS = [(0, "-low"), (24, "-mid"), (32, "-tall")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    EpisodeScreen MirrorTable { max-height: 5; }
    EpisodeScreen.-mid MirrorTable { max-height: 6; }
    EpisodeScreen.-tall MirrorTable { max-height: 16; }
    EpisodeScreen GapChart { min-height: 3; }
    EpisodeScreen #told { height: 2; }
    EpisodeScreen #unknown { height: 1; padding: 0 1; }
    EpisodeScreen #unknown, EpisodeScreen #under { display: none; }
    EpisodeScreen.-mid #under, EpisodeScreen.-tall #under { display: block; }
    """

    def __init__(self, episode: str, message: str = "") -> None:
        super().__init__()
        self.episode = episode
        self.message = message
        self.held: Standing | None = None

    def compose(self) -> ComposeResult:
        """Head, table, chart, what it means, messages, keys."""
        yield HeadLine(id="head")
        yield RuleLine()
        yield MirrorTable()
        yield RuleLine()
        yield GapChart()
        yield RuleLine(id="under")
        yield Static(id="unknown")
        yield HeadLine(id="told")
        yield NextVisit()
        yield NewSprain()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Say what was just done."""
        if self.message:
            self.say(self.message, Kind.SAVED)

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def on_screen_suspend(self) -> None:
        """What was saved stays said; other words are stale."""
        line = self.query_one(MessageLine)
        if line.said.kind is not Kind.SAVED:
            line.clear()
        self.last_act = None

    # reading

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def _read(self) -> None:
        """Read the standing afresh and show it."""
        try:
            self.held = held = standing(self.shell.care, self.episode)
            self.read_act()
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._show_head(held)
        table = self.query_one(MirrorTable)
        table.empty = self._empty(held)
        on = held.on if held.episode.closed is None else None
        table.show([mirror_row(one, on) for one in shown_measures(held)], held.episode.side)
        unknown = self.query_one("#unknown", Static)
        unknown.display = bool(held.unknown)
        unknown.update(_unknown_text(held.unknown))
        self._show_chosen()
        self.refresh_keys()

    def _show_head(self, held: Standing) -> None:
        """Who and where they stand; when they come next stands beside the cautions, if any."""
        first, second, *more = head_rows(held)
        warned = Content.assemble(*(row[0] for row in more), "  " if more else "", self.sprains())
        self.query_one("#head", HeadLine).show(first, second, (warned, self.coming(held.person)))

    def _empty(self, held: Standing) -> str:
        if held.episode.closed is not None:
            return EMPTY_CLOSED
        return EMPTY if held.open_visit is None else EMPTY_IN_VISIT

    def read_again(self) -> None:
        """After something was done to the episode itself: that is what u takes back first."""
        self.last_act = None
        self._read()

    @on(MirrorTable.RowChosen)
    def _show_chosen(self) -> None:
        """The chart and the words of the measure under the cursor."""
        held, one = self.held, self.chosen
        chart = self.query_one(GapChart)
        told = self.query_one("#told", HeadLine)
        if held is None or one is None:
            chart.show(None)
            told.show((parts(), parts()), (self._stage_line(), parts()))
            return
        try:
            drawn = charted(self.shell.care, held, one.measure)
            told_ahead = foresee(self.shell.care, held, one.measure.id)
            ahead = curve(told_ahead, coming_stage(self.shell.care, self.episode))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        chart.show(chart_data(drawn, ahead))
        told.show(*_told(held, one, self._stage_line(), wide=self.size.width >= WIDE))

    def _stage_line(self) -> Content:
        """How the criteria of the next stage stand, and what to measure next; after the last one what follows."""
        held = self.held
        if held is None:
            return parts()
        care = self.shell.care
        if held.episode.closed is not None:
            tail = tail_of(care, held.episode)
            return parts((next_recall(tail, held.on) if tail is not None else "", mark(Role.INK)))
        reached = reached_last(care, self.episode)
        if reached is not None:
            return parts(
                (f"ready for {reached.stage}", mark(Role.INK)),
                (
                    f", decided {day_text(reached.decided.on)}; x closes the episode, recalls follow",
                    mark(Role.QUIET),
                ),
            )
        stood = stage_standing(care, held, coming_stage(care, self.episode), dated=False)
        return parts(
            ("next stage ", mark(Role.QUIET)),
            (count_text(stood), mark(Role.INK)),
            (f"; {next_text(stood)}", mark(Role.QUIET)),
        )

    @property
    def chosen(self) -> MeasureStanding | None:
        """The measure under the cursor."""
        row = self.query_one(MirrorTable).chosen
        return self.held.of(row.id) if self.held is not None and row is not None else None

    # keys

    def keys_now(self) -> list[str | Command]:
        """What an ankle wants most: its visit, then its figures."""
        visit = self.held.open_visit if self.held is not None else None
        start = relabelled(get("visit"), "back to visit" if visit is not None else "visit")
        unscreened = self.held is not None and not self.held.screened
        early, late = (["safety"], []) if unscreened else ([], ["safety"])
        ahead: list[str | Command] = ["criteria", "home", "run", relabelled(get("note"), "note")]
        gap = relabelled(get("chart"), "gap")
        if self.query_one(NextVisit).display or self.query_one(NewSprain).display:
            return [relabelled(get("open"), "save"), relabelled(get("back"), "put away")]
        if self.is_closed:
            return [
                self.end_key(), "chart", "visits", "resprain", "source", "edit", "undo", self.only_key(), start,
                "another", "appoint",
            ]  # fmt: skip
        return [
            start, *early, "measure", "timer", gap, *ahead, "source", "visits", "undo", "appoint", "edit",
            self.end_key(), self.only_key(), "another", *late, "resprain", "jump",
        ]  # fmt: skip

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back what was asked before measuring."""
        if command_id != "measure":
            self.take_back_question()
        super().action_do(command_id, key)

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        held = self.held
        if held is None:
            return "This episode cannot be read: go back and look again." if command_id != "back" else None
        if command_id == "undo" and self.last_act is not None:
            return None
        if command_id in _NEEDS_ROW and self.chosen is None:
            return self._empty(held)
        return self.why_not_amend(command_id)

    # who, and when they come next

    def whom(self) -> Person | None:
        """The person whose ankle it is."""
        return self.held.person if self.held is not None else None

    def planned_for(self) -> str | None:
        """This episode."""
        return self.episode

    def appointment_changed(self) -> None:
        """The head tells when they come."""
        if self.held is not None:
            self._show_head(self.held)

    # what it does

    def do_visit(self) -> None:
        """Start the visit, or go back into it."""
        visit = self._visit()
        if visit is not None:
            self.shell.open(commands.VISIT, visit=visit.id)

    def do_measure(self) -> None:
        """Measure what the cursor is on, in today's visit."""
        visit = self._visit()
        if visit is None or self.held is None:
            return
        measure = self.chosen.measure.id if self.chosen is not None else self.held.episode.main_measure
        known = self.shell.care.knowledge.measures
        if measure in known and not self.may_start(visit.id, "m", known[measure]):
            return
        self.shell.open(commands.VISIT, visit=visit.id)
        self.shell.open(commands.TRIALS, visit=visit.id, measure=measure)

    def do_timer(self) -> None:
        """Choose a timer, in today's visit."""
        visit = self._visit()
        if visit is not None:
            self.shell.open(commands.VISIT, visit=visit.id)
            self.shell.open(commands.PICK, visit=visit.id)

    def _visit(self) -> Visit | None:
        """The visit in hand, begun now if there was none; says so, since a visit is a row in the record."""
        assert self.held is not None
        try:
            visit = visits.start_visit(self.shell.care, self.held.episode)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return None
        if self.held.open_visit is None:
            self.say(f"visit started at {time_text(visit.started)}", Kind.SAVED)
        return visit

    def do_open(self) -> None:
        """The chart of the measure under the cursor."""
        self.do_chart()

    def do_chart(self) -> None:
        """The chart, full size."""
        assert self.chosen is not None
        self.shell.open(commands.CHART, episode=self.episode, measure=self.chosen.measure.id)

    def do_criteria(self) -> None:
        """What the next stage still wants."""
        self.shell.open(commands.CRITERIA, episode=self.episode)

    def do_note(self) -> None:
        """The note of the visit in hand, or of the last one, and other papers."""
        self.shell.open(commands.PAPERS, episode=self.episode)

    def do_safety(self) -> None:
        """What must be referred, question by question."""
        self.shell.open(commands.SAFETY, episode=self.episode)

    def do_run(self) -> None:
        """The plan of running, its rule and its dates."""
        self.shell.open(commands.RUNNING, episode=self.episode)

    def do_home(self) -> None:
        """What the person does at home."""
        self.shell.open(commands.HOME, episode=self.episode)

    def do_source(self) -> None:
        """Where the figures of this measure come from."""
        assert self.chosen is not None
        self.shell.open(commands.SOURCE, episode=self.episode, measure=self.chosen.measure.id)

    def do_visits(self) -> None:
        """What was said, measured and timed in each visit."""
        self.shell.open(commands.VISITS, episode=self.episode)

    def do_another(self) -> None:
        """Another episode of this person."""
        assert self.held is not None
        self.shell.open(commands.PERSON, person=self.held.person, last=self.held.episode)

    def do_undo(self) -> None:
        """Take back what was planned or logged here last, else the last thing saved in the visit in hand."""
        assert self.held is not None
        if not self.undo_last():
            self.undo_saved()


def _told(held: Standing, one: MeasureStanding, stage: Content, *, wide: bool) -> tuple[Row, Row]:
    """The change since the first reading, by glyph and word; below it what the next stage wants."""
    change = one.since_first if not one.hidden else None
    glyph, role = ("", Role.QUIET)
    if change is not None and change.value is not None and change.verdict is not None:
        glyph, role = verdict_mark(change.verdict)
    words = parts(
        (f"{glyph} " if glyph else "", mark(role, bold=True)),
        (f"{one.measure.name}: {since_first_text(one)}", mark(Role.INK)),
    )
    return (words, parts((_rank(held, one, wide=wide), mark(Role.QUIET)))), (stage, parts())


def _rank(held: Standing, one: MeasureStanding, *, wide: bool) -> str:
    """What the gap is to, and whether it is the main measure; where room is short the one that matters."""
    is_main = one.measure.id == held.episode.main_measure
    rank = "main measure" if is_main else f"secondary to {held.main_name}"
    if one.reference is None or one.gap is None or one.hidden:
        return rank
    to = f"gap to {one.reference.kind}"
    if wide:
        return f"{to}, {rank}"
    return to if is_main else rank


def _unknown_text(unknown: tuple[str, ...]) -> Content:
    names = ", ".join(unknown)
    return parts(
        (f"{FLAG} ", mark(Role.LOSS, bold=True)),
        (f"in the file, but this copy does not know the measure: {names}", mark(Role.QUIET)),
    )
