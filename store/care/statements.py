"""What a page of words is made of: sections of short statements, each with how it is known."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Statement:
    """One thing said: what it is about (empty: the same as the one above), the words, and mark and source."""

    about: str
    says: str
    known: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Statements under one title."""

    title: str
    statements: tuple[Statement, ...]
