"""When a contact is planned, from a short line: thu 10:40, 3 dec 14:00, +7 10:40, each ahead of now.

A day, then a time of day there; behind it how long, such as 45min, where it is not the usual.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from store.entry.past import number_of
from store.entry.words import Word, words_of
from store.knowledge.time import MONTHS, WEEKDAYS, Stamp

SUCH_AS = "thu 10:40, 3 dec 14:00 or +7 10:40"
AHEAD_DAYS = 730
"""How far ahead a contact may be planned."""

LONGEST_MIN = 240

_TIME = re.compile(r"([0-9]{1,2})[:.h]([0-9]{2})")
_LONG = re.compile(r"([0-9]{1,3})min")
_AWAY = re.compile(r"\+([0-9]{1,3})(d|w)?")
_ISO = re.compile(r"([0-9]{4})_([0-9]{1,2})_([0-9]{1,2})")  # a hyphen is an underscore in the key of a word
_POINTS = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})?")
_DAY = re.compile(r"([0-9]{1,2})\.?")
_NAMED = {"today": 0, "tomorrow": 1}


@dataclass(frozen=True, slots=True)
class When:
    """The instant, with the offset that is in force there then, and how long where it was said."""

    due: Stamp
    minutes: int | None = None


def parse_when(line: str, now: Stamp, zone: tzinfo) -> When:
    """When a line says, always after `now`. Raises EntryError, and nothing else, on a line that cannot be read.

    `zone` is where the clock stands: it knows the changes of daylight saving.
    """
    words = words_of(line, such_as=SUCH_AS)
    minutes = None
    if len(words) > 1 and (match := _LONG.fullmatch(words[-1].key)):
        minutes = _minutes(words.pop(), int(match[1]))
    clock = _time(words[-1])
    days = words[:-1]
    if not days:
        raise words[-1].error(f"a time without a day: type both, such as {SUCH_AS}")
    for day in coming_days(days, now.on):
        due = _instant(day, clock, zone, words[-1])
        if due > now:
            _near(due, now, days)
            return When(due, minutes)
    raise days[0].error("this is in the past: type a day and time ahead of now")


def _minutes(word: Word, count: int) -> int:
    if not 0 < count <= LONGEST_MIN:
        raise word.error(f"type 1 to {LONGEST_MIN} minutes")
    return count


def _time(word: Word) -> time:
    match = _TIME.fullmatch(word.key)
    if word.quoted or match is None:
        raise word.error(f"no time of day: end with one, such as {SUCH_AS}")
    hour, minute = int(match[1]), int(match[2])
    if hour > 23 or minute > 59:
        raise word.error("no time of day: it goes from 0:00 to 23:59")
    return time(hour, minute)


def coming_days(words: Sequence[Word], today: date) -> list[date]:
    """The days that may be meant, the nearest first: a day without a year is the coming one."""
    first, key = words[0], words[0].key
    if len(words) == 1:
        if key in _NAMED:
            return [_later(today, _NAMED[key], first)]
        if match := _AWAY.fullmatch(key):
            return [_later(today, int(match[1]) * (7 if match[2] == "w" else 1), first)]
        if match := _ISO.fullmatch(key):
            return [_date(int(match[1]), int(match[2]), int(match[3]), first)]
        if match := _POINTS.fullmatch(key):
            return _coming(today, int(match[1]), int(match[2]), match[3], first)
        weekday = number_of(key.rstrip(".,"), WEEKDAYS)
        if weekday is not None:
            away = (weekday - today.weekday()) % 7
            return [_later(today, away, first), _later(today, away + 7, first)]
    return _named(words, today)


def _named(words: Sequence[Word], today: date) -> list[date]:
    """A day and the name of a month, in either order, with or without the year."""
    first, *more = words
    if len(words) in (2, 3) and not any(word.quoted for word in words):
        parts = (first, more[0]) if _DAY.fullmatch(first.key) else (more[0], first)
        day, month = _DAY.fullmatch(parts[0].key), number_of(parts[1].key.rstrip(".,"), MONTHS)
        year = words[2].key if len(words) == 3 else None
        if day and month is not None and (year is None or re.fullmatch(r"[0-9]{4}", year)):
            return _coming(today, int(day[1]), month + 1, year, first)
    raise first.error(f"no day: type one such as {SUCH_AS}")


def _coming(today: date, day: int, month: int, year: str | None, word: Word) -> list[date]:
    if year is not None:
        return [_date(int(year), month, day, word)]
    found = []
    for each in range(today.year, today.year + 9):  # nine years always hold a 29 February
        try:
            found.append(date(each, month, day))
        except ValueError:
            continue
    if not found:
        raise word.error(f"not in the calendar: type a day such as {SUCH_AS}")
    return [one for one in found if one >= today][:2]


def _later(today: date, days: int, word: Word) -> date:
    try:
        return today + timedelta(days=days)
    except OverflowError:
        raise word.error("too far ahead") from None


def _date(year: int, month: int, day: int, word: Word) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise word.error(f"not in the calendar: type a day such as {SUCH_AS}") from None


def _instant(day: date, clock: time, zone: tzinfo, word: Word) -> Stamp:
    """The instant at which the clock on the wall shows this. Of an hour that comes twice it is the first."""
    local = datetime.combine(day, clock, zone)
    try:
        back = local.astimezone(UTC).astimezone(zone)
    except (OverflowError, ValueError):
        raise word.error("too far ahead") from None
    if back.replace(tzinfo=None) != local.replace(tzinfo=None):
        raise word.error("this hour is left out that day, as the clocks go forward: type another time")
    return Stamp.of(local)


def _near(due: Stamp, now: Stamp, words: Sequence[Word]) -> None:
    if due.at - now.at > timedelta(days=AHEAD_DAYS):
        raise words[0].error("more than two years ahead: type a nearer day")
