"""What a terminal shows: a pyte screen that knows the alternate screen, and a still picture of it."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass
from functools import lru_cache

import pyte
from wcwidth import wcwidth

_ALTERNATE = 1049
_CURSOR_SHOWN = 25 << 5  # pyte keeps private modes shifted
# Keyboard-protocol requests, which pyte would print as a stray letter.
_KEYBOARD = re.compile(rb"\x1b\[[<=>][0-9;]*u")
_COMMONEST = re.compile(r"\x1b\[([0-9;]*)([mH])")
_UNFINISHED = re.compile(rb"\x1b(\[[<=>]?[0-9;]*)?\Z")


@dataclass(frozen=True, slots=True)
class Cell:
    """One character with its look. Colours are six hex digits, one of the sixteen names, or `default`."""

    char: str
    fg: str
    bg: str
    bold: bool
    reverse: bool


@dataclass(frozen=True, slots=True)
class View:
    """The screen as it stood at one instant: lines of text with trailing blanks cut, and every cell."""

    lines: tuple[str, ...]
    cells: tuple[tuple[Cell, ...], ...]
    cursor: tuple[int, int]  # row, column
    cursor_shown: bool
    alternate: bool

    @property
    def text(self) -> str:
        """All lines as one text."""
        return "\n".join(self.lines)

    def find(self, text: str) -> tuple[int, int] | None:
        """Row and column of the first place where the text stands on one line, or None."""
        for row, line in enumerate(self.lines):
            if (column := line.find(text)) >= 0:
                return row, column
        return None

    def line_with(self, text: str) -> str:
        """The first line that holds the text, or an empty one."""
        return next((line for line in self.lines if text in line), "")

    def look_of(self, text: str) -> tuple[Cell, ...]:
        """The cells of the first place where the text stands. Raises LookupError when it is nowhere."""
        place = self.find(text)
        if place is None:
            raise LookupError(f"{text!r} is not on the screen")
        row, column = place
        return self.cells[row][column : column + len(text)]

    @property
    def colours(self) -> frozenset[str]:
        """Every colour in use, but the terminal's own."""
        used = {colour for row in self.cells for cell in row for colour in (cell.fg, cell.bg)}
        return frozenset(used - {"default"})


class _Screen(pyte.Screen):
    """A pyte screen with the alternate screen, and without an answer to what it is asked."""

    def __init__(self, columns: int, rows: int) -> None:
        self.alternate = False
        self._main: dict[int, dict[int, pyte.screens.Char]] = {}
        super().__init__(columns, rows)

    def set_mode(self, *modes: int, **rest: object) -> None:
        if rest.get("private") and _ALTERNATE in modes and not self.alternate:
            self._main = {row: dict(line) for row, line in self.buffer.items()}
            self.alternate = True
            self.save_cursor()
            self.erase_in_display(2)
        super().set_mode(*modes, **rest)

    def reset_mode(self, *modes: int, **rest: object) -> None:
        if rest.get("private") and _ALTERNATE in modes and self.alternate:
            self.alternate = False
            self.erase_in_display(2)
            for row, line in self._main.items():
                self.buffer[row].update(line)
            self.restore_cursor()
        super().reset_mode(*modes, **rest)

    # The same as the ones of pyte, which put every cell and every colour together anew: most of a test's time.

    def draw(self, data: str) -> None:
        cursor = self.cursor
        if self.charset or cursor.x + len(data) > self.columns or not _NARROW.issuperset(data):
            if _are_narrow(data):
                _NARROW.update(data)
            super().draw(data)
            return
        line, attrs = self.buffer[cursor.y], cursor.attrs
        for at, char in enumerate(data, cursor.x):
            line[at] = _char(attrs, char)
        cursor.x += len(data)
        self.dirty.add(cursor.y)

    def select_graphic_rendition(self, *attrs: int, **rest: bool) -> None:
        key = (self.cursor.attrs, attrs)
        if key not in _RENDITIONS:
            super().select_graphic_rendition(*attrs, **rest)
            _RENDITIONS[key] = self.cursor.attrs
        self.cursor.attrs = _RENDITIONS[key]


