"""The days at home in one line: mon 3 pain 1, tue 2, wed 0; or of the days since last time 5/7 morning 2.

Behind a day stands how many things of the programme were done, then the pain next morning where it was told. The
days are those of the calendar where the clock stands; a day of the week is the last one, today among them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from store.entry.errors import EntryError
from store.entry.words import Word, words_of
from store.knowledge.time import MONTHS, WEEKDAYS

SUCH_AS = "mon 3 pain 1, tue 2, wed 0 or 5/7 morning 2"
BACK_DAYS = 366
"""How far back a day may lie."""

MOST = 20
"""Things of a programme that can be done in a day."""

_PAIN_MOST = 10
_COUNT = re.compile(r"[0-9]{1,4}")
_OF = re.compile(r"([0-9]{1,4})/([0-9]{1,4})")
_ISO = re.compile(r"([0-9]{4})_([0-9]{1,2})_([0-9]{1,2})")  # a hyphen is an underscore in the key of a word
_SPAN = re.compile(r"([a-z]+)_([a-z]+)")
_NAMED = {"today": 0, "yesterday": 1}
_PAIN = ("pain", "morning")
_SHORTEST = 3  # letters of a day or a month
_WEEK = 7
_MOST_DAYS = 99


@dataclass(frozen=True, slots=True)
class HomeDay:
    """One day: how many things were done, and the pain on the morning after, 0 to 10; None: not told."""

    day: date
    done: int
    pain_morning: int | None = None


@dataclass(frozen=True, slots=True)
class HomeDays:
    """What a line says: days by themselves, oldest first; or so many of so many days, with the worst morning."""

    days: tuple[HomeDay, ...] = ()
    done: int | None = None
    planned: int | None = None
    morning: int | None = None


def parse_home_days(line: str, today: date) -> HomeDays:
    """What a line says. Raises EntryError, and nothing else, on a line that cannot be read."""
    words = [_bare(word) for word in words_of(line, such_as=SUCH_AS) if word.text.strip(",;")]
    if not words:
        raise EntryError("", f"nothing to read: type a line such as {SUCH_AS}", 0, len(line))
    if _OF.fullmatch(words[0].key):
        return _in_all(words)
    found: dict[date, HomeDay] = {}
    rest = _Rest(words)
    while rest.left:
        for one in _days(rest, today):
            if one.day in found:
                raise rest.last.error("this day is said twice: leave one of the two")
            found[one.day] = one
    return HomeDays(tuple(sorted(found.values(), key=lambda one: one.day)))


def line_of(said: HomeDays) -> str:
    """The line that reads back as this."""
    if said.done is not None:
        behind = f" morning {said.morning}" if said.morning is not None else ""
        return f"{said.done}/{said.planned}{behind}"
    return ", ".join(
        f"{one.day.isoformat()} {one.done}" + (f" pain {one.pain_morning}" if one.pain_morning is not None else "")
        for one in said.days
    )


class _Rest:
    """The words that are not read yet."""

    def __init__(self, words: list[Word]) -> None:
        self.left = words
        self.last = words[0]

    def take(self) -> Word:
        self.last = self.left.pop(0)
        return self.last

    @property
    def key(self) -> str:
        """The next word's key; empty at the end."""
        return self.left[0].key if self.left else ""


def _bare(word: Word) -> Word:
    """A word without the comma behind it."""
    text = word.text if word.quoted else word.text.rstrip(",;")
    return Word(text, word.start, word.end, word.quoted)


def _in_all(words: list[Word]) -> HomeDays:
    rest = _Rest(words)
    first = rest.take()
    match = _OF.fullmatch(first.key)
    assert match is not None
    done, planned = int(match[1]), int(match[2])
    if planned > _MOST_DAYS or planned < 1:
        raise first.error(f"1 to {_MOST_DAYS} days can be planned")
    if done > planned:
        raise first.error("more days done than planned: type the days done, then those planned")
    morning = _pain(rest)
    if rest.left:
        raise rest.take().error("nothing more stands behind 5/7 but morning and a figure")
    return HomeDays(done=done, planned=planned, morning=morning)


def _days(rest: _Rest, today: date) -> Iterator[HomeDay]:
    """One day, or each of a span of days of the week."""
    days = list(_which(rest, today))
    if not rest.left:
        raise rest.last.error("how many were done that day? Type a figure behind it, 0 for none")
    word = rest.take()
    if word.quoted or not _COUNT.fullmatch(word.key):
        raise word.error(f"not a count: type how many were done, as in {SUCH_AS}")
    if int(word.key) > MOST:
        raise word.error(f"at most {MOST} in a day")
    pain = _pain(rest)
    if pain is not None and today in days:
        raise rest.last.error("tomorrow's morning is not known yet: leave its pain out")
    for day in days:
        yield HomeDay(day, int(word.key), pain)


def _pain(rest: _Rest) -> int | None:
    if rest.key not in _PAIN:
        return None
    name = rest.take()
    if not rest.left:
        raise name.error("no figure behind it: type 0 to 10")
    word = rest.take()
    if word.quoted or not _COUNT.fullmatch(word.key) or int(word.key) > _PAIN_MOST:
        raise word.error("pain is a whole number from 0 to 10")
    return int(word.key)


def _which(rest: _Rest, today: date) -> Iterator[date]:
    word = rest.take()
    if word.quoted:
        raise word.error(f"no quotes here: type {SUCH_AS}")
    span = _SPAN.fullmatch(word.key)
    if span and None not in (_number(span[1], WEEKDAYS), _number(span[2], WEEKDAYS)):
        yield from _span(span[1], span[2], today)
    else:
        yield _checked(_day(word, rest, today), today, word)


def _span(first: str, last: str, today: date) -> Iterator[date]:
    """From one day of the week to another, such as mon-wed, the last such days."""
    end, begin = _last(last, today), _number(first, WEEKDAYS)
    assert begin is not None
    back = (end.weekday() - begin) % _WEEK
    yield from (end - timedelta(days=each) for each in range(back, -1, -1))


def _day(word: Word, rest: _Rest, today: date) -> date:
    if word.key in _NAMED:
        return _back(today, _NAMED[word.key])
    if match := _ISO.fullmatch(word.key):
        return _date(int(match[1]), int(match[2]), int(match[3]), word)
    if _number(word.key, WEEKDAYS) is not None:
        return _last(word.key, today)
    month = _number(rest.key, MONTHS)
    if _COUNT.fullmatch(word.key.removesuffix(".")) and month is not None:
        rest.take()
        return _latest(int(word.key.removesuffix(".")), month + 1, today, word)
    raise word.error(f"no day: type one such as mon, yesterday, 3 dec or 2026-12-03, as in {SUCH_AS}")


def _last(name: str, today: date) -> date:
    weekday = _number(name, WEEKDAYS)
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


def _checked(day: date, today: date, word: Word) -> date:
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


def _number(word: str, names: tuple[str, ...]) -> int | None:
    """The place of a name among them, by its first letters."""
    if len(word) < _SHORTEST:
        return None
    return next((n for n, name in enumerate(names) if name.startswith(word)), None)
