"""One line of a form: a label, a compact field, and under it what is wrong or how it was understood."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input

from tui.widgets.day_text import HOW, Towards, day_shown, read_day
from tui.widgets.look import FLAG, Role, mark
from tui.widgets.page_of_words import wrapped
from tui.widgets.plain_input import PlainInput

MOST_LETTERS = 200
LABEL_ROOM = 18
"""Columns of the label; the field, and what is said of it, begin behind them."""
Check = Callable[[str], str | None]
"""Takes what was typed and gives the sentence that says what is wrong, or None."""


class Field(Widget):
    """A labelled field. It is checked when it is left or sent, not as it is typed: half a number is not wrong.

    Label and what is said are drawn, and no parts of their own: a form has many fields, and must open at once.
    """

    DEFAULT_CSS = """
    Field { height: auto; width: 1fr; padding: 0 1; layout: vertical; }
    Field > Input { width: 1fr; max-width: 34; margin: 0 0 0 18; background: $sheet; color: $ink; }
    Field > Input:focus { background: $sheet; background-tint: $ink 8%; }
    Field > Input:nocolor { text-style: underline; }
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
        self.error: str | None = None
        self._judged: str | None = None  # the text that the error is about

    def compose(self) -> ComposeResult:
        """The field itself."""
        self._input = PlainInput(self._start, max_length=self._most)
        yield self._input

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
        """What is said of a text with which nothing is wrong."""
        return "" if text else self.hint

    def _tell(self) -> None:
        """Show what is said now; only more or fewer lines of it move what stands below."""
        width = self.content_size.width
        self.refresh(layout=1 + len(self._said(width)) != self.content_size.height)

    def _said(self, width: int) -> list[Content]:
        """What is wrong, over the whole width, or how the text was understood; one line at least."""
        if self.error:
            return [Content.styled(line, mark(Role.LOSS)) for line in wrapped(f"{FLAG} {self.error}", width)]
        lines = wrapped(self.told(self.value), max(width - LABEL_ROOM, 1)) or [""]
        return [Content.styled(f"{' ' * LABEL_ROOM}{line}", mark(Role.QUIET)) for line in lines]

    def get_content_height(self, _container: Size, _viewport: Size, width: int) -> int:
        """The field, and under it what is said."""
        return 1 + len(self._said(width))

    def render(self) -> Content:
        """The label, bright while the field has the cursor, and what is said."""
        label = mark(Role.INK, bold=True) if self.has_focus_within else mark(Role.QUIET)
        return Content("\n").join([Content.styled(self.label, label), *self._said(self.content_size.width)])

    def on_descendant_focus(self) -> None:
        """The label is bright."""
        self.refresh()

    def on_descendant_blur(self) -> None:
        """The label is quiet again."""
        self.refresh()

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
    """A field for a day. Under it stands the day as it was understood."""

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
        """The day as it was understood; that it is past, where one to come is meant."""
        day = self.day
        if day is None:
            return self.hint if not text else ""
        past = self.towards is Towards.FUTURE and day < self.today
        return f"{day_shown(day)}, past" if past else day_shown(day)
