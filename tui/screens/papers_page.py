"""What the screen of papers shows: the note, the letter or the home sheet, and where words are typed."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static, TextArea

from store.care import noting
from store.care.faults import FAULTS, CareFault
from store.care.in_words import visible
from store.care.noting import NoteView
from store.care.statements import Section, Statement
from store.knowledge.words import Person
from store.papers.note import note_page
from tui.screens.papers_shown import (
    CALENDAR,
    LETTER,
    NOTE,
    Paper,
    calendar_paper,
    letter_paper,
    of_page,
    sheet_paper,
)
from tui.widgets import commands
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import CURSOR, Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.page_of_words import PageOfWords
from tui.widgets.plain_input import PlainInput

NO_VISIT = "There is no visit yet to write a note of: esc goes back, and v starts one."


class PapersPage(OnePerson, Notices):
    """The papers of an episode. It reads them afresh after each act."""

    WHERE = commands.PAPERS
    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    PapersPage VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    PapersPage PageOfWords { max-width: 100; }
    PapersPage TextArea { height: 1fr; border: none; background: $sheet; color: $ink; display: none; }
    PapersPage #ask { height: 1; padding: 0 1; display: none; }
    PapersPage #ask Static { width: auto; color: $quiet; }
    PapersPage #ask Input { width: 1fr; margin: 0 1; background: $sheet; color: $ink; }
    PapersPage #ask Input:nocolor { text-style: underline; }
    PapersPage.-typing TextArea { display: block; }
    PapersPage.-typing VerticalScroll { display: none; }
    PapersPage.-asking #ask { display: block; }
    """

    def __init__(self, episode: str, visit: str | None = None) -> None:
        super().__init__()
        self.episode = episode
        self.visit = visit
        self.paper = NOTE
        self.at = 0
        self.student = False
        self.typing = ""
        self.asking = ""
        self.shown: NoteView | None = None
        self.person: Person | None = None
        self.told: Paper | None = None  # the paper on show
        self.none_because = NO_VISIT

    def compose(self) -> ComposeResult:
        """Head, the paper or the words that are typed, the line that asks, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        with VerticalScroll(can_focus=False):
            yield PageOfWords(about=1)
        yield TextArea(soft_wrap=True, id="words")
        with Horizontal(id="ask"):
            yield Static(id="asks")
            yield PlainInput(max_length=400, id="answer")
        yield RuleLine()
        yield MessageLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """No cursor blinks."""
        self.query_one(TextArea).cursor_blink = False

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it: what was asked about signing was asked of another note."""
        self.again.take_back()
        self._read()

    # reading

    def _read(self) -> None:
        care = self.shell.care
        try:
            self.person = care.person(care.episode(self.episode).person)
            if self.visit is None:
                self.visit = noting.visit_to_note(care, self.episode)
            self.shown = noting.note_of(care, self.visit) if self.visit is not None else None
            self.told = self._paper()
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._show()

    def _paper(self) -> Paper | None:
        """The paper that is turned to; None, with why, where there is none yet."""
        care, self.none_because = self.shell.care, NO_VISIT
        if self.paper == NOTE:
            return of_page(note_page(care, self.shown)) if self.shown is not None else None
        if self.paper == LETTER:
            return letter_paper(care, self.episode)
        try:
            if self.paper == CALENDAR:
                assert self.person is not None
                return calendar_paper(care, self.person)
            return sheet_paper(care, self.episode)
        except CareFault as none:
            self.none_because = f"{str(none)[:1].upper()}{str(none)[1:]}."
            return None

    def _show(self) -> None:
        words = self.query_one(PageOfWords)
        name = self.paper
        if self.paper == NOTE and self.shown is not None:
            name = "note, signed" if self.shown.signed else "note, draft"
        label = visible(self.person.label) if self.person is not None else ""
        state = " as a student" if self.student and self.paper == NOTE else ""
        left = parts((label, mark(Role.INK, bold=True)), (f"  {name}", mark(Role.QUIET)))
        self.query_one(HeadLine).show((left, parts((state, mark(Role.QUIET)))))
        if self.told is None:
            words.show((Section(f"no {self.paper} yet", (Statement("", self.none_because),)),))
            self.refresh_keys()
            return
        page = self.told.page
        head = Section(page.title, _lines(page.head))
        blocks = [self._section(at, block.title, block.lines) for at, block in enumerate(page.blocks)]
        words.show((head, *blocks, Section("", _lines(page.foot))))
        self.refresh_keys()

    def _section(self, at: int, title: str, lines: tuple[str, ...]) -> Section:
        shown = self.shown
        if self.paper == NOTE and shown is not None and not shown.signed:
            title += ", edited" if title in shown.edited else ""
            title = f"{CURSOR} {title}" if at == self.at else f"  {title}"
        return Section(title, _lines(lines))


def _lines(lines: tuple[str, ...]) -> tuple[Statement, ...]:
    return tuple(Statement("", line) for line in lines)
