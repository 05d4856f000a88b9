"""Text as it is looked for: without regard to case or accents."""

from __future__ import annotations

import unicodedata


def fold(text: str) -> str:
    """The text in the form in which two spellings of it are the same."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text.casefold()).casefold()
    return "".join(char for char in apart if not unicodedata.combining(char))