_NARROW: set[str] = set()
_RENDITIONS: dict[tuple[pyte.screens.Char, tuple[int, ...]], pyte.screens.Char] = {}


def _are_narrow(text: str) -> bool:
    return all(wcwidth(char) == 1 for char in text)


@lru_cache(maxsize=50_000)
def _char(attrs: pyte.screens.Char, char: str) -> pyte.screens.Char:
    return attrs._replace(data=char)


class _Stream(pyte.Stream):
    """A pyte stream that reads the commonest commands, a colour and a place, at once and not by letters."""

    def __init__(self, screen: _Screen) -> None:
        super().__init__(screen)
        self._of = screen

    def feed(self, data: str) -> None:
        at = 0
        while at < len(data):
            found = _COMMONEST.search(data, at) if self._taking_plain_text else None
            if found is None:
                super().feed(data[at:])
                return
            if found.start() > at:
                super().feed(data[at : found.start()])
                if not self._taking_plain_text:  # it stands within another command
                    super().feed(found.group())
                    at = found.end()
                    continue
            numbers = [min(int(number or 0), 9999) for number in found.group(1).split(";")]
            if found.group(2) == "m":
                self._of.select_graphic_rendition(*numbers)
            else:
                self._of.cursor_position(*numbers)
            at = found.end()


@lru_cache(maxsize=10_000)
def _cell(char: pyte.screens.Char) -> Cell:
    return Cell(char.data, char.fg, char.bg, char.bold, char.reverse)


class Eye:
    """Turns the bytes of a program into views."""

    def __init__(self, columns: int, rows: int) -> None:
        self._screen = _Screen(columns, rows)
        self._stream = _Stream(self._screen)
        self._decoder = codecs.getincrementaldecoder("utf-8")("replace")
        self._held = b""
        self._lines: dict[int, str] = {}
        self._cells: dict[int, tuple[Cell, ...]] = {}  # of lines that were not written to since a view was made
        self._unasked: set[int] = set()

    def feed(self, data: bytes) -> None:
        """Take in what the program wrote; an unfinished escape at the end waits for the rest."""
        data = _KEYBOARD.sub(b"", self._held + data)
        unfinished = _UNFINISHED.search(data)
        cut = unfinished.start() if unfinished else len(data)
        self._held = data[cut:]
        self._stream.feed(self._decoder.decode(data[:cut]))

    def resize(self, columns: int, rows: int) -> None:
        """Take a new size; the program is expected to paint again."""
        self._screen.resize(rows, columns)
        self._cells.clear()

    def holds(self, text: str) -> bool:
        """Whether the text stands on one line, without the cost of a whole view."""
        self._read()
        return any(text in line for line in self._lines.values())

    def changed(self) -> list[str]:
        """The lines that were written to since this was asked last."""
        self._read()
        rows, self._unasked = self._unasked, set()
        return [self._lines[row] for row in sorted(rows) if row in self._lines]

    def _read(self) -> None:
        """Keep the text of each line: only lines that were written to are put together again."""
        screen = self._screen
        for row in screen.dirty:
            line = screen.buffer[row]
            self._lines[row] = "".join(line[at].data for at in range(screen.columns))
            self._cells.pop(row, None)
        self._unasked |= screen.dirty
        screen.dirty.clear()
        if len(self._lines) > screen.lines:
            self._lines = {row: line for row, line in self._lines.items() if row < screen.lines}

    def view(self) -> View:
        """A still picture of now."""
        self._read()
        screen = self._screen
        for row in range(screen.lines):
            if row not in self._cells:
                line = screen.buffer[row]
                self._cells[row] = tuple(_cell(line[column]) for column in range(screen.columns))
        cells = tuple(self._cells[row] for row in range(screen.lines))
        return View(
            lines=tuple("".join(cell.char for cell in row).rstrip() for row in cells),
            cells=cells,
            cursor=(screen.cursor.y, screen.cursor.x),
            cursor_shown=_CURSOR_SHOWN in screen.mode,
            alternate=screen.alternate,
        )
