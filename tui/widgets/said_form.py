"""What has changed, as a few short fields: figures, then space or enter goes on; a blank one is passed over.

Words typed into a field go to the line below: what the person says can be typed as one line as well.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from textual import events, on
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from tui.widgets.look import Role, mark
from tui.widgets.plain_input import PlainInput

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
AT_FIRST = {
    "morning": "There was no session yet, so no morning after one: space goes on.",
    "gaveway": "How often has the ankle given way since the injury? 0 when it did not.",
    "home": "There is no home programme yet: space goes on.",
}
"""What is asked in other words where no visit was before."""

_ALLOWED = "0123456789.,-/"
ROOMY = 24  # rows of the screen from which the rows of fields stand apart
NARROW = 78  # columns of the screen under which the fields are short
Check = Callable[[str, str], bool]
"""Says what is wrong with a field, by its word and text; whether it is well."""
Save = Callable[[str], None]
"""Saves what was typed: the fields as words, then the line."""


class SaidInput(PlainInput):
    """One short field. Space goes on; in `home` it first parts the days done from the days planned.

    It acts at once and not by message, so that keys that come fast land where they are meant.
    """

    takes_enter = True

    def __init__(self, word: str, form: SaidForm) -> None:
        super().__init__(max_length=7, select_on_focus=True, id=f"said-{word}")
        self.word = word
        self.form = form

    async def _on_key(self, event: events.Key) -> None:
        focused = self.screen.focused
        if focused is not self:  # a key that was on its way when the cursor moved on
            event.prevent_default()
            if isinstance(focused, Input):
                event.stop()
                focused.post_message(events.Key(event.key, event.character))
        elif self._acts(event.key, event.character or ""):
            event.stop()
            event.prevent_default()  # else Textual goes on to the handler of Input

    def _acts(self, key: str, letter: str) -> bool:
        """Do what a key means here; whether it means anything but text."""
        if key in ("space", "enter"):
            if key == "space" and self.word == "home" and self.value.isdigit():
                self.insert_text_at_cursor("/")
            else:
                self.form.on_from(self)
        elif key in ("up", "down"):
            self.form.move(self, -len(ROWS[0]) if key == "up" else len(ROWS[0]))
        elif key == "backspace" and not self.value:
            self.form.move(self, -1)
        elif self.word == "consent" and letter.lower() in ("y", "n"):
            self.value = letter.lower()
            self.form.send()
        elif letter.isprintable() and letter and letter not in _ALLOWED:
            if letter.isalpha():
                self.form.write(letter)
        else:
            return False
        return True


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

    def __init__(self, hints: Mapping[str, str], check: Check, save: Save) -> None:
        super().__init__()
        self.hints = {**hints, **HINTS}
        self._check = check
        self._save = save
        self._stood: dict[str, str] = {}
        self.first = False
        self.is_opening = False

    def _parts(self) -> Iterator[Widget]:
        """Two rows of fields, the line, the hint."""
        places = ("-first", "-second", "-third", "-fourth")
        for row in ROWS:
            parts: list[Widget] = []
            for (word, label), place in zip(row, places, strict=True):
                parts += [Static(Content(label), classes=f"label {place}"), SaidInput(word, self)]
            yield Horizontal(*parts)
        yield Horizontal(Static(Content("or a line"), classes="label"), PlainInput(id="said-line"))
        yield Static(id="said-hint")

    @property
    def fields(self) -> list[SaidInput]:
        """The fields in their order."""
        return list(self.query(SaidInput))

    @property
    def line(self) -> Input:
        """The line below the fields."""
        return self.query_one("#said-line", Input)

    def begin(self, said: Mapping[str, str], *, first: bool = False) -> None:
        """Show what was said so far, with the cursor in the first field. What was typed and not sent stays.

        `first` says that no visit was before this one.
        The fields are made when they are first wanted: they are two thirds of the time that a visit takes to open.
        """
        self.first = first
        self.display = True
        if self.fields:
            self._show(said)
        else:
            self.is_opening = True
            self.call_next(self._open, said)

    async def _open(self, said: Mapping[str, str]) -> None:
        await self.mount_all(self._parts())
        self._show(said)
        self.is_opening = False

    def _show(self, said: Mapping[str, str]) -> None:
        for field in self.fields:
            if field.value == self._stood.get(field.word, ""):
                field.value = said.get(field.word, "")
        self._stood = dict(said)
        self.screen.set_focus(self.fields[0])

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

    def on_from(self, field: SaidInput) -> None:
        """The next field, unless this one cannot be read; after the last one, save."""
        if not self._check(field.word, field.value.strip()):
            return
        if field is self.fields[-1]:
            self.send()
        else:
            self.move(field, 1)

    def move(self, field: SaidInput, by: int) -> None:
        """So many fields on or back; beyond the last stands the line."""
        at = self.fields.index(field) + by
        if at >= len(self.fields):
            self.screen.set_focus(self.line)
        elif at >= 0:
            self.screen.set_focus(self.fields[at])

    def write(self, letter: str) -> None:
        """A letter belongs into the line."""
        self.screen.set_focus(self.line)
        self.line.insert_text_at_cursor(letter)

    @on(Input.Submitted)
    def _line_entered(self, event: Input.Submitted) -> None:
        event.stop()
        self.send()

    def send(self) -> None:
        """Have what was typed saved, unless a field cannot be read: then go there."""
        for field in self.fields:
            if not self._check(field.word, field.value.strip()):
                self.screen.set_focus(field)
                return
        self._save(self.typed)

    def on_resize(self) -> None:
        """Set the rows apart where there is room, and make the fields short where there is little."""
        self.set_class(self.screen.size.height >= ROOMY, "-roomy")
        self.set_class(self.screen.size.width < NARROW, "-narrow")

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Tell what the field in hand asks."""
        word = event.widget.word if isinstance(event.widget, SaidInput) else ""
        hints = {**self.hints, **AT_FIRST} if self.first else self.hints
        hint = hints.get(word, "pain 2 worst 4 morning 1 walk 1 gaveway 0 home 5/7 confidence 6 consent y")
        self.query_one("#said-hint", Static).update(Content.styled(hint, mark(Role.QUIET)))
