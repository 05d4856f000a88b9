"""Days and times as a table has them: in ISO 8601 or with the day first, read in a time zone that is passed in."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo

from store.entry.errors import EntryError
from store.knowledge.time import Stamp

FIRST_YEAR = 1970
"""No reading of somebody in care now is older, and the zones of all systems are known since."""

_ISO = r"(?P<y>[0-9]{4})-(?P<m>[0-9]{1,2})-(?P<d>[0-9]{1,2})"
_DAY_FIRST = r"(?P<D>[0-9]{1,2})\.(?P<M>[0-9]{1,2})\.(?P<Y>[0-9]{4})"
_DAY = rf"(?:{_ISO}|{_DAY_FIRST})"
_TIME = r"(?P<hour>[0-9]{1,2}):(?P<minute>[0-9]{2})(?::(?P<second>[0-9]{2})(?:[.,](?P<part>[0-9]{1,6}))?)?"
_OFFSET = r"(?P<zulu>[Zz])|(?P<sign>[+-])(?P<east>[0-9]{2}):?(?P<more>[0-9]{2})"
_STAMP = re.compile(rf"{_DAY}(?:(?:[Tt]|\s+){_TIME}\s*(?:{_OFFSET})?)?")
_ONLY_DAY = re.compile(_DAY)


def day_of(text: str) -> date:
    """The day in `2026-08-14` or `14.8.2026`. Raises EntryError."""
    match = _ONLY_DAY.fullmatch(text)
    if not match:
        raise _error(text, "no day: write it as 2026-08-14")
    return _day(match, text)


def stamp_of(text: str, zone: tzinfo) -> Stamp:
    """The instant in `2026-08-14 09:30`, local unless an offset or Z follows; a day alone is its first moment.

    Raises EntryError, also on a time that a change of the clock leaves out or brings twice.
    """
    match = _STAMP.fullmatch(text)
    if not match:
        raise _error(text, "no day and time: write them as 2026-08-14 09:30")
    day = _day(match, text)
    try:
        return _stamp(match, day, text, zone)
    except (ValueError, OverflowError, OSError):
        raise _error(text, "there is no such time: write it as 2026-08-14 09:30") from None


def is_day(text: str) -> bool:
    """Whether a text is a day without a time."""
    return _ONLY_DAY.fullmatch(text) is not None


def _day(match: re.Match[str], text: str) -> date:
    year, month, day = (int(match[name] or match[other]) for name, other in (("y", "Y"), ("m", "M"), ("d", "D")))
    try:
        found = date(year, month, day)
    except ValueError:
        raise _error(text, "there is no such day: write it as 2026-08-14") from None
    if year < FIRST_YEAR:
        raise _error(text, f"the year lies before {FIRST_YEAR}: write the day as 2026-08-14")
    return found


def _stamp(match: re.Match[str], day: date, text: str, zone: tzinfo) -> Stamp:
    if match["hour"] is None:
        return _first_moment(day, zone)
    part = int((match["part"] or "").ljust(6, "0"))
    at = datetime.combine(day, time(int(match["hour"]), int(match["minute"]), int(match["second"] or 0), part))
    if match["zulu"]:
        return Stamp.of(at.replace(tzinfo=UTC).astimezone(zone))
    if match["sign"]:
        east = timedelta(hours=int(match["east"]), minutes=int(match["more"]))
        return Stamp.of(at.replace(tzinfo=timezone(-east if match["sign"] == "-" else east)))
    return _local(at, text, zone)


def _local(at: datetime, text: str, zone: tzinfo) -> Stamp:
    """A time without an offset, as the clocks of the zone showed it."""
    first, second = (at.replace(tzinfo=zone, fold=fold).utcoffset() for fold in (0, 1))
    if first is None or second is None:
        raise ValueError("the zone knows no offset")
    if first == second:  # they differ only where the clocks are changed
        return Stamp((at - first).replace(tzinfo=UTC), first // timedelta(minutes=1))
    if first < second:
        raise _error(text, "the clocks were put forward over this time: write the right one")
    offsets = " or ".join(str(timezone(each)).removeprefix("UTC") or "Z" for each in (first, second))
    raise _error(text, f"the clocks were put back and showed this time twice: write {offsets} behind it")


def _first_moment(day: date, zone: tzinfo) -> Stamp:
    """The first moment of a day: midnight, or where the clocks were put forward over it, the first time after."""
    return Stamp.of(datetime.combine(day, time(), zone).astimezone(UTC).astimezone(zone))


def _error(text: str, why: str) -> EntryError:
    return EntryError(text, why, 0, len(text))
