"""The computer's own clock, asked for once on the command line and passed in from there."""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta, tzinfo

from store.knowledge.time import Stamp


class MachineZone(tzinfo):
    """The machine's own zone, with its changes of daylight saving: a fixed offset would be an hour off beyond."""

    def utcoffset(self, dt: datetime | None) -> timedelta | None:
        """The offset in force when the clock on the wall shows this."""
        return None if dt is None else dt.replace(tzinfo=None).astimezone().utcoffset()

    def dst(self, dt: datetime | None) -> timedelta | None:
        """Not told apart from the offset."""
        del dt
        return None

    def tzname(self, dt: datetime | None) -> str | None:
        """What the machine calls it."""
        return None if dt is None else dt.replace(tzinfo=None).astimezone().tzname()

    def fromutc(self, dt: datetime) -> datetime:
        """What the clock on the wall shows at an instant."""
        told = dt.replace(tzinfo=UTC).astimezone()
        shown = told.replace(tzinfo=self)
        return shown if shown.utcoffset() == told.utcoffset() else shown.replace(fold=1)


class SystemClock:
    """Wall time for the record, `perf_counter` for durations."""

    @property
    def zone(self) -> tzinfo:
        """The machine's local zone."""
        return MachineZone()

    def now(self) -> Stamp:
        """The wall clock."""
        return Stamp.of(datetime.now().astimezone())

    def ticks(self) -> float:
        """Seconds on the performance counter."""
        return time.perf_counter()
