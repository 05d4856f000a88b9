"""What stands under the keys of the timer: it is opened, driven, shown and left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from textual.app import ComposeResult

from store.care import bout_setting, dosing, timing
from store.care.bout_setting import Setting
from store.care.dosing import Part
from store.care.faults import FAULTS, CareFault, RunsElsewhere
from store.care.timing import RUNS, TAKES_OVER, BoutPlan, Guard, Instant, LiveBout, Overrides, View
from store.knowledge.kinds import Activity
from tui.clock.driver import Driver
from tui.clock.hand import Hand
from tui.screens.bout_keys import keys_of, why_not
from tui.screens.bout_stage import BoutStage, Scene
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine

ANSWERS = f"{RUNS}: {TAKES_OVER}"


class DrivenScreen(KeyedScreen[None]):
    """A bout on the screen: an activity of a visit, or a bout that was left, by its id. It has no keys yet.

    `dosed` is the activity with the dose that is wanted this time, where that is not the usual one.
    """

    def __init__(self, visit: str = "", activity: str = "", bout: str = "", dosed: Activity | None = None) -> None:
        super().__init__()
        self._dosed = dosed
        self._visit, self._activity, self._bout = visit, activity, bout
        self.found: Setting | None = None
        self.driver: Driver | None = None
        self.chosen = ""  # the part of the dose that up and down change
        self._asked = Overrides()
        self._plan: BoutPlan | None = None
        self._guard = Guard()
        self._begins = False
        self._ends = False
        self._leaves = False
        self.elsewhere = ""  # the bout that another window runs, while it is asked whether to take it over
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

    @property
    def stands(self) -> bool:
        """A key that comes while a slow disk keeps the bout waits a moment for the screen it is meant for."""
        return super().stands and not self._ends and not self._leaves

    # opening and closing

    def on_mount(self) -> None:
        """Read what is to be timed."""
        self.shell.sounder.prepare()
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
        if self._dosed is not None:
            self.found = replace(self.found, activity=self._dosed)
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
        self._begins = self._ends = False
        if isinstance(error, RunsElsewhere):
            self._ask_to_take_over(error)
        elif not isinstance(error, FAULTS):
            self.app.call_later(_raise, error)
        elif self._leaves or self.found is None:
            self._go_back(str(error), Kind.WRONG)
        else:
            self.say(str(error), Kind.NOTE if isinstance(error, CareFault) else Kind.WRONG)

    def _ask_to_take_over(self, found: RunsElsewhere) -> None:
        self.elsewhere = found.bout
        self.again.ask(found.bout)
        self.say(str(found), Kind.WRONG)
        self.refresh_keys()

    def take_over(self) -> None:
        """Go on here with a bout that another window runs."""
        bout = self.elsewhere
        if self._hand is not None and self.again.confirms(bout):
            self.elsewhere = ""
            self._hand.do(
                lambda care: bout_setting.taken_up_by_id(care, bout, take_over=True), self._taken_up, self._failed
            )
        else:
            self.say(ANSWERS, Kind.WRONG)

    def _go_back(self, says: str, kind: Kind, *, undo: bool = False) -> None:
        """To the screen below, with what there is to say, and whether it can be undone there."""
        if self.driver is not None:
            self.driver.stop()
        self.shell.care.changed_elsewhere()  # what was written here by another hand is no news
        if self.is_current:
            self.shell.spend_key(Guard(self._ticks_ms()))  # a second x would end the visit
            self.app.pop_screen()
            below = self.app.screen
            if isinstance(below, KeyedScreen):
                below.say(says, kind, undo=undo and get("undo").works_on(below.WHERE))

    def on_screen_resume(self) -> None:
        """Show how it stands now."""
        self.paint()

    def on_resize(self) -> None:
        """What fits on a line has changed."""
        self.call_after_refresh(self.paint)

    def on_unmount(self) -> None:
        """Stop waking; what was asked for is still written down."""
        self.shell.sounder.rest()
        if self.driver is not None:
            self.driver.stop()
        if self._hand is not None:
            self._hand.close()

    async def settled(self) -> None:
        """Wait until all that was asked for is on disk."""
        if self._hand is not None:
            await self._hand.settled()

    def _ticks_ms(self) -> int:
        return int(Instant.now(self.shell.clock).ticks * 1000)

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
        keys = tuple(keys_of(view, sound=self.shell.sounder.on, chosen=self.chosen))
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
        if self.elsewhere:
            return [relabelled(get("open"), "take over"), get("back")]
        return keys_of(self.view, sound=self.shell.sounder.on, chosen=self.chosen)

    def why_not(self, command_id: str) -> str | None:
        """Why a key does nothing now."""
        if self.elsewhere:
            return None if command_id in ("open", "back") else ANSWERS
        return why_not(self.view, command_id)


def _raise(error: Exception) -> None:
    raise error
