"""The gap chart full size: both sides over the weeks with their error, the lines to reach, and the figures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Static

from store.care import visits
from store.care.ahead_words import RE_EXAMINE_SHORT, flat_text, line_text
from store.care.charted import Charted, charted
from store.care.compared import against, but, retest_text, since_first_text
from store.care.dates import day_text
from store.care.faults import FAULTS
from store.care.foreseeing import Curve, Foreseen, curve, foresee
from store.care.in_cells import value_cell
from store.care.in_words import rough
from store.care.measured import MeasureStanding
from store.care.stages import coming_stage
from store.care.standing import Standing, standing
from store.knowledge.units import unit_words
from store.knowledge.words import Person, Reading
from tui.screens.figures import chart_data, shown_measures
from tui.screens.heads import side_words, when, who
from tui.widgets import commands
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.gap_chart import GapChart
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import NOTHING, Role, mark, side_role
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson

_DAY, _VALUE = 12, 9


class ChartScreen(OnePerson, Notices):
    """One measure of one episode over time; left and right turn to the other measures."""

    WHERE = commands.CHART
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.CHART)
    HELP_TEXT = (
        "◀ is the left side, ▶ the right one, ● a measure without sides. The upright line is the value plus and "
        "minus 1.96 SEM between visits; without one the error is not known. The level line is what others want "
        "the injured side to reach, never a verdict by itself. Left and right turn to the other measures; "
        "e puts a value right that was typed wrong, or takes it out."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    ChartScreen #drawing { height: 1fr; }
    ChartScreen #figures { width: 34; height: 1fr; padding: 0 1; display: none; }
    ChartScreen.-wide #figures { display: block; }
    ChartScreen #told { height: auto; max-height: 8; padding: 0 1; }
    """

    def __init__(self, episode: str, measure: str) -> None:
        super().__init__()
        self.episode = episode
        self.measure = measure
        self.held: Standing | None = None

    def compose(self) -> ComposeResult:
        """Head, the drawing with the figures beside it, what it means, the keys."""
        yield HeadLine()
        yield RuleLine()
        with Horizontal(id="drawing"):
            yield GapChart()
            yield Static(id="figures")
        yield RuleLine()
        yield Static(id="told")
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def _read(self) -> None:
        try:
            self.held = held = standing(self.shell.care, self.episode)
            one = held.of(self.measure)
            drawn = charted(self.shell.care, held, one.measure)
            told = foresee(self.shell.care, held, one.measure.id)
            ahead = curve(told, coming_stage(self.shell.care, self.episode))
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        measure = one.measure
        name = parts((measure.name, mark(Role.INK, bold=True)), (f"  {measure.long_name}", mark(Role.QUIET)))
        unit = parts((unit_words(measure.unit), mark(Role.QUIET)))
        self.query_one(HeadLine).show((who(held), when(held)), (name, unit))
        self.query_one(GapChart).show(chart_data(drawn, ahead))
        self.query_one("#figures", Static).update(Content("\n").join(_figures(drawn)))
        self.query_one("#told", Static).update(Content("\n").join(_told(one, drawn, told, ahead)))
        self.refresh_keys()

    def whom(self) -> Person | None:
        """The person whose ankle it is."""
        return self.held.person if self.held is not None else None

    # keys

    def keys_now(self) -> list[str | Command]:
        """The other measures, where it comes from, the visit."""
        visit = self.held.open_visit if self.held is not None else None
        start = relabelled(get("visit"), "back to visit" if visit is not None else "visit")
        return ["turn", "source", relabelled(get("edit"), "put right"), start, "back", "criteria", self.only_key()]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if self.held is None:
            return None if command_id == "back" else "This episode cannot be read: go back and look again."
        if command_id == "visit" and self.held.episode.closed is not None:
            return "This episode is closed: no visit can be started in it."
        if command_id == "turn" and len(shown_measures(self.held)) < 2:
            return "Nothing else has been measured."
        return None

    def do_turn(self, key: str) -> None:
        """The next measure that was measured, or the one before."""
        assert self.held is not None
        ids = [one.measure.id for one in shown_measures(self.held)]
        at = ids.index(self.measure) if self.measure in ids else 0
        self.measure = ids[(at + (1 if key == "right" else -1)) % len(ids)]
        self._read()

    def do_criteria(self) -> None:
        """What the next stage still wants."""
        self.shell.open(commands.CRITERIA, episode=self.episode)

    def do_edit(self) -> None:
        """Put right what was measured."""
        self.shell.open(commands.READINGS, episode=self.episode, measure=self.measure)

    def do_source(self) -> None:
        """Where the figures of this measure come from."""
        self.shell.open(commands.SOURCE, episode=self.episode, measure=self.measure)

    def do_visit(self) -> None:
        """Start the visit, or go back into it."""
        assert self.held is not None
        try:
            visit = visits.start_visit(self.shell.care, self.held.episode)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.shell.open(commands.VISIT, visit=visit.id)


