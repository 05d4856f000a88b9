"""Reads the giant letters off a terminal: the words that are to be seen from across the room."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache, partial

from tests.terminal.view import View
from tui.widgets.letters import STROKES, Dots, letter_dots

LOW = 5  # dots: no letter is lower
NEAR = 6  # blank columns: letters no farther apart than that are of one word


def giant(view: View) -> tuple[str, ...]:
    """The words in giant letters, from top to bottom and left to right. What is no letter is left out.

    A nought looks like an O: beside figures, or alone, it is read as a nought.
    """
    dots = _dots(view)
    wide = len(view.cells[0])
    found: list[str] = []
    for top, end in _runs(len(dots), lambda y: any(dots[y])):
        band = dots[top:end]
        glyphs = list(_runs(wide, partial(_inked, band)))
        if end - top >= LOW:
            found += _words(band, glyphs)
    return tuple(found)


def _inked(band: list[list[bool]], x: int) -> bool:
    """Whether any row of the band has a dot in this column."""
    return any(row[x] for row in band)


def _dots(view: View) -> list[list[bool]]:
    """Two rows of dots for each row of the screen."""
    rows: list[list[bool]] = []
    for cells in view.cells:
        rows.append([cell.char in "█▀" and cell.char != "" for cell in cells])
        rows.append([cell.char in "█▄" and cell.char != "" for cell in cells])
    return rows


def _runs(end: int, holds: Callable[[int], bool]) -> Iterator[tuple[int, int]]:
    """The stretches, as half-open ranges, over which something holds."""
    start: int | None = None
    for at in range(end + 1):
        if at < end and holds(at):
            start = at if start is None else start
        elif start is not None:
            yield start, at
            start = None


def _words(band: list[list[bool]], glyphs: list[tuple[int, int]]) -> list[str]:
    words, last = [""], -NEAR
    for left, right in glyphs:
        lit = frozenset((x - left, y) for y, row in enumerate(band) for x in range(left, right) if row[x])
        letter = _letters(right - left, len(band)).get(lit, "")
        if left - last > NEAR:
            words.append("")
        words[-1] += letter
        last = right
    return [word.replace("O", "0") if set(word) <= set("0123456789O+") else word for word in words if word]


@lru_cache(64)
def _letters(width: int, height: int) -> dict[Dots, str]:
    """Every letter that fills a box of this size, with strokes of any thickness."""
    found: dict[Dots, str] = {}
    for letter in STROKES:
        for stroke in range(1, max(2, height // 3)):
            found.setdefault(letter_dots(letter, width, height, stroke), letter)
    return found
