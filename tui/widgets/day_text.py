"""Days as they are typed and shown: 2 Nov, 2.11., 2026-11-02, today, yesterday, -3d, 3 days ago, +2w."""

from __future__ import annotations

import re
from datetime import date, timedelta
from enum import StrEnum

from store.care.dates import day_text
from store.knowledge.time import MONTHS

HOW = "2 Nov, 2.11., 2026-11-02, today or -3d"
_WORDS = {"today": 0, "yesterday": -1, "tomorrow": 1}
_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_POINTS = re.compile(r"([0-9]{1,2})\.\s?([0-9]{1,2})\.?(?:\s?([0-9]{4}|[0-9]{2}))?")
_NAMED = re.compile(r"([0-9]{1,2})[. ]*([a-z]{3,9})[. ,]*([0-9]{4})?")
_AWAY = re.compile(r"([+-])\s?([0-9]{1,4})\s?([dw])")
_AGO = re.compile(r"([0-9]{1,4}) (day|week)s? ago")


class Towards(StrEnum):
    """Where a day without a year is looked for."""

    PAST = "past"
    FUTURE = "future"


def read_day(text: str, today: date, towards: Towards = Towards.PAST) -> date:
    """The day that was typed. Raises ValueError with a sentence that says what to type."""
    typed = text.strip().lower()
    if typed in _WORDS:
        return today + timedelta(days=_WORDS[typed])
    if match := _AWAY.fullmatch(typed):
        sign, count, unit = match.groups()
        days = int(count) * (7 if unit == "w" else 1)
        return today + timedelta(days=days if sign == "+" else -days)
    if match := _AGO.fullmatch(typed):
        return today - timedelta(days=int(match[1]) * (7 if match[2] == "week" else 1))
    if match := _ISO.fullmatch(typed):
        year, month, day = (int(part) for part in match.groups())
        return _made(year, month, day, text)
    if match := _POINTS.fullmatch(typed):
        day, month = int(match[1]), int(match[2])
        if match[3]:
            return _made(int(match[3]) + (2000 if len(match[3]) == 2 else 0), month, day, text)
        return _nearest(month, day, today, towards, text)
    match = _NAMED.fullmatch(typed)
    named = _month(match[2]) if match else None
    if match and named:
        day = int(match[1])
        return _made(int(match[3]), named, day, text) if match[3] else _nearest(named, day, today, towards, text)
    raise ValueError(f"{_short(text)} is no day: type {HOW}")


def _month(word: str) -> int | None:
    """The number of a month by its name or the first letters of it."""
    return next((n for n, name in enumerate(MONTHS, 1) if name.startswith(word)), None)


def _made(year: int, month: int, day: int, text: str) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError(f"{_short(text)} is not in the calendar: type {HOW}") from None


def _nearest(month: int, day: int, today: date, towards: Towards, text: str) -> date:
    """The day of this month and day that comes first in the direction, today included."""
    step = -1 if towards is Towards.PAST else 1
    for year in range(today.year, today.year + step * 9, step):  # nine years always hold a 29 February
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if (found <= today) if towards is Towards.PAST else (found >= today):
            return found
    raise ValueError(f"{_short(text)} is not in the calendar: type {HOW}")


def _short(text: str) -> str:
    return repr(text if len(text) <= 20 else f"{text[:19]}…")


def day_shown(day: date) -> str:
    """A day as it is shown: Wed 25 Nov 2026, in any locale."""
    return day_text(day, weekday=True)