# what is said beside and under the drawing


def _figures(drawn: Charted) -> Iterator[Content]:
    """The values of the chart, a day a line, left on the left; the last days where there are many."""
    every = (*drawn.left, *drawn.right, *drawn.single, *drawn.unable)
    days = sorted({one.taken.on for one in every}, reverse=True)
    if drawn.measure.paired:
        yield parts(
            (" " * _DAY, mark(Role.QUIET)),
            ("◀ left".rjust(_VALUE), mark(Role.LEFT, bold=True)),
            ("right ▶".rjust(_VALUE), mark(Role.RIGHT, bold=True)),
        )
    for day in days:
        of_day = [one for one in every if one.taken.on == day]
        cells = [(day_text(day).ljust(_DAY), mark(Role.QUIET))]
        for side in drawn.measure.sides:
            found: Reading | None = next((one for one in reversed(of_day) if one.side is side), None)
            text = value_cell(found, drawn.measure) or NOTHING
            cells.append((text.rjust(_VALUE), mark(side_role(side) if side else Role.INK)))
        yield parts(*cells)


def _told(one: MeasureStanding, drawn: Charted, told: Foreseen, ahead: Curve | None) -> Iterator[Content]:
    """The gap and the change in words, what the bars are, and what has no place on the chart."""
    if one.gap is not None and not one.hidden:
        yield parts(
            side_words(one.injured, ""),
            (f" {one.gap_words}", mark(Role.INK, bold=True)),
            (f" against {against(one)}{but(one.gap_warnings)}", mark(Role.QUIET)),
        )
    if ahead is not None and ahead.line is not None and not one.hidden:
        yield parts((line_text(ahead.line, one.measure, told.on), mark(Role.INK)))
    flat = flat_text(told, one.measure)
    if flat:
        yield parts((flat, mark(Role.LOSS, bold=True)))
        yield parts((RE_EXAMINE_SHORT, mark(Role.LOSS)))
    yield parts((f"{since_first_text(one)}", mark(Role.INK)))
    retest = retest_text(one)
    if retest:
        yield parts((retest, mark(Role.INK)))
    band = "" if ahead is None else "; shade: forecast, 80 %"
    yield parts((_bars(drawn) + band, mark(Role.QUIET)))


def _bars(drawn: Charted) -> str:
    unit = unit_words(drawn.measure.unit)
    said = "no bar: its error is not known"
    if drawn.half_bar is not None:
        said = f"bars: plus and minus {rough(drawn.half_bar)} {unit}, 1.96 SEM between visits"
    if drawn.capped:
        said += "; a value at the cap is a lower bound"
    if drawn.unable:
        often = "once" if len(drawn.unable) == 1 else f"{len(drawn.unable)} times"
        said += f"; unable {often}, which has no place on the chart"
    return said
