"""One line of a form: a label, a compact field, and beside it what is wrong or how it was understood."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from tui.widgets.day_text import HOW, Towards, day_shown, read_day
from tui.widgets.look import FLAG, Role, mark

MOST_LETTERS = 200
Check = Callable[[str], str | None]
"""Takes what was typed and gives the sentence that says what is wrong, or None."""


class Field(Horizontal):
    """A labelled field. It is checked when it is left or sent, not as it is typed: half a number is not wrong."""

    DEFAULT_CSS = """
    Field { height: auto; min-height: 1; padding: 0 1; }
    Field > .label { width: 18; height: 1; color: $quiet; }
    Field > Input { width: 24; background: $sheet; color: $ink; }
    Field > Input:focus { background: $sheet; background-tint: $ink 8%; }
    Field:focus-within { color: $ink; } /* without a rule of its own its label would not be told */
    Field:focus-within > .label { color: $ink; text-style: bold; }
    Field > Input:nocolor { text-style: underline; }
    Field > .said { width: 1fr; height: auto; margin: 0 0 0 2; }
    """

    @dataclass
    class Changed(Message):
        """What the field holds has changed, or was checked."""

        field: Field

        @property
        def control(self) -> Field:
            """The field, for selectors of handlers."""
            return self.field

    def __init__(
        self,
        label: str,
        *,
        value: str = "",
        hint: str = "",
        check: Check | None = None,
        must: bool = False,
        most: int = MOST_LETTERS,
        help_text: str = "",
        id: str | None = None,
    ) -> None:
        super().__init__(id=id)
        self.label = label
        self.hint = hint
        self.must = must
        self.HELP_TEXT = help_text
        self._check = check
        self._most = most
        self._start = value
        self._input: Input | None = None  # made in compose: Textual wants its application before it takes a value
        self._said = Static(classes="said")
        self.error: str | None = None
        self._judged: str | None = None  # the text that the error is about

    def compose(self) -> ComposeResult:
        """Label, field, what is said beside it."""
        yield Static(Content(self.label), classes="label")
        self._input = Input(self._start, compact=True, max_length=self._most, select_on_focus=False)
        self._input.cursor_blink = False
        yield self._input
        yield self._said

    def on_mount(self) -> None:
        """Say the hint."""
        self._tell()

    @property
    def value(self) -> str:
        """What was typed, without blanks around it."""
        return (self._start if self._input is None else self._input.value).strip()

    @value.setter
    def value(self, text: str) -> None:
        if self._input is None:
            self._start = text
        else:
            self._input.value = text

    def focus_field(self) -> None:
        """Put the cursor into it."""
        if self._input is not None:
            self._input.focus()

    def check(self) -> bool:
        """Check what was typed now; whether it is well."""
        self._judge(self.trouble(self.value))
        return self.error is None

    def refuse(self, why: str) -> None:
        """Say something that only the record could know is wrong."""
        self._judge(why)

    def _judge(self, error: str | None) -> None:
        self.error = error
        self._judged = self.value
        self._tell()

    def trouble(self, text: str) -> str | None:
        """What is wrong with a text."""
        if not text:
            return f"{self.label} is needed" if self.must else None
        return self._check(text) if self._check else None

    def told(self, text: str) -> str:
        """What is said beside a text with which nothing is wrong."""
        return "" if text else self.hint

    def _tell(self) -> None:
        if self.error:
            self._said.update(Content.styled(f"{FLAG} {self.error}", mark(Role.LOSS)))
        else:
            self._said.update(Content.styled(self.told(self.value), mark(Role.QUIET)))
        self.set_class(self.error is not None, "-wrong")

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        if self.value != self._judged:  # else it is late news of a text that was checked since
            self.error = None
        self._tell()
        self.post_message(self.Changed(self))

    @on(Input.Submitted)
    @on(Input.Blurred)
    def _left(self, event: Input.Submitted | Input.Blurred) -> None:
        if isinstance(event, Input.Submitted) or event.value:
            self.check()


class DayField(Field):
    """A field for a day. Beside it stands the day as it was understood."""

    def __init__(
        self,
        label: str,
        today: date,
        *,
        towards: Towards = Towards.PAST,
        day: date | None = None,
        check: Callable[[date], str | None] | None = None,
        hint: str = HOW,
        must: bool = False,
        help_text: str = "",
        id: str | None = None,
    ) -> None:
        super().__init__(
            label, value=day.isoformat() if day else "", hint=hint, must=must, most=20, help_text=help_text, id=id
        )
        self.today = today
        self.towards = towards
        self._check_day = check

    @property
    def day(self) -> date | None:
        """The day, or None while there is none or it cannot be read."""
        try:
            return read_day(self.value, self.today, self.towards) if self.value else None
        except ValueError:
            return None

    def trouble(self, text: str) -> str | None:
        """Whether it can be read as a day, and what the day's own check says."""
        if not text:
            return super().trouble(text)
        try:
            day = read_day(text, self.today, self.towards)
        except ValueError as wrong:
            return str(wrong)
        return self._check_day(day) if self._check_day else None

    def told(self, text: str) -> str:
        """The day as it was understood."""
        return day_shown(self.day) if self.day else self.hint if not text else ""
