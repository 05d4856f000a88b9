"""The timer of one bout: it runs by itself while hands are busy, and is read and heard from across the room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from store.care import bout_setting, dosing, timing
from store.care.bout_setting import Setting
from store.care.dosing import Part
from store.care.faults import FAULTS, CareFault
from store.care.timing import BoutPlan, Ended, Guard, Instant, LiveBout, Mode, Overrides, Question, View
from tui.clock.driver import Driver
from tui.clock.hand import Hand
from tui.screens.bout_keys import keys_of, why_not
from tui.screens.bout_stage import BoutStage, Scene
from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine


class BoutScreen(KeyedScreen[None]):
    """One bout: an activity of a visit, or a bout that was left, by its id."""

    WHERE = commands.BOUT
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.BOUT),
        Binding("pageup", "read(-1)", show=False),
        Binding("pagedown", "read(1)", show=False),
    ]
    AUTO_FOCUS = ""
    HELP_TEXT = (
        "Space, or the foot pedal, is the one key while hands are busy; the foot of the screen says what it does "
        "now. A held pedal counts once. A rest counts on past zero and waits. Figures answer what is asked: pain "
        "0 to 9 and * for ten, after a hold its control 0 to 3; at any other time they are pain. Arrows change "
        "the dose: left and right choose a part, up and down change it. PgDn reads on before the start. Enter "
        "ends a set where it stands. Esc leaves the bout paused, x ends it and keeps it. What is shown is on disk."
    )
    VERTICAL_BREAKPOINTS = [(0, "-low"), (23, "-even"), (34, "-tall")]  # noqa: RUF012 - Textual's own way
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (76, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    BoutScreen.-narrow #clock { width: 14; padding-left: 2; }
    BoutScreen.-even #giant, BoutScreen.-even #result, BoutScreen.-even ControlCross { margin-top: 1; }
    BoutScreen.-tall BoutStage { margin: 0 4; }
    BoutScreen.-tall #top { height: 7; margin-top: 1; }
    BoutScreen.-tall #clock { width: 44; }
    BoutScreen.-tall #giant, BoutScreen.-tall #result, BoutScreen.-tall ControlCross { margin-top: 2; }
    BoutScreen.-tall PhaseBar { margin: 1 0; }
    BoutScreen.-tall #told { margin-bottom: 1; }
    """

    def __init__(self, visit: str = "", activity: str = "", bout: str = "") -> None:
        super().__init__()
        self._visit, self._activity, self._bout = visit, activity, bout
        self.found: Setting | None = None
        self.driver: Driver | None = None
        self.chosen = ""  # the part of the dose that up and down change
        self._asked = Overrides()
        self._plan: BoutPlan | None = None
        self._guard = Guard()
        self._begins = False
        self._leaves = False
        self._hand: Hand | None = None
        self._keys: tuple[Command, ...] = ()
        self._head, self._stage = HeadLine(), BoutStage()

    def compose(self) -> ComposeResult:
        """Head, stage, messages, keys."""
        yield self._head
        yield RuleLine()
        yield self._stage
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    # opening and closing

    def on_mount(self) -> None:
        """Read what is to be timed."""
        self._hand = hand = Hand(self.shell.care)
        visit, activity, bout = self._visit, self._activity, self._bout
        if bout:
            hand.do(lambda care: bout_setting.taken_up_by_id(care, bout), self._taken_up, self._failed)
        else:
            hand.do(lambda care: bout_setting.taken_up(care, visit, activity), self._taken_up, self._failed)

    def _taken_up(self, taken: tuple[Setting, LiveBout | None]) -> None:
        self.found, live = taken
        if live is not None:
            self._drive(live).do(LiveBout.pressed_before)
            return
        self._guard, _ = self._guard.pressed(self._ticks_ms())  # a pedal may be held from the screen before
        self._plan = timing.planned(self.found.activity, self.found.episode.side)
        self.paint()

    def _drive(self, live: LiveBout) -> Driver:
        assert self._hand is not None
        shell = self.shell
        self._plan, self.chosen, self._begins = live.plan, "", False
        self.driver = Driver(live, self._hand, shell.clock, shell.sounder, changed=self.paint, failed=self._failed)
        self.driver.start()
        return self.driver

    def _failed(self, error: Exception) -> None:
        """Say why an act could not be done or kept; whatever else it is, is a fault of our own."""
        self._begins = False
        if not isinstance(error, FAULTS):
            self.app.call_later(_raise, error)
        elif self._leaves or self.found is None:
            self._go_back(str(error), Kind.WRONG)
        else:
            self.say(str(error), Kind.NOTE if isinstance(error, CareFault) else Kind.WRONG)

    def _go_back(self, says: str, kind: Kind) -> None:
        """To the screen below, with what there is to say."""
        if self.driver is not None:
            self.driver.stop()
        self.shell.care.changed_elsewhere()  # what was written here by another hand is no news
        if self.is_current:
            self.app.pop_screen()
            below = self.app.screen
            if isinstance(below, KeyedScreen):
                below.say(says, kind)

    def on_screen_resume(self) -> None:
        """Show how it stands now."""
        self.paint()

    def on_resize(self) -> None:
        """What fits on a line has changed."""
        self.call_after_refresh(self.paint)

    def on_unmount(self) -> None:
        """Stop waking; what was asked for is still written down."""
        if self.driver is not None:
            self.driver.stop()
        if self._hand is not None:
            self._hand.close()

    async def settled(self) -> None:
        """Wait until all that was asked for is on disk."""
        if self._hand is not None:
            await self._hand.settled()

    # what is shown

    @property
    def view(self) -> View | None:
        """The bout as it is shown now; None until it is read."""
        if self.driver is not None:
            return self.driver.view()
        return timing.before_start(self._plan) if self._plan is not None else None

    @property
    def dose(self) -> tuple[Part, ...]:
        """The parts of the dose that can be changed now."""
        if self.driver is not None:
            return dosing.parts_during(self.driver.bout.plan, self.driver.bout.state.times)
        if self.found is None or self._plan is None:
            return ()
        return dosing.parts_before(self.found.activity, self._plan)

    def paint(self) -> None:
        """Show the bout as it stands."""
        view = self.view
        if view is None or self._plan is None or self.found is None:
            return
        if not self.is_current or not self._stage.is_attached:
            return
        live, slow = (self.driver.bout, self.driver.slow) if self.driver is not None else (None, False)
        self._show_head(self.found)
        self._stage.show(Scene(self.found, self._plan, view, self.dose, self.chosen, live, slow))
        keys = tuple(keys_of(view, bell=self.shell.sounder.on, chosen=self.chosen))
        if keys != self._keys:
            self._keys = keys
            self.refresh_keys()

    def _show_head(self, found: Setting) -> None:
        gone = self.shell.clock.now().at - found.visit.started.at
        minutes = max(0, int(gone.total_seconds() // 60))
        name = parts(found.activity.name, (f"  {found.activity.surface}", mark(Role.QUIET)))
        row = (name, parts((f"visit {minutes} of {found.visit.slot_min} min", mark(Role.QUIET))))
        shown = self._head.rows
        if not shown or [each.plain for each in shown[0]] != [each.plain for each in row]:
            self._head.show(row)

    def keys_now(self) -> Sequence[Command]:
        """What the pedal does now, and the other keys of this state."""
        return keys_of(self.view, bell=self.shell.sounder.on, chosen=self.chosen)

    def why_not(self, command_id: str) -> str | None:
        """Why a key does nothing now."""
        return why_not(self.view, command_id)

    # keys

    def do_on(self) -> None:
        """The pedal."""
        self.query_one(MessageLine).clear()
        if self.driver is None:
            self._begin()
        elif self.driver.bout.state.mode is Mode.DONE:
            self.driver.do(LiveBout.press_ends, self._end_by_press)
        else:
            self.driver.press()

    def _begin(self) -> None:
        """Begin the bout in the record, and start its first set."""
        found, asked = self.found, self._asked
        self._guard, new = self._guard.pressed(self._ticks_ms())
        if found is not None and self._hand is not None and new and not self._begins:
            self._begins = True
            self._hand.do(lambda care: bout_setting.begun(care, found, asked), self._begun, self._failed)

    def _begun(self, live: LiveBout) -> None:
        self._drive(live).press()

    def _ticks_ms(self) -> int:
        return int(Instant.now(self.shell.clock).ticks * 1000)

    def _end_by_press(self, may_end: bool) -> None:
        if may_end:
            self.do_open()

    def do_open(self) -> None:
        """End the set as far as it went; once all is done keep it and go back, unless pain is still asked."""
        view = self.view
        if self.driver is None or view is None:
            return
        if view.mode is Mode.WORKING:
            self.driver.do(LiveBout.end_set)
        elif Question.PAIN in view.questions:
            self.say("Pain first, 0-9 or * for ten; x keeps it without an answer.")
        else:
            self.do_end()

    def do_end(self) -> None:
        """End it, keep what was done, and go back."""
        if self.driver is None:
            self._go_back("nothing was done, nothing kept", Kind.NOTE)
        elif not self._leaves:
            self.driver.do(LiveBout.end, self._ended)

    def _ended(self, ended: Ended) -> None:
        self._go_back(ended.says, Kind.SAVED if ended.kept else Kind.NOTE)

    def do_back(self) -> None:
        """Leave it paused; one in which nothing was done is not kept."""
        view = self.view
        if self.driver is None or view is None:
            self.app.pop_screen()
        elif not view.keeps:
            self._leaves = True
            self.driver.do(LiveBout.end, self._ended)
        elif not self._leaves:
            self._leaves = True
            self.driver.do(LiveBout.leave, self._left)

    def _left(self, _: None) -> None:
        assert self._plan is not None
        self._go_back(f"left paused: {self._plan.name}. Open it again to go on.", Kind.SAVED)

    def do_pause(self) -> None:
        """Pause, and go on."""
        if self.driver is not None:
            self.driver.pause_or_resume()

    def do_undo(self) -> None:
        """Undo the last thing."""
        view = self.view
        if self.driver is not None and view is not None:
            self.driver.do(LiveBout.undo, lambda _: self.say(f"took back {view.undo}", Kind.SAVED))

    def do_pain(self, key: str) -> None:
        """A figure answers what is asked; when nothing is, it is pain."""
        view, n = self.view, 10 if key == "asterisk" else int(key)
        if self.driver is None or view is None:
            return
        if view.questions[:1] == (Question.CONTROL,):
            says = f"control {n} {_where(view)}"
            self.driver.do(lambda bout, at: bout.control(n, at), lambda _: self.say(says, Kind.SAVED, undo=True))
        else:
            says = f"pain {n} {_where(view)}"
            self.driver.do(lambda bout, at: bout.pain(n, at), lambda _: self.say(says, Kind.SAVED, undo=True))

    def do_turn(self, key: str) -> None:
        """Choose the next part of the dose, or the one before."""
        ids = [part.id for part in self.dose]
        if ids:
            at = ids.index(self.chosen) if self.chosen in ids else (-1 if key == "right" else 0)
            self.chosen = ids[(at + (1 if key == "right" else -1)) % len(ids)]
            self.paint()

    def do_change(self, key: str) -> None:
        """More or less of the part that is chosen."""
        part, by, found = self.chosen, 1 if key == "up" else -1, self.found
        if not part:
            self.say("Choose with ← → what to change.")
        elif self.driver is not None:
            self.driver.do(lambda bout, at: dosing.change_during(bout, part, by, at))
        elif found is not None and self._plan is not None:
            self._asked = dosing.changed_before(found.activity, self._plan, self._asked, part, by)
            self._plan = timing.planned(found.activity, found.episode.side, self._asked)
            self.paint()

    def action_read(self, pages: int) -> None:
        """Turn the page of what is read before the start."""
        self._stage.turn_page(pages)

    def do_sound(self) -> None:
        """The bell off, or on again."""
        sounder = self.shell.sounder
        sounder.on = not sounder.on
        self.say(f"The bell is {'on' if sounder.on else 'off'}.")


def _where(view: View) -> str:
    """Of which set an answer is."""
    if view.doing is Mode.WORKING:
        return f"in {view.unit} {view.set_n}"
    last = view.done[-1] if view.done else None
    side = f" {last.side}" if last is not None and last.side else ""
    return f"after {view.unit} {last.n}{side}" if last is not None else ""


def _raise(error: Exception) -> None:
    raise error
