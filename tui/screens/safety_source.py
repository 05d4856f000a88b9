"""Where a rule of the safety screen comes from: its figures, lines and forms, and what it does not cover."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from store.care.faults import FAULTS
from store.care.safety_words import source_page
from store.care.standing import Standing, standing
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


class SafetySourceScreen(OnePerson):
    """The page behind one rule."""

    WHERE = commands.SOURCE
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings(commands.SOURCE)
    HELP_TEXT = (
        "Each line says what it is about, then the words, then how it is known: read in its source, recalled, "
        "derived with its formula, or common practice, which has no source."
    )
    DEFAULT_CSS = """
    SafetySourceScreen VerticalScroll { scrollbar-size-vertical: 1; }
    """

    def __init__(self, episode: str, rule: str) -> None:
        super().__init__()
        self.episode = episode
        self.rule = rule
        self.held: Standing | None = None

    def compose(self) -> ComposeResult:
        """Head, the page, the keys."""
        yield HeadLine()
        yield RuleLine()
        with VerticalScroll():
            yield PageOfWords()
        yield RuleLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Fill it, and let the arrows scroll."""
        self.query_one(VerticalScroll).focus()
        care = self.shell.care
        try:
            self.held = standing(care, self.episode)
        except FAULTS as fault:
            trouble = Section("nothing can be told", (Statement("why", str(fault)),))
            self.query_one(PageOfWords).show((trouble,))
            return
        title = parts(("where it comes from", mark(Role.QUIET)))
        self.query_one(HeadLine).show((who(self.held), title))
        self.query_one(PageOfWords).show(source_page(care, self.rule))

    def keys_now(self) -> list[str | Command]:
        """Only the way back: the arrows scroll."""
        return ["back", self.only_key()]

    def whom(self) -> Person | None:
        """The person whose screen it is."""
        return self.held.person if self.held is not None else None
