"""A new person with the injured ankle, another episode of somebody known, or one put right: one form."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input

from store.care.care import name_examiner
from store.care.correcting import correct
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.people import new_episode, new_person, same_label
from store.knowledge.words import Episode, Person
from tui.screens.person_fields import Line, PersonFields
from tui.widgets import commands
from tui.widgets.choice_field import ChoiceField
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.field import Field
from tui.widgets.head_line import HeadLine, Row, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.side_field import SideField

READY = "the rest may stay empty"
KEPT = "what stood before is kept"
ASK = "What you typed is not saved. Leave it?   y leave   n stay"


class PersonScreen(KeyedScreen[None]):
    """The form. Nothing of it is kept before it is saved, and nothing typed is lost when it cannot be."""

    WHERE = commands.PERSON
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.PERSON),
        Binding("ctrl+s,f10", "do('save')", show=False),  # where the terminal lets them through
        Binding("down", "app.focus_next", show=False),
        Binding("up", "app.focus_previous", show=False),
        Binding("y", "answer(True)", show=False),
        Binding("n", "answer(False)", show=False),
    ]
    HELP_TEXT = (
        "Enter goes to the next field, in the last one it saves. Only the label and the injured side are needed, "
        "and the first time who examines; an empty field means not asked. Arrows choose a side, and a word where "
        "there are words to choose from."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (78, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    PersonScreen VerticalScroll { scrollbar-size-vertical: 1; height: 1fr; }
    PersonScreen #columns { height: auto; layout: vertical; }
    PersonScreen.-wide #columns { layout: horizontal; }
    PersonScreen .column { height: auto; width: 1fr; }
    PersonScreen ChoiceField { margin: 0 0 1 0; }
    PersonScreen SideField { margin: 0; }
    """

    def __init__(
        self,
        label: str = "",
        person: Person | None = None,
        last: Episode | None = None,
        editing: Episode | None = None,
    ) -> None:
        super().__init__()
        self.editing = editing
        self.label = label
        self.person = person
        self.last = last
        self._asking = False
        self._left: Widget | None = None

    def compose(self) -> ComposeResult:
        """Head, the form, messages, keys."""
        self.fields = PersonFields(self.shell.care, self.label, self.person, self.last, self.editing)
        self._start = self.fields.values()
        left, right = self.fields.columns
        yield HeadLine(self._head())
        yield RuleLine()
        with VerticalScroll(can_focus=False), Container(id="columns"):
            yield Vertical(*left, classes="column")
            yield Vertical(*right, classes="column")
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Begin in the first field."""
        self._go_to(self.fields.lines[0])

    @on(Field.Changed)
    @on(ChoiceField.Changed)
    def _changed(self) -> None:
        self.query_one(HeadLine).show(self._head())

    def _head(self) -> Row:
        """Whose form it is, and what it still needs."""
        lacking = self.fields.lacking()
        if len(lacking) > 1:
            lacking = [", ".join(lacking[:-1]), lacking[-1]]
        verb = "are" if len(lacking) > 1 else "is"
        needed = f"{' and '.join(lacking)} {verb} needed" if lacking else KEPT if self.editing else READY
        return self._title(), parts((needed, mark(Role.QUIET)))

    def _title(self) -> Content:
        if self.person is None:
            return parts(("new person and episode", mark(Role.INK, bold=True)))
        what = "another episode: the other ankle, or a new sprain"
        if self.editing is not None:
            what = "put right what was asked"
        return parts((visible(self.person.label), mark(Role.INK, bold=True)), (f"  {what}", mark(Role.QUIET)))

    # keys

    def keys_now(self) -> list[str | Command]:
        """On from field to field, save, leave."""
        last = self.focused is not None and self._at() == len(self.fields.lines) - 1
        return [relabelled(get("open"), "save" if last else "next field"), "save", "back"]

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Y and n answer only while something is asked."""
        if action == "answer":
            return self._asking
        return super().check_action(action, parameters)

    def _at(self) -> int:
        """Which field has the focus; -1 when none has."""
        nodes = self.focused.ancestors_with_self if self.focused is not None else []
        return next((at for at, line in enumerate(self.fields.lines) if line in nodes), -1)

    def _go_to(self, line: Line) -> None:
        """Put the cursor into a line, before the next key comes."""
        self.set_focus(line.query_one(Input) if isinstance(line, Field) else line)

    @on(Input.Submitted)
    def _entered(self) -> None:
        self.action_do("open")

    def do_open(self) -> None:
        """The next field, unless this one wants another look; after the last one, save."""
        at, lines = self._at(), self.fields.lines
        line = lines[at]
        if at >= 0 and isinstance(line, Field | SideField) and not line.check():
            self.shell.drop_keys()  # what was typed ahead was meant for the fields behind this one
            return
        if at + 1 < len(lines):
            self._go_to(lines[at + 1])
        else:
            self.do_save()

    def do_back(self) -> None:
        """Leave the form; where something was typed, ask once."""
        if self._asking:
            self.action_answer(False)
        elif self.fields.values() == self._start:
            self.app.pop_screen()
        else:
            self._asking = True
            self._left = self.focused
            self.set_focus(None)
            self.say(ASK, Kind.WRONG)

    def action_answer(self, leave: bool) -> None:
        """Leave what was typed, or stay with it."""
        self._asking = False
        if leave:
            self.app.pop_screen()
            return
        self.query_one(MessageLine).clear()
        if self._left is not None:
            self._left.focus()

    # saving

    def do_save(self) -> None:
        """Keep the person and the episode; say beside each field what is wrong, and lose nothing."""
        wrong = self.fields.wrong()
        if wrong:
            self.shell.drop_keys()
            self._go_to(wrong[0])
            count = "One field wants" if len(wrong) == 1 else f"{len(wrong)} fields want"
            self.say(f"{count} another look; nothing is saved yet.", Kind.WRONG)
            return
        try:
            if not self._label_warned():
                self._keep()
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)

    def _label_warned(self) -> bool:
        """Whether somebody with the same label is there, and nobody said yet that this is another person."""
        label = self.fields.label.value
        if self.person is not None and (self.editing is None or label == self.person.label):
            return False
        same = same_label(self.shell.care, label)
        if not same or self.again.confirms(label):
            return False
        who = "Somebody has" if same == 1 else f"{same} people have"
        self.say(f"{who} the label {label} already. Save again if this is another person.")
        return True

    def _keep(self) -> None:
        """Keep what was typed, and go to the episode that it is of."""
        care, fields = self.shell.care, self.fields
        if not care.examiner:
            name_examiner(care, fields.examiner.value)
        if self.person is not None and self.editing is not None:
            self._put_right(self.person, self.editing)
        elif self.person is not None:
            self._show(self.person, new_episode(care, self.person, fields.form()))
        else:
            person, episode = new_person(care, fields.label.value, fields.born.value, fields.form())
            assert episode is not None
            self._show(person, episode)

    def _put_right(self, person: Person, episode: Episode) -> None:
        """Keep the correction, and go back to the episode, which stands below."""
        fields = self.fields
        now = correct(self.shell.care, person, episode, fields.label.value, fields.born.value, fields.form())
        self.app.pop_screen()
        below = self.app.screen
        if isinstance(below, KeyedScreen):
            if now == (person, episode):
                below.say("nothing was changed")
            else:
                below.say(f"corrected {now[0].label}; what stood before is kept", Kind.SAVED, undo=True)

    def _show(self, person: Person, episode: Episode) -> None:
        """The new episode in place of the form."""
        shell = self.shell
        self.app.pop_screen()
        shell.open(commands.EPISODE, episode=episode.id, message=f"saved {person.label}, {episode.side} ankle")
