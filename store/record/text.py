"""Text as it is looked for: without regard to case or to the way an accent is written."""

from __future__ import annotations

import unicodedata


def fold(text: str) -> str:
    """The text in the form in which two spellings of it are the same."""
    if text.isascii():
        return text.lower()
    return unicodedata.normalize("NFKD", text.casefold()).casefold()
