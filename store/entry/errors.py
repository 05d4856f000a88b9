"""What is said when a line cannot be read: which word, why, and what to type instead."""

from __future__ import annotations

import unicodedata

SHOWN_MOST = 24
"""Characters of a word that are shown back."""


class EntryError(Exception):
    """A line that cannot be read. Its text is one sentence; the line itself stays with the caller.

    `word` is the word at fault, safe to show; `why` says what is wrong and what to type; `start` and `end` are its
    place in the line as it was given.
    """

    def __init__(self, word: str, why: str, start: int, end: int) -> None:
        self.word = shown(word)
        self.why = why
        self.start = start
        self.end = end
        super().__init__(f"{self.word}: {why}" if self.word else why)


def shown(word: str) -> str:
    """A form of a word that is safe to show: what cannot be printed is named by its code, the rest cut short."""
    cut = word[:SHOWN_MOST]
    safe = "".join(char if char.isprintable() and not hidden(char) else f"U+{ord(char):04X}" for char in cut)
    return safe + ("…" if len(word) > SHOWN_MOST else "")


def hidden(char: str) -> bool:
    """Whether a character is a control, a line break, half of a pair, or an unseen mark that may turn a text."""
    category = unicodedata.category(char)
    return (category[0] == "C" or category in {"Zl", "Zp"}) and char not in _JOINERS


_JOINERS = "\u200c\u200d"
"""Hidden marks that ordinary words of some languages need; they can stand in a note."""
