"""Columns that many tables share, and rules of columns: each a named CHECK whose name is the sentence shown."""

from __future__ import annotations

REVISED = """revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL"""


def one_of(column: str, *words: str) -> str:
    """One of these words."""
    allowed = ", ".join(f"'{word}'" for word in words)
    return f'CONSTRAINT "{column} is {" or ".join(words)}" CHECK ({column} IN ({allowed}))'


def yes_no(column: str) -> str:
    """1 for yes, 0 for no, or nothing."""
    return f'CONSTRAINT "{column} is 1 for yes or 0 for no" CHECK ({column} IN (0, 1))'


def count_of(column: str) -> str:
    """A number that is not below nought."""
    return f'CONSTRAINT "{column} is a count, 0 or more" CHECK ({column} >= 0)'


def day_of(column: str) -> str:
    """A day that exists."""
    shape = f"{column} GLOB '????-??-??' AND {column} IS date({column}, '+0 days')"
    return f'CONSTRAINT "{column} is a date that exists, as 2026-11-25" CHECK ({column} IS NULL OR ({shape}))'


def instant_of(name: str, *, local_date: bool = True) -> str:
    """UTC with Z to the millisecond, its offset, and the local date that follows from the two."""
    at, on, offset = f"{name}_at", f"{name}_on", f"{name}_offset_min"
    shape = f"{at} GLOB '????-??-??T??:??:??.???Z' AND substr({at}, 1, 10) IS date({at}, '+0 days')"
    shape += f" AND abs({offset}) < 1440"
    named = "its offset"
    given = f"{offset} IS NOT NULL"
    absent = f"{at} IS NULL AND {offset} IS NULL"
    if local_date:
        named += " and local date"
        shape += f" AND {on} IS date({at}, {offset} || ' minutes')"
        given += f" AND {on} IS NOT NULL"
        absent += f" AND {on} IS NULL"
    rule = f"({absent}) OR ({at} IS NOT NULL AND {given} AND {shape})"
    return f'CONSTRAINT "{at} is a UTC time with Z, and {named} fit it" CHECK ({rule})'


def json_of(column: str, kind: str) -> str:
    """JSON of a kind: array or object."""
    rule = f"CASE WHEN json_valid({column}) THEN json_type({column}) = '{kind}' ELSE 0 END"
    return f'CONSTRAINT "{column} is a JSON {kind}" CHECK ({rule})'
