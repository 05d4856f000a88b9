"""What has changed, as a few short fields: figures, then space or enter goes on; a blank one is passed over.

Words typed into a field go to the line below: what the person says can be typed as one line as well.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from tui.widgets.look import Role, mark

ROWS: tuple[tuple[tuple[str, str], ...], ...] = (
    (("pain", "pain now"), ("worst", "worst"), ("morning", "next morning"), ("walk", "walking")),
    (("gaveway", "giving way"), ("home", "home"), ("confidence", "confidence"), ("consent", "consent")),
)
"""The words of the line, row by row, with the label that each stands under on screen."""

HINTS = {
    "gaveway": "How often has the ankle given way since the last visit? 0 when it did not.",
    "home": "Days the home programme was done, and planned: 5 space 7, or 5/7.",
    "consent": "Does the person agree to today's visit? y or n, and it is saved.",
}
_ALLOWED = "0123456789.,-/"
ROOMY = 24  # rows of the screen from which the rows of fields stand apart
NARROW = 78  # columns of the screen under which the fields are short
Check = Callable[[str], str | None]


class SaidInput(Input):
    """One short field. Space goes on; in `home` it first parts the days done from the days planned."""

    @dataclass
    class Went(Message):
        """The next field is wanted, or the one before (-1), or the row above or below (-2, 2)."""

        field: SaidInput
        by: int

    @dataclass
    class Wrote(Message):
        """A letter was typed, which belongs into the line."""

        letter: str

    @dataclass
    class Answered(Message):
        """Consent was given, or refused."""

    def __init__(self, word: str) -> None:
        super().__init__(compact=True, max_length=7, select_on_focus=True, id=f"said-{word}")
        self.word = word
        self.cursor_blink = False

    async def _on_key(self, event: events.Key) -> None:
        letter = event.character or ""
        if event.key == "space":
            self._take(event)
            if self.word == "home" and self.value.isdigit():
                self.value += "/"
                self.cursor_position = len(self.value)
            else:
                self.post_message(self.Went(self, 1))
        elif event.key in ("up", "down"):
            self._take(event)
            self.post_message(self.Went(self, -2 if event.key == "up" else 2))
        elif event.key == "backspace" and not self.value:
            self._take(event)
            self.post_message(self.Went(self, -1))
        elif self.word == "consent" and letter.lower() in ("y", "n"):
            self._take(event)
            self.value = letter.lower()
            self.post_message(self.Answered())
        elif letter.isprintable() and letter and letter not in _ALLOWED:
            self._take(event)
            if letter.isalpha():
                self.post_message(self.Wrote(letter))
        else:
            await super()._on_key(event)

    def _take(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()


class SaidForm(Vertical):
    """The fields, the line, and what the field in hand asks."""

    HELP_TEXT = (
        "What has changed since the last visit. Type figures; space or enter goes to the next field, a blank one "
        "is passed over. y or n in the last field says whether the person agrees to today's visit, and saves. A "
        "letter goes to the line, where the same can be typed as words: pain 2 worst 4 home 5/7 consent y."
    )
    DEFAULT_CSS = """
    SaidForm { height: auto; padding: 0 1; display: none; }
    SaidForm Horizontal { height: 1; }
    SaidForm.-narrow SaidInput { width: 4; margin: 0 1 0 0; }
    SaidForm.-roomy Horizontal { margin-bottom: 1; }
    SaidForm .label { width: 11; color: $quiet; }
    SaidForm .label.-second { width: 6; }
    SaidForm .label.-third { width: 13; }
    SaidForm .label.-fourth { width: 8; }
    SaidForm SaidInput { width: 8; margin: 0 2 0 0; background: $sheet; color: $ink; }
    SaidForm #said-line { width: 1fr; background: $sheet; color: $ink; }
    SaidForm Input:focus { background: $sheet; background-tint: $ink 12%; }
    SaidForm Input:nocolor { text-style: underline; }
    SaidForm #said-hint { height: 1; color: $quiet; }
    """

    @dataclass
    class Sent(Message):
        """What was typed shall be saved: the fields as words, then the line."""

        line: str

    class Refused(Message):
        """What a field holds cannot be read: why, and how to type it."""

        def __init__(self, why: str) -> None:
            super().__init__()
            self.why = why

    def __init__(self, hints: Mapping[str, str], check: Check) -> None:
        super().__init__()
        self.hints = {**hints, **HINTS}
        self._check = check
        self._stood: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """Two rows of fields, the line, the hint."""
        places = ("-first", "-second", "-third", "-fourth")
        for row in ROWS:
            with Horizontal():
                for (word, label), place in zip(row, places, strict=True):
                    yield Static(Content(label), classes=f"label {place}")
                    yield SaidInput(word)
        with Horizontal():
            yield Static(Content("or a line"), classes="label")
            line = Input(compact=True, select_on_focus=False, id="said-line")
            line.cursor_blink = False
            yield line
        yield Static(id="said-hint")

    @property
    def fields(self) -> list[SaidInput]:
        """The fields in their order."""
        return list(self.query(SaidInput))

    @property
    def line(self) -> Input:
        """The line below the fields."""
        return self.query_one("#said-line", Input)

    def begin(self, said: Mapping[str, str]) -> None:
        """Show what was said so far, with the cursor in the first field. What was typed and not sent stays."""
        for field in self.fields:
            if field.value == self._stood.get(field.word, ""):
                field.value = said.get(field.word, "")
        self._stood = dict(said)
        self.display = True
        self.fields[0].focus()

    def end(self, *, saved: bool) -> None:
        """Put the form away; once it was saved, nothing typed is left over."""
        self.display = False
        if saved:
            self._stood = {}
            self.line.value = ""
            for field in self.fields:
                field.value = ""

    @property
    def typed(self) -> str:
        """What was typed anew as words of the line; empty when there is nothing."""
        new = [field for field in self.fields if field.value.strip() not in ("", self._stood.get(field.word, ""))]
        return " ".join(
            [*(f"{field.word} {field.value.strip()}" for field in new), self.line.value.strip()]
        ).strip()

    # moving

    @on(SaidInput.Went)
    def _go(self, event: SaidInput.Went) -> None:
        event.stop()
        if event.by == 1 and self._wrong(event.field):
            return
        at = self.fields.index(event.field)
        step = event.by // 2 * len(ROWS[0]) if abs(event.by) == 2 else event.by
        if event.by == 1 and at == len(self.fields) - 1:
            self._send()
        elif at + step >= len(self.fields):
            self.line.focus()
        elif at + step >= 0:
            self.fields[at + step].focus()

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if isinstance(event.input, SaidInput):
            self.post_message(SaidInput.Went(event.input, 1))
        else:
            self._send()

    @on(SaidInput.Wrote)
    def _write(self, event: SaidInput.Wrote) -> None:
        event.stop()
        line = self.line
        line.focus()
        line.insert_text_at_cursor(event.letter)

    @on(SaidInput.Answered)
    def _answered(self, event: SaidInput.Answered) -> None:
        event.stop()
        self._send()

    def _wrong(self, field: SaidInput) -> bool:
        """Say at once what cannot be read, and stay."""
        value = field.value.strip()
        why = self._check(f"{field.word} {value}") if value else None
        if why is not None:
            self.post_message(self.Refused(why))
        return why is not None

    def _send(self) -> None:
        for field in self.fields:
            if self._wrong(field):
                field.focus()
                return
        self.post_message(self.Sent(self.typed))

    def on_resize(self) -> None:
        """Set the rows apart where there is room, and make the fields short where there is little."""
        self.set_class(self.screen.size.height >= ROOMY, "-roomy")
        self.set_class(self.screen.size.width < NARROW, "-narrow")

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Tell what the field in hand asks."""
        word = event.widget.word if isinstance(event.widget, SaidInput) else ""
        hint = self.hints.get(word, "pain 2 worst 4 morning 1 walk 1 gaveway 0 home 5/7 confidence 6 consent y")
        self.query_one("#said-hint", Static).update(Content.styled(hint, mark(Role.QUIET)))
