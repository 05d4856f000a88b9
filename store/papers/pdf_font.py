"""Which fonts of this computer a PDF takes its letters from, and what stands for a letter that none has."""

from __future__ import annotations

import unicodedata
from collections.abc import Container, Iterable
from pathlib import Path
from typing import NamedTuple

FOLDERS = (
    "/usr/share/fonts/truetype/liberation", "/usr/share/fonts/truetype/dejavu", "/usr/share/fonts/dejavu",
    "/usr/share/fonts/TTF", "/Library/Fonts", "/System/Library/Fonts/Supplemental", "C:/Windows/Fonts",
)  # fmt: skip
"""Where systems keep their fonts."""

NARROW = (
    ("LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf"), ("Arial.ttf", "Arial Bold.ttf"),
    ("arial.ttf", "arialbd.ttf"),
)  # fmt: skip
WIDE = (("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"),)


class Font(NamedTuple):
    """The files of a font. `more` has letters that it lacks."""

    plain: Path
    bold: Path
    more: Path | None = None


def find_font(folders: Iterable[str | Path] = FOLDERS) -> Font | None:
    """A font of this computer, with more letters than those that every reader has; None where it has none."""
    folders = tuple(folders)
    narrow, wide = _first(folders, NARROW), _first(folders, WIDE)
    if narrow is None:
        return Font(*wide) if wide else None
    return Font(*narrow, more=wide[0] if wide else None)


def _first(folders: Iterable[str | Path], names: tuple[tuple[str, str], ...]) -> tuple[Path, Path] | None:
    pairs = ((Path(folder, plain), Path(folder, bold)) for folder in folders for plain, bold in names)
    return next((pair for pair in pairs if all(each.is_file() for each in pair)), None)


class Western(Container[object]):
    """The letters that every reader's built-in fonts have: those of western Europe."""

    def __contains__(self, code: object) -> bool:
        """Whether it has the letter of this code point."""
        return isinstance(code, int) and (32 <= code < 127 or 160 <= code < 256)


SIGNS = {
    "→": "->", "←": "<-", "↑": "^", "↓": "v", "≥": ">=", "≤": "<=", "−": "-", "–": "-", "—": "-", "…": "...",
    "•": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "▶": ">", "◀": "<", "▲": "^", "▼": "v",
}  # fmt: skip
"""What stands for a sign."""

LACKS = "? stands for a letter that the font of this PDF lacks: the page in HTML has it."
PLAINER = "A letter whose accent the font of this PDF lacks stands without it: the page in HTML has it."

UNJOINED = "Arabic letters stand side by side here and are not joined: the page in HTML joins them."


def without_marks(char: str, has: Container[object]) -> str:
    """The letter without its accents, where that can be written; else nothing."""
    base = [each for each in unicodedata.normalize("NFKD", char) if not unicodedata.combining(each)]
    return "".join(base) if all(ord(each) in has for each in base) else ""
