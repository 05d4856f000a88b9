"""The computer's own clock, asked for once on the command line and passed in from there."""

from __future__ import annotations

import time
from datetime import datetime, tzinfo

from store.knowledge.time import Stamp


class SystemClock:
    """Wall time for the record, `perf_counter` for durations."""

    @property
    def zone(self) -> tzinfo:
        """The machine's local zone as it is now."""
        zone = datetime.now().astimezone().tzinfo
        assert zone is not None
        return zone

    def now(self) -> Stamp:
        """The wall clock."""
        return Stamp.of(datetime.now().astimezone())

    def ticks(self) -> float:
        """Seconds on the performance counter."""
        return time.perf_counter()
