"""The days at home in one line: mon 3 pain 1, tue 2, wed 0; or of the days since last time 5/7 morning 2.

Behind a day stands how many things of the programme were done, then the pain next morning where it was told. The
days are those of the calendar where the clock stands; a day of the week is the last one, today among them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from store.entry.errors import EntryError
from store.entry.past import Rest, bare, checked, last_day, number_of, past_day
from store.entry.words import Word, words_of
from store.knowledge.time import WEEKDAYS

SUCH_AS = "mon 3 pain 1, tue 2, wed 0 or 5/7 morning 2"
MOST = 20
"""Things of a programme that can be done in a day."""

_PAIN_MOST = 10
_COUNT = re.compile(r"[0-9]{1,4}")
_OF = re.compile(r"([0-9]{1,4})/([0-9]{1,4})")
_SPAN = re.compile(r"([a-z]+)_([a-z]+)")
_PAIN = ("pain", "morning")
_WEEK = 7
_MOST_DAYS = 99


class HomeDay(NamedTuple):
    """One day: how many things were done, and the pain on the morning after, 0 to 10; None: not told."""

    day: date
    done: int
    pain_morning: int | None = None


class HomeDays(NamedTuple):
    """What a line says: days by themselves, oldest first; or so many of so many days, with the worst morning."""

    days: tuple[HomeDay, ...] = ()
    done: int | None = None
    planned: int | None = None
    morning: int | None = None


def parse_home_days(line: str, today: date) -> HomeDays:
    """What a line says. Raises EntryError, and nothing else, on a line that cannot be read."""
    words = [bare(word) for word in words_of(line, such_as=SUCH_AS) if word.text.strip(",;")]
    if not words:
        raise EntryError("", f"nothing to read: type a line such as {SUCH_AS}", 0, len(line))
    if _OF.fullmatch(words[0].key):
        return _in_all(words)
    found: dict[date, HomeDay] = {}
    rest = Rest(words)
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


def _in_all(words: list[Word]) -> HomeDays:
    rest = Rest(words)
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


def _days(rest: Rest, today: date) -> Iterator[HomeDay]:
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


def _pain(rest: Rest) -> int | None:
    if rest.key not in _PAIN:
        return None
    name = rest.take()
    if not rest.left:
        raise name.error("no figure behind it: type 0 to 10")
    word = rest.take()
    if word.quoted or not _COUNT.fullmatch(word.key) or int(word.key) > _PAIN_MOST:
        raise word.error("pain is a whole number from 0 to 10")
    return int(word.key)


def _which(rest: Rest, today: date) -> Iterator[date]:
    word = rest.take()
    if word.quoted:
        raise word.error(f"no quotes here: type {SUCH_AS}")
    span = _SPAN.fullmatch(word.key)
    if span and None not in (number_of(span[1], WEEKDAYS), number_of(span[2], WEEKDAYS)):
        yield from _span(span[1], span[2], today)
    else:
        yield checked(past_day(word, rest, today, SUCH_AS), today, word)


def _span(first: str, last: str, today: date) -> Iterator[date]:
    """From one day of the week to another, such as mon-wed, the last such days."""
    end, begin = last_day(last, today), number_of(first, WEEKDAYS)
    assert begin is not None
    back = (end.weekday() - begin) % _WEEK
    yield from (end - timedelta(days=each) for each in range(back, -1, -1))
