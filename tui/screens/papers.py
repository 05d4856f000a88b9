"""Papers: the note of a visit, drafted, edited, signed; letter, calendar, home sheet. Each is saved and copied."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, Static, TextArea

from store.care import noting
from store.care.addressing import address, goes_to
from store.care.faults import FAULTS
from store.care.in_words import visible
from store.care.noting import ADDITION, SECTIONS
from store.knowledge.words import Person
from store.papers.saving import typed_path
from tui.screens.papers_page import NO_VISIT, PapersPage
from tui.screens.papers_shown import ENDINGS, LETTER, NOTE, others, turned
from tui.widgets import commands
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.message_line import Kind
from tui.widgets.read_on import read_on

FILE, COUNTERSIGN, WHOM = "file", "countersign", "to whom"
USUAL_ENDINGS = ".txt .md .html .pdf"
ASKS = {
    FILE: "save to, ending in",
    COUNTERSIGN: "countersigned by",
    WHOM: "the letter goes to (nobody: left out)",
}
_OF_NOTE = ("edit", "end", "another", "student")


class PapersScreen(PapersPage):
    """The keys of the screen: what edits, signs, saves and copies."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.PAPERS),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    HELP_TEXT = (
        "The note writes itself from what was said, measured, timed and decided. Up and down choose a section, e "
        "edits it, and ctrl+o keeps the words; an empty section is drafted again. x signs, which ends the visit "
        "and locks the note: what comes later is an addition (a). z signs as a student, and then takes the "
        "countersign. Left and right go to the letter, where e says to whom it goes, to the calendar of visits "
        "and runs, and to the home sheet. ctrl+o saves to a file, y copies."
    )

    # keys

    def keys_now(self) -> list[str | Command]:
        """What can be done with the paper on show."""
        save, back = get("save"), get("back")
        if self.typing:
            return [relabelled(save, "keep"), relabelled(back, "leave as it was")]
        if self.asking:
            return [relabelled(back, "leave it")]
        other = relabelled(get("turn"), others(self.paper))
        ways: list[str | Command] = [other, relabelled(save, "to a file"), "copy"]
        more = relabelled(get("read"), "more")
        rest: list[str | Command] = ["read", "back", self.only_key()]
        if self.paper == LETTER:
            return [relabelled(get("edit"), WHOM), *ways, *rest]
        if self.paper != NOTE or self.shown is None:
            return [*ways, *rest]
        if self.shown.signed:
            student: list[str | Command] = (
                [relabelled(get("student"), "countersign")] if self.shown.wants_countersign else []
            )
            return [relabelled(get("another"), "add"), *student, other, more, *ways[1:], *rest[1:]]
        return [
            get("edit"),
            relabelled(get("end"), "sign"),
            other,
            more,
            "copy",
            relabelled(save, "to a file"),
            get("student"),
            *rest[1:],
        ]

    def why_not(self, command_id: str) -> str | None:
        """The note's keys want a note on show; a signed one is locked."""
        if command_id == "edit" and self.paper == LETTER:
            return None
        if command_id in _OF_NOTE and (self.paper != NOTE or self.shown is None):
            return "This key is for the note: ← or → shows it." if self.paper != NOTE else NO_VISIT
        if command_id in ("edit", "end") and self.shown is not None and self.shown.signed:
            return f"T{noting.LOCKED[1:]}."
        if command_id in ("copy", "save") and self.told is None:
            return self.none_because
        return None

    def whom(self) -> Person | None:
        """The person whose papers they are."""
        return self.person

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes the question about signing back."""
        if command_id != "end":
            self.again.take_back()
        super().action_do(command_id, key)

    def action_move(self, by: int) -> None:
        """The section above or below; in the letter, and in a signed note, a line on."""
        if self.typing or self.asking:
            return
        if self.paper == NOTE and self.shown is not None and not self.shown.signed:
            self.at = min(max(self.at + by, 0), len(SECTIONS) - 1)
            self._show()
        self.query_one(VerticalScroll).scroll_relative(y=by, animate=False)

    def do_turn(self, key: str) -> None:
        """The next paper, or the one before."""
        self.paper = turned(self.paper, 1 if key == "right" else -1)
        self._read()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def do_read(self, key: str) -> None:
        """A page on, or back."""
        read_on(self.query_one(VerticalScroll), key)

    # the note

    def do_edit(self) -> None:
        """Type in the section under the cursor; in the letter, to whom it goes."""
        if self.paper == LETTER:
            self._ask(WHOM, goes_to(self.shell.care, self.shell.care.episode(self.episode)))
            return
        assert self.shown is not None
        section = SECTIONS[self.at]
        self._type(section, self.shown.sections[section])

    def do_another(self) -> None:
        """Add to a signed note."""
        if self.shown is not None and not self.shown.signed:
            self.say("This note is not signed yet: e edits it.")
        else:
            self._type(ADDITION, "")

    def _type(self, what: str, text: str) -> None:
        self.typing = what
        self.add_class("-typing")
        area = self.query_one(TextArea)
        area.load_text(text)
        self.set_focus(area)
        self.say(f"{what}: ctrl+o keeps what you type, esc leaves it as it was")

    def do_end(self) -> None:
        """Sign, once it was asked: a signed note is locked for good."""
        who = f"{visible(self.shell.care.examiner)}{', a student' if self.student else ''}"
        if not self.again.confirms("sign"):
            self.say(f"Sign as {who}? It ends the visit and locks the note for good: x again signs.", Kind.NOTE)
            return
        assert self.visit is not None
        try:
            noting.sign(self.shell.care, self.visit, student=self.student)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._read()
        self.say(f"note signed by {who}", Kind.SAVED)

    def do_student(self) -> None:
        """Sign as a student, or not; on a student's signed note take the countersign."""
        assert self.shown is not None
        if not self.shown.signed:
            self.student = not self.student
            self._show()
            self.say("x signs as a student: a countersign is wanted then" if self.student else "not as a student")
        elif self.shown.wants_countersign:
            self._ask(COUNTERSIGN)
        else:
            self.say("Only a student's signed note takes a countersign, and only one.")

    # out of the program

    def do_save(self) -> None:
        """Keep what was typed; else ask for the file to save this paper to."""
        if not self.typing:
            self._ask(FILE)
            return
        text, what = self.query_one(TextArea).text, self.typing
        care, visit = self.shell.care, self.visit
        assert visit is not None
        try:
            if what == ADDITION:
                noting.add(care, visit, text)
            else:
                noting.edit(care, visit, what, text)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._put_away()
        self._read()
        again = "drafted again" if what != ADDITION and not text.strip() else "saved"
        self.say(f"{what}: {again}", Kind.SAVED)

    def do_copy(self) -> None:
        """The paper as text to the clipboard, for the clinic's own system."""
        assert self.told is not None
        self.app.copy_to_clipboard(self.told.text)
        self.say(f"{self.paper} copied as text, where this terminal allows it: paste it where it belongs")

    def _ask(self, what: str, now: str = "") -> None:
        if self.told is None:
            self.say(self.none_because)
            return
        self.asking = what
        self.add_class("-asking")
        endings = f" {ENDINGS.get(self.paper, USUAL_ENDINGS)}" if what == FILE else ""
        self.query_one("#asks", Static).update(f"{ASKS[what]}{endings}")
        field = self.query_one(Input)
        field.value = now
        field.cursor_position = len(now)
        self.set_focus(field)

    @on(Input.Submitted, "#answer")
    def _answered(self, event: Input.Submitted) -> None:
        event.stop()
        answer, asked, told = event.value.strip(), self.asking, self.told
        if told is None or (not answer and asked != WHOM):
            self._put_away()
            return
        try:
            if asked == WHOM:
                to = address(self.shell.care, self.episode, answer)
                says = f"the letter goes to {visible(to)}" if to else "the letter names nobody"
            elif asked == COUNTERSIGN:
                assert self.visit is not None
                noting.countersign(self.shell.care, self.visit, answer)
                says = f"countersigned by {visible(answer)}"
            else:
                path = typed_path(answer)
                if self._asks_to_replace(path):
                    return
                says = f"saved to {told.save(path)}"
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._put_away()
        self._read()
        self.say(says, Kind.SAVED)

    def _asks_to_replace(self, path: Path) -> bool:
        """Whether a file is there already and nobody said yet that it may go: what is replaced is gone."""
        try:
            there = path.is_file()
        except OSError:  # such as a name that is too long: saving says so
            there = False
        if not there or self.again.confirms(str(path)):
            return False
        self.say(f"{path.name} is there already: enter again replaces it, or name another", Kind.NOTE)
        return True

    def _put_away(self) -> None:
        self.again.take_back()
        self.typing = self.asking = ""
        self.remove_class("-typing", "-asking")
        self.set_focus(None)

    def do_back(self) -> None:
        """Put away what is typed, else leave the screen."""
        if self.typing or self.asking:
            self._put_away()
            self.say("left as it was")
        else:
            self.app.pop_screen()
