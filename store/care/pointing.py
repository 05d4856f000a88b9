"""A line that could not be read, with the word at fault pointed at from below: plain text, safe to print."""

from __future__ import annotations

import unicodedata

from store.care.in_words import visible
from store.entry.errors import EntryError

SHOWN_MOST = 72
"""Columns of the line that are shown: of a long one, the part around the word."""


def pointed(line: str, error: EntryError) -> str:
    """The line, and under it a row of ^ below the word; empty where there is nothing to point at."""
    if not line.strip() or error.start >= error.end:
        return ""
    start, end = _around(line, error.start, error.end)
    before, word = visible(line[start : error.start]), visible(line[error.start : min(error.end, end)])
    shown = (
        ("…" if start else "") + before + word + visible(line[error.end : end]) + ("…" if end < len(line) else "")
    )
    return f"  {shown}\n  {' ' * (_columns(before) + bool(start))}{'^' * max(1, _columns(word))}"


def _around(line: str, start: int, end: int) -> tuple[int, int]:
    """The part of the line to show: all of a short one, else some of what stands before the word, and after it."""
    if len(line) <= SHOWN_MOST:
        return 0, len(line)
    first = max(0, min(start - SHOWN_MOST // 3, len(line) - SHOWN_MOST))
    return first, min(len(line), max(first + SHOWN_MOST, min(end, start + SHOWN_MOST // 2)))


def _columns(text: str) -> int:
    """How many columns a terminal gives to a text: two to a wide character, none to a mark on the one before."""
    return sum(0 if unicodedata.combining(char) else 2 if _wide(char) else 1 for char in text)


def _wide(char: str) -> bool:
    return unicodedata.east_asian_width(char) in {"W", "F"}
