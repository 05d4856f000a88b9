"""A zone in which it is morning now, so that no day ends while programs are walked, however late it is here."""

from __future__ import annotations

from datetime import UTC, datetime

HOUR = 9
"""What the clock on the wall shows when the tests begin: hurried time has fifteen hours before the day ends."""

MOST_AHEAD = 14
"""No zone is farther ahead of UTC, in hours; the farthest behind is 12."""


def hours_ahead(now: datetime) -> int:
    """So many hours ahead of UTC it is between 9 and 10 now, in a place that there may be: -10 to 13."""
    behind = HOUR - now.astimezone(UTC).hour
    return behind if behind > MOST_AHEAD - 24 - 1 else behind + 24


def zone_name(hours: int) -> str:
    """Such a zone for the variable TZ, whose sign is the other way round."""
    return f"<{hours:+03d}>{-hours:+d}"


MORNING = zone_name(hours_ahead(datetime.now(UTC)))
"""The zone of this run."""
