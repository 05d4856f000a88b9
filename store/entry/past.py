"""A day that is past, from the words of a line: mon, yesterday, 3 dec, 2026-12-03.

The days are those of the calendar where the clock stands; a day of the week is the last one, today among them.
"""

from __future__ import annotations

import re
from datetime import date

from store.entry.words import Word
from store.knowledge.time import MONTHS, WEEKDAYS

BACK_DAYS = 366
"""How far back a day may lie."""

_COUNT = re.compile(r"[0-9]{1,4}")
_ISO = re.compile(r"([0-9]{4})_([0-9]{1,2})_([0-9]{1,2})")  # a hyphen is an underscore in the key of a word
_NAMED = {"today": 0, "yesterday": 1}
_SHORTEST = 3  # letters of a day or a month
_WEEK = 7


class Rest:
    """The words that are not read yet."""

    def __init__(self, words: list[Word]) -> None:
        self.left = words
        self.last = words[0]

    def take(self) -> Word:
        """The next word, which is read now."""
        self.last = self.left.pop(0)
        return self.last

    @property
    def key(self) -> str:
        """The next word's key; empty at the end."""
        return self.left[0].key if self.left else ""


def bare(word: Word) -> Word:
    """A word without the comma behind it."""
    text = word.text if word.quoted else word.text.rstrip(",;")
    return Word(text, word.start, word.end, word.quoted)


def past_day(word: Word, rest: Rest, today: date, such_as: str) -> date:
    """The day that a word names, with those behind it where it takes them. Raises EntryError."""
    if word.key in _NAMED:
        return _back(today, _NAMED[word.key])
    if match := _ISO.fullmatch(word.key):
        return _date(int(match[1]), int(match[2]), int(match[3]), word)
    if number_of(word.key, WEEKDAYS) is not None:
        return last_day(word.key, today)
    month = number_of(rest.key, MONTHS)
    if _COUNT.fullmatch(word.key.removesuffix(".")) and month is not None:
        rest.take()
        return _latest(int(word.key.removesuffix(".")), month + 1, today, word)
    raise word.error(f"no day: type one such as mon, yesterday, 3 dec or 2026-12-03, as in {such_as}")


def last_day(name: str, today: date) -> date:
    """The last such day of the week, today among them."""
    weekday = number_of(name, WEEKDAYS)
    assert weekday is not None
    return _back(today, (today.weekday() - weekday) % _WEEK)


def _back(today: date, days: int) -> date:
    return date.fromordinal(max(today.toordinal() - days, 1))


def _latest(day: int, month: int, today: date, word: Word) -> date:
    """The last such day: of this year, or of the one before."""
    for year in (today.year, today.year - 1):
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if found <= today:
            return found
    return _date(today.year, month, day, word)


def checked(day: date, today: date, word: Word) -> date:
    """A day that can be told of. Raises EntryError on one to come, and on one too far back."""
    if day > today:
        raise word.error("this day is still to come: type days that are past")
    if (today - day).days > BACK_DAYS:
        raise word.error("this is more than a year ago")
    return day


def _date(year: int, month: int, day: int, word: Word) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise word.error("not in the calendar: type a day such as mon or 2026-12-03") from None


def number_of(word: str, names: tuple[str, ...]) -> int | None:
    """The place of a name among them, by its first letters."""
    if len(word) < _SHORTEST:
        return None
    return next((n for n, name in enumerate(names) if name.startswith(word)), None)
