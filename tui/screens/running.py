"""Running again: weeks as rows, the rule, the last session and the next; planned and told in a line each."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from store.care import run_acts, visits
from store.care.dates import day_text
from store.care.faults import FAULTS
from store.care.run_acts import AskedFirst, RunAct
from store.care.run_against import stands_against
from store.care.run_goal import goal_ahead, goal_lines
from store.care.run_origin import run_origin
from store.care.run_timed import timed_run
from store.care.run_words import continuous_words, days_words, next_short, rung_short
from store.care.running import WALK_RUN, RunStanding, running_standing
from store.care.standing import Standing, standing
from store.knowledge.words import Person
from tui.screens.heads import aim, caution, who
from tui.screens.running_fields import PlanRuns, TellRun
from tui.screens.running_lines import LEGEND, empty_lines, header, spaced, told_lines, week_lines
from tui.widgets import commands
from tui.widgets.asks_first import AsksFirst
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, Row, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.lines import Lines
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.read_on import read_on

SOURCES = "-sources"
"""The class of the screen while it tells where its figures come from."""

ROOMY, AIRY = 36, 8
"""Rows of the screen, and weeks at most, with which a week has a blank line behind it."""

TOLD, TOLD_ROOMY = 10, 16
"""Rows at most of what is told under the weeks."""

TIMED = "As the timer kept it: put it right or add to it, enter saves."

_QUIET, _INK = mark(Role.QUIET), mark(Role.INK)
_READ_ONLY = frozenset({"back", "source", "read", "only", "help", "undo", "criteria", "safety"})


class RunningScreen(OnePerson, AsksFirst, Notices):
    """The running of one episode. It reads it whenever something may have changed, and keeps nothing else."""

    WHERE = commands.RUNNING
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.RUNNING)
    AUTO_FOCUS = ""
    HELP_TEXT = (
        "Each row is a week. 3:2x5 is three minutes run and two walked, five times; what is planned ahead holds "
        "if every session is clean. Space takes how a session went, such as 3:2x5 pain 1 swelling no, and next "
        "day the morning after it, morning 0: until that is known it waits, and what is not known is never "
        "clean. e plans: days, from when, rung 3, or off. What is to come follows the rule. i tells the sources."
    )
    DEFAULT_CSS = """
    RunningScreen #header, RunningScreen #legend { height: 1; padding: 0 1; text-wrap: nowrap; }
    RunningScreen #weeks { height: 1fr; min-height: 3; padding: 0 0 0 1; scrollbar-size-vertical: 1; }
    RunningScreen #legend { color: $quiet; }
    RunningScreen #told { padding: 0 1; }
    RunningScreen PageOfWords { display: none; padding: 0; }
    RunningScreen.-sources PageOfWords { display: block; }
    RunningScreen.-sources #plan, RunningScreen.-sources #header, RunningScreen.-sources #legend,
    RunningScreen.-sources #told, RunningScreen.-sources #under { display: none; }
    """

    def __init__(self, episode: str) -> None:
        super().__init__()
        self.episode = episode
        self.held: RunStanding | None = None
        self.stands_as: Standing | None = None
        self.goal: tuple[str, ...] = ()
        self.against: tuple[str, ...] = ()
        self.acts: list[RunAct] = []
        self.apart = 1

    def compose(self) -> ComposeResult:
        """Head, the weeks, what is told under them, the two lines, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield Static(id="header")
        with VerticalScroll(id="weeks", can_focus=False):
            yield Lines(id="plan")
            yield PageOfWords()
        yield Static(LEGEND, id="legend")
        yield RuleLine(id="under")
        yield Lines(id="told")
        yield PlanRuns()
        yield TellRun()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self.read_afresh()

    def on_resize(self) -> None:
        """Lay it out for the new width."""
        self.call_after_refresh(self._show)

    # reading

    def read_afresh(self) -> None:
        """Read where the running stands now."""
        care = self.shell.care
        try:
            self.stands_as = standing(care, self.episode)
            self.held = held = running_standing(care, self.episode)
            ahead = goal_ahead(care, held, self.stands_as)
            self.goal = tuple(goal_lines(ahead)) if ahead is not None else ()
            self.against = (
                tuple(one.text for one in run_acts.against(care, held.episode))
                if held.plan is None
                else stands_against(care, held, self.stands_as)
            )
        except FAULTS as fault:
            self.held = None
            self.say(str(fault), Kind.WRONG)
            return
        self._show()
        self.call_after_refresh(self._to_this_week)

    def _show(self) -> None:
        held, stands_as = self.held, self.stands_as
        if held is None or stands_as is None or not self.is_mounted:
            return
        self.query_one(HeadLine).show(*_head(held, stands_as))
        width = max(self.size.width - 2, 40)  # the paddings, or the scroll bar
        planned = bool(held.weeks) and not held.unknown_ladder
        self.query_one("#header", Static).update(header(width) if planned else Content(""))
        self.query_one("#legend", Static).display = planned
        lines = week_lines(held, width) if planned else empty_lines(held, self.against, self.goal, width)
        self.apart = 2 if planned and self.size.height >= ROOMY and len(lines) <= AIRY else 1
        self.query_one("#plan", Lines).show(*(spaced(lines) if self.apart > 1 else lines))
        self.query_one("#told", Lines).styles.max_height = TOLD_ROOMY if self.size.height >= ROOMY else TOLD
        self.query_one("#told", Lines).show(*told_lines(held, self.against, self.goal, width) if planned else [])
        self.query_one(PageOfWords).show(run_origin(self.shell.care, held))
        self.refresh_keys()

    def _to_this_week(self) -> None:
        """Where there are more weeks than room, begin with the one before this."""
        held = self.held
        if held is None or self.has_class(SOURCES):
            return
        before = sum(1 for week in held.weeks if (held.on - week.monday).days >= 7)
        self.query_one("#weeks", VerticalScroll).scroll_to(y=max(before - 1, 0) * self.apart, animate=False)

    # keys

    def whom(self) -> Person | None:
        """The person who runs."""
        return self.held.person if self.held is not None else None

    @property
    def _typing(self) -> bool:
        return self.query_one(PlanRuns).display or self.query_one(TellRun).display

    def keys_now(self) -> list[str | Command]:
        """Tell, plan, time; or what is done in a line."""
        if self._typing:
            return [relabelled(get("open"), "save"), relabelled(get("back"), "put away")]
        tell = relabelled(get("next"), "next morning" if self._asks_morning else "how it went")
        plan = relabelled(get("edit"), "plan")
        first = [plan, tell] if self.held is not None and self.held.plan is None else [tell, plan]
        where = relabelled(get("source"), "the plan" if self.has_class(SOURCES) else "where from")
        return [*first, "timer", where, "back", "undo", "criteria", "read", self.only_key(), "safety"]

    @property
    def _asks_morning(self) -> bool:
        """Whether the next morning of the last session is what is wanted now."""
        held = self.held
        return held is not None and held.waits and held.last is not None and held.last[1].done.on < held.on

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        held = self.held
        if held is None:
            return None if command_id == "back" else "This running cannot be read: go back and look again."
        if command_id == "undo" and not self.acts:
            return "Nothing to undo: nothing was planned or told here since this screen was opened."
        if held.episode.closed is not None and command_id not in _READ_ONLY:
            return f"Closed on {day_text(held.episode.closed.on)}: open it again to plan or tell of running."
        if command_id == "next" and held.plan is None:
            return "No running is planned yet: e plans it first."
        if command_id == "timer" and held.next is None:
            return "No session is planned that could be timed: e plans it first."
        return None

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back what was asked before the timer."""
        if command_id != "timer":
            self.take_back_question()
        super().action_do(command_id, key)

    def do_open(self) -> None:
        """Enter outside of a line does what space does."""
        reason = self.why_not("next")
        if reason:
            self.say(reason)
        else:
            self.do_next()

    def do_next(self) -> None:
        """Ask how it went, with what the timer knows, today's rung or the word for the morning typed already."""
        held = self.held
        assert held is not None
        begins = says = ""
        timed = None if self._asks_morning else timed_run(self.shell.care, held)
        if self._asks_morning:
            begins, says = "morning ", "pain that morning, 0 to 10"
        elif timed is not None:
            begins, says = f"{timed.words} ", "swelling?"
            self.say(TIMED)
        elif held.next is not None and held.next.planned_on == held.on:
            rung = held.rung(held.next.rung)
            begins = ("continuous " if rung.continuous else f"{rung.words} ") if rung is not None else ""
        self.query_one(TellRun).set_class(timed is not None, "-long")
        self._begin(self.query_one(TellRun), begins, says)

    def do_edit(self) -> None:
        """Ask on which days, from when, from which rung."""
        held = self.held
        assert held is not None
        says = f"now {days_words(held)}" if held.plan is not None and held.ladder is not None else ""
        self._begin(self.query_one(PlanRuns), "", says)

    def _begin(self, line: PlanRuns | TellRun, typed: str, says: str = "") -> None:
        self.remove_class(SOURCES)
        self.again.take_back()
        line.begin(says)
        field = line.query_one(Input)
        field.value = typed
        field.cursor_position = len(typed)
        self.refresh_keys()

    def do_back(self) -> None:
        """Put a line or the sources away, else leave the screen."""
        for line in (self.query_one(PlanRuns), self.query_one(TellRun)):
            if line.display:
                line.end()
                return
        if self.has_class(SOURCES):
            self.do_source()
        else:
            self.app.pop_screen()

    def do_source(self) -> None:
        """Where the figures come from, or the plan again."""
        self.toggle_class(SOURCES)
        self.query_one("#weeks", VerticalScroll).scroll_home(animate=False)
        if not self.has_class(SOURCES):
            self.call_after_refresh(self._to_this_week)

    def do_read(self, key: str) -> None:
        """On in the weeks or the sources, or back."""
        read_on(self.query_one("#weeks", VerticalScroll), key)

    def do_criteria(self) -> None:
        """What the next stage still wants, and the decision on it."""
        self.shell.open(commands.CRITERIA, episode=self.episode)

    def do_safety(self) -> None:
        """What must be referred, and what is to be settled."""
        self.shell.open(commands.SAFETY, episode=self.episode)

    def do_timer(self) -> None:
        """The walk-run of the next session's rung, in today's visit."""
        held, care = self.held, self.shell.care
        assert held is not None
        try:
            activity = run_acts.rung_activity(care, held)
            visit = visits.start_visit(care, held.episode)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        if self.may_start(visit.id, "t", activity):
            self.shell.open(commands.BOUT, visit=visit.id, activity=WALK_RUN, dosed=activity)

    # planning and telling

    @on(Input.Submitted, "#runs")
    def _plan_typed(self, event: Input.Submitted) -> None:
        event.stop()
        line = event.value
        if not line.strip():
            self.query_one(PlanRuns).end()
            return
        try:
            made = run_acts.plan(self.shell.care, self.episode, line, all_the_same=self.again.answered(line))
        except AskedFirst as asked:
            self.again.ask(line)
            self.say(str(asked), Kind.WRONG)
            return
        except FAULTS as fault:
            self.again.take_back()
            self.say(str(fault), Kind.WRONG)
            return
        self._done(self.query_one(PlanRuns), made)

    @on(Input.Submitted, "#went")
    def _told(self, event: Input.Submitted) -> None:
        event.stop()
        if not event.value.strip():
            self.query_one(TellRun).end()
            return
        try:
            made = run_acts.tell(self.shell.care, self.episode, event.value)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._done(self.query_one(TellRun), made)

    def _done(self, line: PlanRuns | TellRun, made: RunAct) -> None:
        line.end()
        self.acts.append(made)
        self.read_afresh()
        self.say(made.short, Kind.SAVED, undo=True)

    def do_undo(self) -> None:
        """Take back what was planned or told here last."""
        act = self.acts.pop()
        try:
            says = run_acts.take_back(self.shell.care, act)
        except FAULTS as fault:
            self.acts.append(act)
            self.say(str(fault), Kind.WRONG)
            return
        self.read_afresh()
        self.say(says, Kind.SAVED)


def _head(held: RunStanding, stands_as: Standing) -> tuple[Row, ...]:
    """Who; the goal and the rung; the last rung's day and the next session; the cautions in force."""
    title = parts(("running", mark(Role.INK, bold=True)))
    rows: list[Row] = [(who(stands_as), title), (aim(stands_as), parts((rung_short(held), _INK)))]
    if held.plan is not None and held.ladder is not None:
        ahead = next_short(held) if held.episode.closed is None else ""
        rows.append((parts((continuous_words(held), _INK)), parts((ahead, mark(Role.NOW, bold=True)))))
    warned = caution(stands_as)
    if warned is not None:
        rows.append((warned, parts()))
    return tuple(rows)
