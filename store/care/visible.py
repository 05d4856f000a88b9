"""Texts of the file, safe to show: by itself, since every list of people needs this and no more of the words."""

from __future__ import annotations

from store.entry.errors import hidden


def visible(text: str) -> str:
    """A text from the file as one line that is safe to print: what cannot be seen is named by its code."""
    if text.isprintable():  # none of what isprintable lets through is hidden, and nearly every text ends here
        return text
    return "".join(f"U+{ord(char):04X}" if hidden(char) else char for char in text)
