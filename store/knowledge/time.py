"""Instants as the record keeps them, and the clock that is passed in: nothing else asks the time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import Protocol

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
"""Their names, small, Monday first."""

MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
)  # fmt: skip
"""Their names, small, the first of the year first."""


_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True, order=True)
class Stamp:
    """An instant in UTC, with the local offset that was in force where it happened.

    `at` is aware, in UTC and to the millisecond; `offset_min` is minutes east of UTC. Local date and
    time follow from the two, so that a visit that crosses midnight or a change of daylight saving keeps the day on
    which it was lived.
    """

    at: datetime
    offset_min: int = 0

    def __post_init__(self) -> None:
        """Refuse an instant without a zone: a naive time would be silently off by hours."""
        at = self.at
        if at.tzinfo is not UTC:
            if at.tzinfo is None:
                raise ValueError("a stamp needs an aware time")
            object.__setattr__(self, "at", at := at.astimezone(UTC))
        finer = at.microsecond % 1000
        if finer:
            object.__setattr__(self, "at", at.replace(microsecond=at.microsecond - finer))

    @property
    def local(self) -> datetime:
        """The wall-clock time there and then, naive."""
        return (self.at + timedelta(minutes=self.offset_min)).replace(tzinfo=None)

    @property
    def on(self) -> date:
        """The local date."""
        return (self.at + timedelta(minutes=self.offset_min)).date()

    @property
    def text(self) -> str:
        """ISO 8601 in UTC with Z and milliseconds: sorts as text, as the record needs."""
        return f"{self.at.isoformat(timespec='milliseconds')[:-6]}Z"  # in place of +00:00

    def local_text(self, timespec: str = "milliseconds") -> str:
        """The wall-clock time there and then with its offset, in ISO 8601: `2026-11-25T10:38:00.000+01:00`."""
        sign, (hours, minutes) = "-" if self.offset_min < 0 else "+", divmod(abs(self.offset_min), 60)
        return f"{self.local.isoformat(timespec=timespec)}{sign}{hours:02}:{minutes:02}"

    @classmethod
    def of(cls, at: datetime) -> Stamp:
        """The stamp of an aware local time."""
        offset = at.utcoffset()
        if offset is None:
            raise ValueError("a stamp needs an aware time")
        return cls(at, offset // _MINUTE)

    @classmethod
    def read(cls, text: str, offset_min: int) -> Stamp:
        """The stamp from its stored text. Raises ValueError on text that is no ISO 8601 time."""
        return cls(datetime.fromisoformat(text), offset_min)


class Clock(Protocol):
    """Where time comes from: passed in from the command line, or a set clock in tests and the demo."""

    @property
    def zone(self) -> tzinfo:
        """The local time zone."""
        ...

    def now(self) -> Stamp:
        """The wall clock: for the record."""
        ...

    def ticks(self) -> float:
        """Seconds on a clock that only runs forward: for durations."""
        ...


class SetClock:
    """A clock that stands where it is put, and moves only when told."""

    def __init__(self, start: datetime) -> None:
        if start.tzinfo is None:
            raise ValueError("a clock needs an aware time")
        self._now = start
        self._stamp = Stamp.of(start)
        self._zone = start.tzinfo
        self._ticks = 0.0

    @property
    def zone(self) -> tzinfo:
        """The zone of the time it was given."""
        return self._zone

    def now(self) -> Stamp:
        """The time it was put to."""
        return self._stamp

    def ticks(self) -> float:
        """Seconds moved so far."""
        return self._ticks

    def move(self, seconds: float) -> None:
        """Go forward on both clocks."""
        self.put(self._now.astimezone(UTC) + timedelta(seconds=seconds))
        self._ticks += seconds

    def put(self, to: datetime) -> None:
        """Set the wall clock only, as a person or a time server might."""
        self._now = to.astimezone(self._zone)
        self._stamp = Stamp.of(self._now)
