"""The home programme: carried over from last time, changed by a key, handed out by another; the days at home."""

from __future__ import annotations

from datetime import timedelta
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input

from store.care import home, visits
from store.care.faults import FAULTS
from store.care.home_days import TellingDone, tell_days
from store.care.home_days import take_back as take_days_back
from store.care.home_items import HomeChoice, changed, choices, parts
from store.care.note_state import is_signed
from store.knowledge.papers import Programme
from store.knowledge.words import Person
from tui.screens.home_list import ADDING, DOSING, TELLING, Draft, HomeList
from tui.widgets import commands
from tui.widgets.chooser import Chooser, Option
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.message_line import Kind
from tui.widgets.pad_input import PadInput
from tui.widgets.plan_list import PlanList
from tui.widgets.read_on import read_on

_LEAVES = "leave"
"""What is asked before a draft with changes is left."""


class HomeScreen(HomeList):
    """The keys of the screen: what changes the draft, hands it out, and takes the days."""

    WHERE = commands.HOME
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.HOME)
    HELP_TEXT = (
        "What the person does at home. It opens with what was handed out last: space hands it out again as it "
        "stands, so that one key carries it over. Enter opens the dose of a line: left, right choose a part, up "
        "and down change it. + adds, - takes out; from five on a gentle word is said. f takes the days, such as "
        "mon 3 pain 1, tue 2. The last one handed out is in force; the ones before are kept."
    )

    def __init__(self, episode: str, visit: str = "") -> None:
        super().__init__(episode, visit)
        self.acts: list[Programme | TellingDone] = []

    # keys

    def whom(self) -> Person | None:
        """The person whose programme it is."""
        return self.held.person if self.held is not None else None

    def keys_now(self) -> list[str | Command]:
        """Hand out, change, tell the days; or what is done in a field."""
        if self.has_class(ADDING):
            return [relabelled(get("open"), "add this"), relabelled(get("back"), "leave it")]
        if self.has_class(TELLING):
            return [relabelled(get("open"), "save the days"), relabelled(get("back"), "put away")]
        if self.has_class(DOSING):
            part = relabelled(get("turn"), "part")
            return [part, "change", relabelled(get("open"), "done"), relabelled(get("next"), "hand out")]
        out = "hand out" if not self.handed else "handed out"
        return [
            relabelled(get("next"), out), relabelled(get("open"), "dose"), relabelled(get("more"), "add"),
            relabelled(get("less"), "take out"), "days", "read", "undo", "back", self.only_key(), "jump",
        ]  # fmt: skip

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if self.held is None or self.draft is None:
            return None if command_id == "back" else "This programme cannot be read: go back and look again."
        if command_id == "undo" and not self.acts:
            return "Nothing to undo: nothing was handed out or told here since this screen was opened."
        if command_id in {"next", "more", "less"} and self.held.episode.closed is not None:
            return "This episode is closed: open it again to hand out a programme."
        if command_id in {"next", "more", "less"} and self._visit_has_ended():
            if is_signed(self.shell.care, self.visit):
                return "The note of this visit is signed: esc back to the episode, and h hands out from there."
            return "The visit has ended: go back (esc) and open it again (u), then hand out."
        if command_id == "less" and self.chosen is None:
            return "The cursor is on no exercise: move it to the one to take out."
        return None

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back what was asked."""
        if command_id != ("back" if self.again.about == _LEAVES else "next"):
            self.take_back_question()
        super().action_do(command_id, key)

    def do_change(self, key: str) -> None:
        """The line above or below; while a dose is open, more or less of the part that is marked."""
        by = 1 if key == "up" else -1
        if self.has_class(ADDING):
            self.query_one(Chooser).move(-by)
            self._show_read()
        elif self.has_class(DOSING):
            self._change(by)
        elif not self.has_class(TELLING):
            self.query_one(PlanList).move(-by)
            self._show()

    def do_read(self, key: str) -> None:
        """On in what is told, or back."""
        read_on(self.query_one("#read", VerticalScroll), key)

    def do_turn(self, key: str) -> None:
        """Another part of the dose."""
        if not self.has_class(DOSING):
            self.do_open()
            return
        count = len(parts(self.chosen)) if self.chosen is not None else 1
        self.part = (self.part + (1 if key == "right" else -1)) % count
        self._show_dose()

    def _change(self, by: int) -> None:
        assert self.draft is not None
        assert self.held is not None
        items, at = self.draft.items, self.query_one(PlanList).cursor
        item = self.chosen
        if item is None:
            day = max(self.draft.review_on + timedelta(days=by), self.held.on)
            self.draft = Draft(items, day)
        else:
            new = changed(item, parts(item)[self.part].id, by)
            self.draft = Draft((*items[:at], new, *items[at + 1 :]), self.draft.review_on)
        self._show()

    def do_open(self) -> None:
        """Open the dose of a line, or close it; in a field keep what was typed or chosen."""
        if self.has_class(ADDING):
            self._add()
        elif self.has_class(TELLING):
            self.query_one("#days", PadInput).give()
        else:
            self.part = 0 if not self.has_class(DOSING) else self.part
            self.toggle_class(DOSING)
            self._show()

    def do_back(self) -> None:
        """Leave the field or the dose, then the screen; a draft with changes asks once."""
        if any(self.has_class(mode) for mode in (ADDING, TELLING, DOSING)):
            self._plain()
            return
        if self.unsaved and not self.again.confirms(_LEAVES):
            self.say("Changed and not handed out: space hands it out, esc again leaves it as it was.", Kind.WRONG)
            return
        self.app.pop_screen()

    def _plain(self) -> None:
        """Back to the list."""
        self.remove_class(ADDING, TELLING, DOSING)
        self.set_focus(None)
        self._show()

    # handing out

    def _visit_has_ended(self) -> bool:
        """Whether it was opened from a visit that is over: a hand-out would begin another one of the same day."""
        visit = self._open_visit() if self.visit else None
        return visit is not None and visit.ended is not None

    def do_next(self) -> None:
        """Hand the programme out; from a visit, back to it."""
        if self.handed:
            self.say("Handed out already: change something first.")
            return
        assert self.held is not None
        assert self.draft is not None
        care = self.shell.care
        try:
            visit = care.visit(self.visit) if self.visit else visits.start_visit(care, self.held.episode)
            known = care.knowledge.activities
            things = [known[item.activity] for item in self.draft.items if item.activity in known]
            if not self.may_start(visit.id, "space", *things):
                return
            made = home.issue(care, self.held, self.draft.items, self.draft.review_on, visit)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.acts.append(made)
        self._plain()
        if self.visit:
            self.app.pop_screen()
            return
        self._read()
        self.say("handed out", Kind.SAVED, undo=True)

    def do_undo(self) -> None:
        """Take back what was handed out or told here last."""
        act = self.acts.pop()
        try:
            if isinstance(act, TellingDone):
                says = take_days_back(self.shell.care, act)
            else:
                says = home.take_back(self.shell.care, act)
        except FAULTS as fault:
            self.acts.append(act)
            self.say(str(fault), Kind.WRONG)
            return
        self._read()
        self.say(says, Kind.SAVED)

    # adding and taking out

    def do_more(self) -> None:
        """Choose what to add."""
        assert self.held is not None
        assert self.draft is not None
        self._plain()
        last = home.carried_over(self.shell.care, self.held)
        visit = self._open_visit()
        found = choices(self.shell.care, self.held.episode, visit, last)
        there = {item.activity for item in self.draft.items}
        chooser = self.query_one(Chooser)
        chooser.options = tuple(_option(one) for one in found if one.activity.id not in there)
        chooser.narrow("")
        self.add_class(ADDING)
        field = self.query_one("#adding", PadInput)
        field.value = ""
        self.set_focus(field)
        self._show_read()

    @on(Input.Changed, "#adding")
    def _narrowed(self, event: Input.Changed) -> None:
        self.query_one(Chooser).narrow(event.value)
        self._show_read()

    @on(PadInput.Entered)
    def _entered(self, event: PadInput.Entered) -> None:
        event.stop()
        if event.field.id == "adding":
            self.do_open()
        else:
            self._days_typed(event)

    @on(Chooser.Clicked)
    def _clicked(self) -> None:
        self._add()

    def _add(self) -> None:
        item = self.item_to_add()
        if item is None:
            self.say("Nothing is called so: delete a letter, or choose one with the arrows.", Kind.WRONG)
            return
        assert self.draft is not None
        self.draft = Draft((*self.draft.items, item), self.draft.review_on)
        self._plain()
        self.query_one(PlanList).cursor = len(self.draft.items) - 1
        self._show()
        self.say(home.too_many(self.shell.care, self.draft.items) or f"{item.name} added, not handed out yet")

    def do_less(self) -> None:
        """Take the line under the cursor out of the draft."""
        assert self.draft is not None
        at = self.query_one(PlanList).cursor
        item = self.draft.items[at]
        self.draft = Draft((*self.draft.items[:at], *self.draft.items[at + 1 :]), self.draft.review_on)
        self.remove_class(DOSING)
        self._show()
        self.say(f"{item.name} taken out, not handed out yet")

    @on(PlanList.Clicked)
    def _row_clicked(self, event: PlanList.Clicked) -> None:
        plan = self.query_one(PlanList)
        if plan.cursor == event.at:
            self.action_do("open")
        plan.cursor = event.at
        self._show()

    # the days

    def do_days(self) -> None:
        """Ask on which days it was done."""
        self._plain()
        self.add_class(TELLING)
        self.set_focus(self.query_one("#days", PadInput))

    def _days_typed(self, event: PadInput.Entered) -> None:
        assert self.held is not None
        if not event.value.strip():
            self._plain()
            return
        try:
            act = tell_days(self.shell.care, self.held, event.value, self._open_visit())
        except FAULTS as fault:
            event.field.refuse(event.value)
            self.say(str(fault), Kind.WRONG)
            return
        self.acts.append(act)
        self._plain()
        self._read()
        self.say(act.says, Kind.SAVED, undo=True)


def _option(choice: HomeChoice) -> Option:
    activity = choice.activity
    words = (activity.id, *activity.short_forms, activity.domain, activity.phase, choice.words.name)
    return Option(activity.id, activity.name, choice.says, words, choice.group)
