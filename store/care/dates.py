"""Dates as they are typed and as they are shown, in plain English words whatever the machine's own language is."""

from __future__ import annotations

import re
from datetime import date, timedelta

from store.care.faults import CareFault
from store.knowledge.time import Stamp

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
)  # fmt: skip
_WORDS = {"today": 0, "yesterday": -1, "tomorrow": 1}
_AGO = re.compile(r"([0-9]{1,3}) (day|week)s? ago")
_AHEAD = re.compile(r"in ([0-9]{1,3}) (day|week)s?")
_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_NUMBERS = re.compile(r"([0-9]{1,2})[./ ]([0-9]{1,2})(?:[./ ]([0-9]{4}))?[.]?")
_NAMED = re.compile(r"([0-9]{1,2})[. ]*([a-z]{3,9})[. ]*([0-9]{4})?")
HOW = "type 20 Nov, 20.11.2026 (the day first), 2026-11-20, yesterday, or 5 days ago"


def read_date(text: str, today: date, *, ahead: bool = False) -> date | None:
    """The day that was typed; None for an empty text. Raises CareFault with what to type.

    Without a year it is the last such day up to today, or with `ahead` the next one from today on.
    """
    typed = " ".join(text.casefold().replace(",", " ").split())
    if not typed:
        return None
    try:
        found = _relative(typed, today) or _absolute(typed, today, ahead)
    except (ValueError, OverflowError):
        raise CareFault(f"{_short(text)} is no day that exists: {HOW}") from None
    if found is None:
        raise CareFault(f"{_short(text)} is no date: {HOW}")
    return found


def _short(text: str) -> str:
    text = text.strip()
    return text if len(text) <= 30 else f"{text[:29]}…"


def _relative(typed: str, today: date) -> date | None:
    if typed in _WORDS:
        return today + timedelta(days=_WORDS[typed])
    for pattern, sign in ((_AGO, -1), (_AHEAD, 1)):
        match = pattern.fullmatch(typed)
        if match:
            days = int(match[1]) * (7 if match[2] == "week" else 1)
            return today + timedelta(days=sign * days)
    return None


def _absolute(typed: str, today: date, ahead: bool) -> date | None:
    match = _ISO.fullmatch(typed)
    if match:
        return date(int(match[1]), int(match[2]), int(match[3]))
    match = _NUMBERS.fullmatch(typed)
    if match:
        return _with_year(int(match[1]), int(match[2]), match[3], today, ahead)
    match = _NAMED.fullmatch(typed)
    month = next((n for n, name in enumerate(_MONTHS, 1) if match and name.startswith(match[2])), None)
    return _with_year(int(match[1]), month, match[3], today, ahead) if match and month else None


def _with_year(day: int, month: int, year: str | None, today: date, ahead: bool) -> date:
    if year:
        return date(int(year), month, day)
    nearest = range(today.year, today.year + 9) if ahead else range(today.year, today.year - 9, -1)
    for guess in nearest:  # 29 February is not in every year
        if month == 2 and day == 29 and not _leap(guess):
            continue
        found = date(guess, month, day)
        if (found >= today) if ahead else (found <= today):
            return found
    raise ValueError


def _leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def day_text(day: date, *, weekday: bool = False) -> str:
    """A day in words: `25 Nov 2026`, or `Wed 25 Nov 2026`."""
    text = f"{day.day} {_MONTHS[day.month - 1][:3].capitalize()} {day.year}"
    return f"{_DAYS[day.weekday()]} {text}" if weekday else text


def time_text(stamp: Stamp) -> str:
    """The wall-clock time there and then, as `10:38`."""
    return f"{stamp.local:%H:%M}"


def stamp_text(stamp: Stamp) -> str:
    """Day and time there and then: `25 Nov 2026 10:38`."""
    return f"{day_text(stamp.on)} {time_text(stamp)}"


def how_long(day: date, today: date) -> str:
    """How far a day lies from today, in words: `today`, `5 days ago`, `in 3 weeks`."""
    days = (day - today).days
    if abs(days) <= 1:
        return ("yesterday", "today", "tomorrow")[days + 1]
    size = f"{abs(days)} days" if abs(days) < 21 else f"{abs(days) // 7} weeks"
    return f"{size} ago" if days < 0 else f"in {size}"
