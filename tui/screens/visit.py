"""The visit: its plan walked with a cursor on the next step, minutes against the slot, what was measured."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Static

from store.care.faults import FAULTS
from store.care.plan import KNOWN_KINDS, moment_of
from store.care.plan_words import LATER_LONG, activity_word, step_word
from store.care.visit_view import Unfinished, VisitView, slot_now, view
from store.knowledge.words import Person, Step
from tui.screens.visit_acts import SHOWS, VisitActs
from tui.screens.visit_keys import keys_of
from tui.screens.visit_lines import head_rows, next_open, plan_rows
from tui.screens.visit_said import SaidPanel
from tui.screens.visit_side import said_lines, side_lines
from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.head_line import HeadLine, RuleLine
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.plan_list import TALL, PlanList, Stand
from tui.widgets.step_word import StepWord

_ENDED = "This visit has ended: u opens it again today, esc goes back."
_SIGNED = "The note is signed, and this visit stays ended: n, then a adds to the note; esc goes back."
_EMPTY = "Nothing was done in this visit yet: it does not count as one until something is."
_WRITES = ("next", "open", "drop", "end", "measure", "timer")


class VisitScreen(VisitActs, Notices):
    """One visit in hand. It reads its view after each act, and keeps nothing but where the cursor stands."""

    WHERE = commands.VISIT
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.VISIT),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = ""
    HELP_TEXT = (
        "The plan of the visit: the cursor stands on the next step that waits, and space does it. Up and down "
        "move the cursor; enter does a step again that is done. Where a re-test is planned, the values before it "
        "stay hidden until the values after it are in, so that they cannot sway the hand. Greyed lines are done "
        "the way you do them now. m measures anything, t times anything. In the first days after a sprain the "
        "plan is theirs: nothing is stretched or stood on yet."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012 - Textual's own way
    VERTICAL_BREAKPOINTS = [(0, "-low"), (TALL, "-tall")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    VisitScreen #body { height: 1fr; }
    VisitScreen #walk { width: 1fr; }
    VisitScreen #walk StepWord { height: 1fr; margin: 1 1 0 5; }
    VisitScreen.-saying StepWord { display: none; }
    VisitScreen #side { width: 32; border-left: solid $faint; padding: 0 1; }
    VisitScreen #measured { height: 1fr; scrollbar-size-vertical: 0; }
    VisitScreen #side-lines { width: 1fr; height: auto; }
    VisitScreen #said-lines { width: 1fr; height: auto; margin-bottom: 1; }
    VisitScreen.-wide #side { width: 44; padding: 0 2; }
    VisitScreen.-tall PlanList, VisitScreen.-tall #side { margin-top: 1; }
    VisitScreen.-tall #walk StepWord { margin: 3 6 2 5; }
    VisitScreen #above-form { display: none; }
    VisitScreen.-saying #above-form { display: block; }
    """

    def __init__(self, visit: str) -> None:
        super().__init__()
        self.visit = visit
        self.shown: VisitView | None = None

    def compose(self) -> ComposeResult:
        """Head, plan and figures, the form of what has changed, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with Horizontal(id="body"):
            with Vertical(id="walk"):
                yield PlanList()
                yield StepWord()
            with Vertical(id="side"):
                yield Static(id="said-lines")
                with VerticalScroll(id="measured", can_focus=False):
                    yield Static(id="side-lines")
        yield RuleLine(id="above-form")
        yield SaidPanel(self.shell.care, self.visit, self.say, self.again, self._said_is_saved)
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top: something was measured or timed."""
        self.read_visit(onward=True)

    @property
    def stands(self) -> bool:
        """Not while the fields of what has changed are being made."""
        return super().stands and not self.query_one(SaidPanel).is_opening

    # reading

    def tick(self) -> None:
        """The minutes; and the rest too, when another window has written."""
        if self.shown is not None:
            slot = slot_now(self.shell.care, self.shown)
            was = self.shown.slot.drop
            self.query_one(HeadLine).show(*head_rows(self.shown, slot))
            if slot.drop != was:
                self.read_visit()
        super().tick()

    def read_afresh(self) -> None:
        """As another window left it."""
        self.read_visit()

    def read_visit(self, *, onward: bool = False) -> None:
        """Read the visit afresh. `onward` takes the cursor to the next step that waits, if its own does not."""
        try:
            self.shown = shown = view(self.shell.care, self.visit)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        plan = self.query_one(PlanList)
        key = plan.chosen.key if plan.chosen else ""
        rows = plan_rows(shown)
        keys = [row.key for row in rows]
        at = keys.index(key) if key in keys else 0
        if onward and rows and rows[at].stand not in (Stand.OPEN, Stand.PAUSED):
            at = next_open(rows, at)
        if onward and shown.unfinished:
            at = 0
        plan.show(rows, at)
        said = said_lines(shown)
        self.query_one("#said-lines", Static).update(said)
        self.query_one("#said-lines", Static).display = bool(said.plain)
        self.query_one("#side-lines", Static).update(side_lines(shown))
        self.query_one(HeadLine).show(*head_rows(shown, shown.slot))
        self.show_step()

    @property
    def _has_ended(self) -> bool:
        return self.shown is not None and self.shown.visit.ended is not None

    # keys

    def keys_now(self) -> list[str | Command]:
        """The step under the cursor, and what may come between."""
        return keys_of(
            self._stand(),
            saying=self.query_one(SaidPanel).display,
            ended=self._has_ended,
            signed=self.shown is not None and self.shown.signed,
            only=self.only_key(),
        )

    def whom(self) -> Person | None:
        """The person whose visit it is."""
        return self.shown.person if self.shown is not None else None

    def why_not(self, command_id: str) -> str | None:
        """An ended visit takes nothing more; a visit that cannot be read takes nothing."""
        if self.shown is None:
            return None if command_id == "back" else "This visit cannot be read: go back and look again."
        if self.shown.visit.ended is not None and self.shown.signed and command_id in (*_WRITES, "undo"):
            return _SIGNED
        if self.shown.visit.ended is not None and command_id in _WRITES:
            return _ENDED
        return None

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back what was asked: of what a step is to be minded for, or of what is hidden."""
        asked_by = [each for each, about in SHOWS.items() if about == self.again.about]
        if command_id not in (asked_by or ("next", "open")):
            self.take_back_question()
        super().action_do(command_id, key)

    def action_move(self, by: int) -> None:
        """Move the cursor."""
        self.take_back_question()
        self.query_one(MessageLine).clear()
        self.query_one(PlanList).move(by)
        self.show_step()

    def show_step(self) -> None:
        """The step under the cursor, large, with the keys that go with it; nothing is next once it has ended."""
        step = self.step_at_cursor()
        care, left = self.shell.care, self._left_at_cursor()
        if left is not None:
            word = activity_word(care, left.bout.activity)
        else:
            waits = step is not None and step.kind in KNOWN_KINDS and not step.dropped and not self._has_ended
            word = step_word(care, step) if step is not None and waits else ""
        aside = (("re-test", Role.QUIET),) if step is not None and step.kind == "retest" and word else ()
        self.query_one(StepWord).show(word, Role.NOW, aside)
        self.refresh_keys()

    def _left_at_cursor(self) -> Unfinished | None:
        chosen = self.query_one(PlanList).chosen
        left = self.shown.unfinished if self.shown is not None else ()
        return next((one for one in left if chosen is not None and one.bout.id == chosen.key), None)

    @on(PlanList.Clicked)
    def _clicked(self, event: PlanList.Clicked) -> None:
        plan = self.query_one(PlanList)
        if plan.cursor == event.at:
            self.action_do("open")
        plan.cursor = event.at
        self.show_step()

    def _stand(self) -> Stand | None:
        chosen = self.query_one(PlanList).chosen
        return chosen.stand if chosen else None

    # walking

    def do_next(self) -> None:
        """Do the step under the cursor, if it waits; a paused bout goes on."""
        stand = self._stand()
        if stand is Stand.DONE:
            done = all(row.stand is not Stand.OPEN for row in self.query_one(PlanList).rows)
            again = "enter does this step again"
            self.say(f"The plan is done: x ends the visit, {again}." if done else f"Done already: {again}.")
        elif stand is Stand.DROPPED and not self._go_on():
            self.say("Skipped today: d takes it back in.")
        else:
            self.do_open()

    def _go_on(self) -> bool:
        """From a step that is left out to the next one that waits; whether there is one."""
        plan = self.query_one(PlanList)
        at = next_open(plan.rows, plan.cursor)
        if plan.rows[at].stand is not Stand.OPEN:
            return False
        plan.cursor = at
        return True

    def do_open(self) -> None:
        """Do the step under the cursor, also one that is done."""
        shown, chosen = self.shown, self.query_one(PlanList).chosen
        if shown is None or chosen is None:
            self.say("This visit has no plan: m measures, t times.")
            return
        left = self._left_at_cursor()
        if left is not None:
            self.shell.open(commands.BOUT, visit=self.visit, bout=left.bout.id)
            return
        step = self.step_at_cursor()
        assert step is not None
        if step.kind not in KNOWN_KINDS:
            self.say(LATER_LONG)
        elif step.kind == "safety":
            self.do_safety_again()
        elif step.kind == "said":
            self._say_form()
        elif step.kind == "home":
            self.do_home()
        elif step.kind == "note":
            self.do_note()
        elif step.kind == "activity":
            self._open_known(commands.BOUT, step, activity=step.ref)
        else:
            self._open_known(commands.TRIALS, step, measure=step.ref, moment=moment_of(step.kind))

    def _open_known(self, screen: str, step: Step, **arguments: object) -> None:
        known = self.shell.care.knowledge
        thing = (known.activities if step.kind == "activity" else known.measures).get(step.ref)
        if thing is not None:
            key = "enter" if self._stand() is Stand.DONE else "space"
            if self.may_start(self.visit, key, thing):
                self.shell.open(screen, visit=self.visit, **arguments)
        else:
            self.say(f"This copy does not know {step.ref}: d leaves it out today.", Kind.WRONG)

    def do_measure(self) -> None:
        """Measure anything."""
        self.shell.open(commands.LINE, visit=self.visit)

    def do_timer(self) -> None:
        """Time anything."""
        self.shell.open(commands.PICK, visit=self.visit)

    def _leave(self, text: str, kind: Kind = Kind.SAVED) -> None:
        below = self.app.screen_stack[-2]
        self.app.pop_screen()
        if isinstance(below, KeyedScreen):
            below.say(text, kind)

    # what has changed

    def _say_form(self) -> None:
        assert self.shown is not None
        self.add_class("-saying")
        self.query_one(MessageLine).clear()
        self.query_one(SaidPanel).begin(self.shown.said, first=self.shown.last_visit is None)

    def _said_is_saved(self) -> None:
        """What was said is in the record: on with the plan."""
        self._put_away(saved=True)
        self.read_visit(onward=True)
        self.say("saved what has changed", Kind.SAVED, undo=True)

    def _put_away(self, *, saved: bool) -> None:
        form = self.query_one(SaidPanel)
        form.end(saved=saved)
        self.remove_class("-saying")
        self.set_focus(None)

    def do_back(self) -> None:
        """Put the form away, else go back to where the visit was opened from."""
        form = self.query_one(SaidPanel)
        if form.display:
            kept = bool(form.typed)
            self._put_away(saved=False)
            self.say("Not saved yet: space comes back to what was typed." if kept else "")
        elif self.shown is not None and self.shown.empty:
            self._leave(_EMPTY, Kind.NOTE)
        else:
            self.app.pop_screen()
