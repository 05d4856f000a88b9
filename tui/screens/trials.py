"""Trial by trial, from the number pad: which side to test now, in letters to be read from three metres."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Input, Static

from store.care.faults import FAULTS
from store.care.trial_pass import Doubt, TrialPass, start
from store.care.visits import minutes_gone
from store.care.warning import warned
from store.knowledge.units import unit_words
from store.knowledge.words import Moment, Side
from tui.screens.heads import side_words
from tui.screens.trials_lines import caution_text, giant_of, so_far
from tui.widgets import commands
from tui.widgets.big_word import BigWord
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field_first import FieldFirst
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.pad_input import PadInput
from tui.widgets.whole_sentences import WholeSentences

_QUIET = mark(Role.QUIET)
TALL = 34  # rows of the screen from which each step has a line of its own
_PAD = ("swap", "unable", "more", "less")
_KEYS = {key: each for each in _PAD for key in get(each).keys}
_NOT_HERE = "This measure cannot be taken here: esc goes back."
LEAVES_SWAPPED = "Injured side clearly better: swapped? * swaps them,"
SWAPPED = "Injured side clearly better: swapped? * swaps them, enter keeps them."


class TrialsScreen(FieldFirst, KeyedScreen[None]):
    """One measure of one visit; it goes back by itself when all is in."""

    WHERE = commands.TRIALS
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.TRIALS)
    AUTO_FOCUS = "#value"
    HELP_TEXT = (
        "The screen names the side to test now, the uninjured one first. Type a value and enter, or several with "
        "spaces between. A side is saved as soon as it has all its trials; esc keeps what is there as fewer "
        "trials. What is outside the usual range is asked once more. On the pad: * the other side, / unable, + "
        "one more trial, - takes the last one back."
    )
    VERTICAL_BREAKPOINTS = [(0, "-low"), (24, "-mid"), (TALL, "-tall")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    TrialsScreen #giant { height: 6; margin: 1 4 0 4; }
    TrialsScreen.-mid #giant { height: 8; }
    TrialsScreen.-tall #giant { height: 1fr; max-height: 16; margin: 2 6 1 6; }
    TrialsScreen #so-far { height: 1; margin: 1 2 0 4; }
    TrialsScreen #so-far Static { width: 1fr; }
    TrialsScreen #entry { height: 1; margin: 0 2 0 4; }
    TrialsScreen #entry Static { width: auto; color: $quiet; }
    TrialsScreen #value { width: 24; margin: 0 2 0 1; background: $sheet; color: $ink; }
    TrialsScreen #value:nocolor { text-style: underline; }
    TrialsScreen #steps { height: 1fr; margin: 1 2 0 4; }
    TrialsScreen #cautions { max-height: 2; margin: 0 2 0 4; }
    TrialsScreen.-tall #so-far, TrialsScreen.-tall #entry { margin: 1 2 0 6; }
    TrialsScreen.-tall #steps { height: auto; max-height: 7; margin: 2 2 1 6; }
    TrialsScreen.-tall #cautions { max-height: 5; margin: 0 2 1 6; }
    """

    def __init__(self, visit: str, measure: str, moment: Moment | None = None) -> None:
        super().__init__()
        self.visit = visit
        self.measure_id = measure
        self.moment = moment
        self.taking: TrialPass | None = None
        self._ticking: Timer | None = None

    def compose(self) -> ComposeResult:
        """Head, the side, what is in, the field, how it is done, what to mind, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield BigWord(id="giant", company=("LEFT", "RIGHT"))
        with Horizontal(id="so-far"):
            yield Static(id="left")
            yield Static(id="right")
        with Horizontal(id="entry"):
            yield Static("value")
            yield PadInput(leaves=frozenset(_KEYS), id="value")
            yield Static(id="unit")
        yield WholeSentences(id="steps")
        yield WholeSentences(id="cautions")
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_resize(self) -> None:
        """Set the steps apart where there is room."""
        self.query_one("#steps", WholeSentences).apart = self.size.height >= TALL

    def on_mount(self) -> None:
        """Begin the pass, or go on with it."""
        try:
            self.taking = start(self.shell.care, self.visit, self.measure_id, self.moment)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            self.query_one("#value", Input).disabled = True
            return
        measure = self.taking.measure
        self.query_one("#unit", Static).update(Content(f"{unit_words(measure.unit)}{self._several()}"))
        steps = [*(measure.steps or (measure.asks,)), *self._timer_hint()]
        self.query_one("#steps", WholeSentences).show([parts((step, mark(Role.INK))) for step in steps])
        self.query_one("#cautions", WholeSentences).show(self._cautions(self.taking))
        self._show()
        self._ticking = self.set_interval(1.0, self.tick)

    def _several(self) -> str:
        assert self.taking is not None
        return "   or all at once" if self.taking.measure.counted > 1 else ""

    def _timer_hint(self) -> list[str]:
        """A measure that a timer can take says so."""
        assert self.taking is not None
        activity = self.shell.care.knowledge.activities.get(self.taking.measure.bout)
        return [f"The timer can take it too: t in the visit, {activity.name}."] if activity else []

    def _cautions(self, taking: TrialPass) -> list[Content]:
        """What of this person is to be minded first, then what is usual."""
        held = taking.subject.standing
        if held is None:
            return []
        care = self.shell.care
        found = warned(care.knowledge, taking.measure, held.episode, held.person, care.clock.now().on)
        return [caution_text(one) for one in found]

    # showing

    def tick(self) -> None:
        """The minutes of the visit."""
        self._show_head()

    def _show_head(self) -> None:
        taking = self.taking
        if taking is None or taking.subject.visit is None:
            return
        moment = {Moment.AFTER: ", re-test", Moment.BEFORE: ""}.get(taking.trials.moment or Moment.BEFORE, "")
        injured = taking.subject.injured
        who = parts((f"   {taking.subject.person.label} ", _QUIET), side_words(injured) if injured else "")
        name = parts((f"{taking.measure.name}{moment}", mark(Role.INK, bold=True)), who)
        care = self.shell.care
        gone = minutes_gone(care, care.visit(self.visit))
        clock = f"visit {int(gone)}:{int(gone * 60) % 60:02d} of {taking.subject.visit.slot_min}"
        self.query_one(HeadLine).show((name, parts((clock, _QUIET))))

    def _show(self) -> None:
        taking = self.taking
        assert taking is not None
        self._show_head()
        word, role, aside = giant_of(taking)
        giant = self.query_one("#giant", BigWord)
        giant.company = ("LEFT", "RIGHT") if word in ("LEFT", "RIGHT") else ()
        giant.show(word, role, aside)
        for side in taking.trials.sides:
            place = "#right" if side.side is Side.RIGHT else "#left"
            self.query_one(place, Static).update(so_far(taking, side))
        self.refresh_keys()

    # keys

    def keys_now(self) -> list[str | Command]:
        """The pad."""
        if self.taking is not None and self.taking.asks_swap:
            return [
                relabelled(get("swap"), "swap them"),
                relabelled(get("open"), "keep them"),
                "less",
                relabelled(get("back"), "done"),
            ]
        shown: list[str | Command] = [relabelled(get("open"), "next"), *_PAD]
        return [*shown, relabelled(get("back"), "done"), relabelled(get("measure"), "one line"), "source"]

    def why_not(self, command_id: str) -> str | None:
        """A measure that cannot be begun takes nothing."""
        if self.taking is None and command_id != "back":
            return _NOT_HERE
        return None

    def on_key(self, event: events.Key) -> None:
        """The pad's signs, here and not by way of the application: a value before one of them comes before it."""
        if self.focused is not None and event.key in _KEYS:
            event.stop()
            self.action_do(_KEYS[event.key])

    def do_open(self) -> None:
        """Take what was typed, as enter in the field does."""
        self.query_one(PadInput).give()

    @on(PadInput.Entered)
    def _take(self, event: PadInput.Entered) -> None:
        """Take a text as trials; or, where the sides seemed swapped, an empty one as yes to how they are."""
        event.stop()
        taking = self.taking
        if taking is None:
            self.say(_NOT_HERE, Kind.WRONG)
            return
        if taking.asks_swap and not event.value.strip():
            if self.again.confirms(SWAPPED):
                taking.sure()
            self._after()
            return
        stood = taking.trials
        try:
            taking.enter(event.value, sure=self.again.answered(event.value))
        except FAULTS as fault:
            if isinstance(fault, Doubt):
                self.again.ask(event.value)
            else:
                self.again.take_back()
            if taking.trials is stood:  # else it was taken, and only not saved yet
                event.field.refuse(event.value)
            self.say(str(fault), Kind.WRONG)
            self._show()
            return
        self._after()

    def do_swap(self) -> None:
        """Test the other side now, or exchange the two where they seemed swapped."""
        self._pad("swap")

    def do_unable(self) -> None:
        """This side could not do it; behind the sum of a questionnaire's answers a stroke is part of the value."""
        field = self.query_one("#value", Input)
        if self.taking is not None and self.taking.measure.scoring is not None and field.value.strip().isdigit():
            field.insert_text_at_cursor("/")
        else:
            self._pad("unable")

    def do_more(self) -> None:
        """One more trial."""
        self._pad("more")

    def do_less(self) -> None:
        """Take the last trial back; where values may be negative, a minus in an empty field is a sign."""
        field = self.query_one("#value", Input)
        if self.taking is not None and self.taking.measure.low < 0 and not field.value:
            field.insert_text_at_cursor("-")
        elif field.value.strip():
            self.say("A value is typed: enter takes it, backspace mends it; - takes a trial back.", Kind.WRONG)
        else:
            self._pad("back")

    def do_undo(self) -> None:
        """The same as taking the last trial back."""
        self._pad("back")

    def _pad(self, name: str) -> None:
        taking = self.taking
        assert taking is not None
        try:
            getattr(taking, name)()
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            self._show()
            return
        self._after()

    def _after(self) -> None:
        """What follows an act: say what is saved, ask, go back, or show the next."""
        taking = self.taking
        assert taking is not None
        if taking.done:
            self._leave(taking.says())
            return
        self._show()
        if taking.asks_swap:
            if self.again.about != SWAPPED:
                self.again.ask(SWAPPED)
            self.say(SWAPPED, Kind.WRONG)
        else:
            self.again.take_back()
            self.say(taking.says(), Kind.SAVED if taking.says() else Kind.NOTE)

    # leaving

    def do_quit(self) -> None:
        """Close the program; the trials that are in are kept first, as esc keeps them."""
        if self.taking is not None and self._asks_sides(self.taking, "ctrl+q"):
            return
        try:
            if self.taking is not None:
                self.taking.leave()
        except FAULTS as fault:
            if not self.again.confirms("quit"):
                self.say(f"Not saved, ctrl+q again closes without it: {fault}", Kind.WRONG)
                return
        self.app.exit()

    def do_back(self) -> None:
        """Keep what is there as fewer trials and go back. What is typed and not entered is asked about."""
        field, taking = self.query_one("#value", Input), self.taking
        typed = field.value.strip()
        if typed and taking is not None and not self.again.confirms(f"leave {typed}"):
            self.say(f"{typed} is typed and not entered: enter takes it, esc again leaves it.", Kind.WRONG)
            return
        if taking is not None and self._asks_sides(taking, "the same key"):
            return
        try:
            if taking is not None:
                taking.leave()
        except FAULTS as fault:
            if not self.again.confirms("leave"):
                self.say(f"Not saved, esc again leaves without it: {fault}", Kind.WRONG)
                return
        self._leave(taking.says() if taking is not None else "")

    def _asks_sides(self, taking: TrialPass, key: str) -> bool:
        """Whether the sides of what will be kept seemed swapped, which is asked once: the key again keeps them."""
        if not taking.wants_to_leave():
            return False
        if self.again.confirms(LEAVES_SWAPPED):
            taking.sure()
            return False
        self._show()
        self.say(f"{LEAVES_SWAPPED} {key} again keeps them.", Kind.WRONG)
        return True

    def _leave(self, text: str) -> None:
        below = self.app.screen_stack[-2]
        self.app.pop_screen()
        if isinstance(below, KeyedScreen) and text:
            below.say(text, Kind.SAVED, undo=True)

    def do_measure(self) -> None:
        """Type it as one line instead."""
        assert self.taking is not None
        self.do_back()
        if self.app.screen is not self:
            self.shell.open(commands.LINE, visit=self.visit, text=f"{self.taking.measure.id} ")

    def do_source(self) -> None:
        """Where the figures of this measure come from."""
        assert self.taking is not None
        held = self.taking.subject.standing
        if held is None:
            self.say("This visit belongs to no episode, so there is nothing to compare.")
        else:
            self.shell.open(commands.SOURCE, episode=held.episode.id, measure=self.taking.measure.id)
