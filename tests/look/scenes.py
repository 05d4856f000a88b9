"""Scenes to look at the parts before and after a change. The people are invented: R.K. is a forest orienteer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from textual.app import App
from textual.widgets import Static

from store.knowledge.words import Side, Verdict
from tests.helpers.stage import NOON, Bare, Stage
from tests.look.bouts import BOUTS
from tests.look.invented import INVENTED
from tests.look.ward import WARD
from tui.screens.help import HelpScreen
from tui.widgets.chart_data import ChartData, ChartPoint, Forecast, Threshold
from tui.widgets.choice_field import ChoiceField
from tui.widgets.commands import get, relabelled
from tui.widgets.day_text import Towards
from tui.widgets.field import DayField, Field
from tui.widgets.gap_chart import GapChart
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.mirror import MirrorRow, MirrorTable


def quiet(text: str) -> tuple[str, str]:
    return text, mark(Role.QUIET)


def bold(text: str, role: Role = Role.INK) -> tuple[str, str]:
    return text, mark(role, bold=True)


def row(
    id: str, name: str, unit: str, left: str, right: str, parts_: tuple[float, float], *rest: str
) -> MirrorRow:
    """A paired row; the rest is gap, change."""
    gap, change = rest
    return MirrorRow(id, name, unit, left, right, *parts_, gap=gap, change=change)


ROWS = (
    replace(row("lunge", "lunge", "cm", "10.2", "4.8", (1.0, 0.47), "5.4 short", "+2.1"), verdict=Verdict.GAIN),
    replace(
        row("stance", "stance, open", "s", "45", "17", (1.0, 0.38), "28 short", "+4"), verdict=Verdict.UNKNOWN
    ),
    replace(
        row("girth", "girth", "cm", "51.0", "52.2", (0.977, 1.0), "1.2 larger", "-0.9"),
        verdict=Verdict.GAIN,
        lower_is_better=True,
    ),
    replace(row("raises", "heel raises", "", "24", "7", (1.0, 0.29), "17 short", "+3"), verdict=Verdict.WITHIN),
    replace(row("reach", "reach, front", "%", "68", "61", (1.0, 0.9), "7 short", "-6"), verdict=Verdict.LOSS),
    MirrorRow("glide", "talar glide", "mm"),
    MirrorRow("pain", "pain, worst", single="4", lower_is_better=True, verdict=Verdict.WITHIN, change="-1"),
)


LEFT_LUNGE = tuple(
    ChartPoint(day, value) for day, value in ((2, 10.3), (3, 10.2), (6, 10.2), (8, 10.3), (12, 10.2), (17, 10.2))
)
RIGHT_LUNGE = tuple(
    ChartPoint(day, value, 1.35) for day, value in ((2, 2.7), (6, 2.9), (8, 3.1), (12, 4.4), (13, 4.5), (17, 4.8))
)
LUNGE = ChartData("lunge", "cm", Side.RIGHT, LEFT_LUNGE, RIGHT_LUNGE, (Threshold(8, "jog 8"),))
AHEAD = [17 + step for step in range(0, 75, 2)]
MIDDLES = [9.3 - 4.5 * 0.965 ** (day - 17) for day in AHEAD]
LUNGE_AHEAD = replace(
    LUNGE,
    forecast=Forecast(
        tuple(AHEAD),
        tuple(MIDDLES),
        tuple(middle - 0.6 - 0.008 * (day - 17) for day, middle in zip(AHEAD, MIDDLES, strict=True)),
        tuple(middle + 0.6 + 0.008 * (day - 17) for day, middle in zip(AHEAD, MIDDLES, strict=True)),
    ),
)


class EpisodeLike(Bare):
    """An episode laid out as its screen is meant to be."""

    DEFAULT_CSS = """
    EpisodeLike MirrorTable { max-height: 6; }
    EpisodeLike #stage { height: 1; }
    EpisodeLike.-tall MirrorTable { max-height: 12; }
    """
    VERTICAL_BREAKPOINTS = [(0, "-low"), (34, "-tall")]  # noqa: RUF012 - Textual's own way

    def keys_now(self) -> list[Any]:
        return ["visit", "measure", "timer", "chart", "criteria", "home", "run", "note"]


def episode(injured: Side = Side.RIGHT, *, ahead: bool = False) -> App[Any]:
    head = HeadLine(
        (
            parts(
                bold("R.K."),
                quiet(" 31  "),
                bold("right ankle ▶", Role.RIGHT),
                " lateral ligament sprain, grade II",
            ),
            parts(quiet("week 4, day 24")),
        ),
        (
            parts(quiet("goal "), "21 km forest race, 14 Mar 2027", quiet(", in 109 days")),
            parts(quiet("repair into remodelling")),
        ),
    )
    table = MirrorTable(ROWS, injured)
    chart = GapChart(LUNGE_AHEAD if ahead else LUNGE)
    stage = Static(parts(quiet(" next stage jog: "), bold("3 of 8 met, 2 not measured")), id="stage")
    return Stage(screen=EpisodeLike(head, RuleLine(), table, RuleLine(), chart, RuleLine(), stage, KeyLine()))


def form() -> App[Any]:
    today = NOON.date()
    head = HeadLine(
        (parts(bold("new person"), quiet("  and the injured ankle")), parts(quiet("all but label later")))
    )
    label = Field("label", value="R.K.", hint="initials will do")
    born = Field("born", hint="a year is enough")
    side: ChoiceField[str] = ChoiceField("injured side", [("left", "left"), ("right", "right")], value="right")
    grade: ChoiceField[str | None] = ChoiceField(
        "grade", [(None, "not yet graded"), ("I", "I"), ("II", "II"), ("III", "III")]
    )
    injured = DayField("injured on", today, day=today)
    goal = DayField("goal on", today, towards=Towards.FUTURE)
    screen = FormLike(
        head, RuleLine(), label, born, side, grade, injured, goal, RuleLine(), MessageLine(), KeyLine()
    )
    return Stage(screen=screen)


class FormLike(Bare):
    """A form with one field that is wrong."""

    def on_mount(self) -> None:
        """Show one of each state."""
        self.query(DayField).last().value = "31.2."
        self.query(DayField).last().check()
        self.query(Field).first().focus_field()
        self.say("R.K. saved", Kind.SAVED, undo=True)

    def keys_now(self) -> list[Any]:
        return [relabelled(get("open"), "save"), "back"]


SCENES: dict[str, Callable[[], App[Any]]] = {
    **BOUTS,
    **WARD,
    **INVENTED,
    "episode": episode,
    "form": form,
    "help": lambda: Stage(screen=HelpScreen("episode", MirrorTable.HELP_TEXT, "Where this ankle stands.")),
    "episode-ahead": lambda: episode(ahead=True),
    "episode-left": lambda: episode(Side.LEFT),
}
