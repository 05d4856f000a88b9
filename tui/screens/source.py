"""Where a figure comes from: values, changes, error, the lines others draw, and what to keep in mind."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll

from store.care.faults import FAULTS
from store.care.origin import Origin, origin
from store.care.statements import Section, Statement
from store.knowledge.words import Person
from tui.screens.heads import who
from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.one_person import OnePerson
from tui.widgets.page_of_words import PageOfWords


class SourceScreen(OnePerson):
    """The page behind one measure of one episode."""

    WHERE = commands.SOURCE
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.SOURCE)
    HELP_TEXT = (
        "Each line says what it is about, then the words, then how it is known: read in its source, recalled, "
        "derived with its formula, or common practice, which has no source."
    )
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    SourceScreen VerticalScroll { scrollbar-size-vertical: 1; }
    SourceScreen #pages { height: auto; layout: vertical; }
    SourceScreen.-wide #pages { layout: horizontal; }
    SourceScreen.-wide #pages PageOfWords { width: 1fr; }
    """

    def __init__(self, episode: str, measure: str) -> None:
        super().__init__()
        self.episode = episode
        self.measure = measure
        self.person: Person | None = None

    def compose(self) -> ComposeResult:
        """Head, the two halves of the page, the keys."""
        yield HeadLine()
        yield RuleLine()
        with VerticalScroll(), Container(id="pages"):
            yield PageOfWords(id="person-page")
            yield PageOfWords(id="measure-page")
        yield RuleLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Fill it, and let the arrows scroll."""
        self.query_one(VerticalScroll).focus()
        try:
            self._fill(origin(self.shell.care, self.episode, self.measure))
        except FAULTS as fault:
            trouble = Section("nothing can be told", (Statement("why", str(fault)),))
            self.query_one("#person-page", PageOfWords).show((trouble,))

    def keys_now(self) -> list[str | Command]:
        """Only the way back: the arrows scroll."""
        return ["back", self.only_key()]

    def whom(self) -> Person | None:
        """The person whose figure it is."""
        return self.person

    def _fill(self, page: Origin) -> None:
        measure, self.person = page.measure, page.standing.person
        name = parts((measure.name, mark(Role.INK, bold=True)), (f"  {measure.long_name}", mark(Role.QUIET)))
        title = parts(("where it comes from", mark(Role.QUIET)))
        self.query_one(HeadLine).show((who(page.standing), title), (name, parts("")))
        self.query_one("#person-page", PageOfWords).show(page.of_person)
        self.query_one("#measure-page", PageOfWords).show(page.of_measure)
