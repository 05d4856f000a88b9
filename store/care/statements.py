"""What a page of words is made of: sections of short statements, each with how it is known."""

from __future__ import annotations

from typing import NamedTuple


class Statement(NamedTuple):
    """One thing said: what it is about (empty: the same as the one above), the words, and mark and source."""

    about: str
    says: str
    known: str = ""


class Section(NamedTuple):
    """Statements under one title."""

    title: str
    statements: tuple[Statement, ...]
