"""The timer of one bout: it runs by itself while hands are busy, and is read and heard from across the room."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from store.care import bout_setting, dosing, timing
from store.care.timing import Ended, LiveBout, Mode, Question, View
from tui.screens.bout_driven import DrivenScreen
from tui.widgets import commands
from tui.widgets.message_line import Kind, MessageLine


class BoutScreen(DrivenScreen):
    """One bout with its keys."""

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
        "ends a set where it stands. Esc leaves the bout paused, x ends it and keeps it: u in "
        "the visit takes that back. What is shown is on disk."
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

    def _end_by_press(self, may_end: bool) -> None:
        """Keep it and go back, unless pain is still asked: a pedal is pressed sooner than a figure."""
        view = self.view
        if may_end and view is not None and Question.PAIN in view.questions:
            self.say("Pain first, 0-9 or * for ten; x keeps it without an answer.")
        elif may_end:
            self.do_end()

    def do_open(self) -> None:
        """End the set as far as it went; once all is done, keep it and go back. Take over what runs elsewhere."""
        view = self.view
        if self.elsewhere:
            self.take_over()
        elif self.driver is None or view is None:
            return
        elif view.mode is Mode.WORKING:
            self.driver.do(LiveBout.end_set)
        else:
            self.driver.do(LiveBout.press_ends, self._end_by_press)

    def do_end(self) -> None:
        """End it, keep what was done, and go back."""
        if self.driver is None:
            self._go_back("nothing was done, nothing kept", Kind.NOTE)
        elif not self._ends:
            self._ends = True
            self.driver.do(LiveBout.end, self._ended)

    def _ended(self, ended: Ended) -> None:
        self._go_back(ended.says, Kind.SAVED if ended.kept else Kind.NOTE, undo=ended.kept)

    def do_back(self) -> None:
        """Leave it paused; one in which nothing was done is not kept."""
        view = self.view
        if self.driver is None or view is None:
            self.app.pop_screen()
        elif not self._leaves and not self._ends:
            self._leaves = True
            if view.keeps:
                self.driver.do(LiveBout.leave, self._left)
            else:
                self.do_end()

    def _left(self, _: None) -> None:
        assert self._plan is not None
        self._go_back(f"kept paused: {self._plan.name}. Open it again to go on.", Kind.SAVED)

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
        """Sound off, or on again."""
        sounder = self.shell.sounder
        sounder.on = not sounder.on
        self.say(sounder.told)


def _where(view: View) -> str:
    """Of which set an answer is."""
    if view.doing is Mode.WORKING:
        return f"in {view.unit} {view.set_n}"
    last = view.done[-1] if view.done else None
    side = f" {last.side}" if last is not None and last.side else ""
    return f"after {view.unit} {last.n}{side}" if last is not None else ""
