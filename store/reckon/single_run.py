"""One run against the longest of the days before it, in km: told for information, and no law.

Frandsen and others 2025 found more injuries after runs of more than 110 % of the longest in the 30 days before.
Nobody in their study was followed after a sprain.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from store.knowledge.kinds import CutOff
from store.knowledge.running import SingleRun
from store.reckon.running import RunDone


class SingleCheck(NamedTuple):
    """`longest` and `most` in km, `share` in per cent; `band` is what was found beyond the bound, if it is."""

    longest: float
    most: float
    share: float | None = None
    band: CutOff | None = None


def single_run(
    check: SingleRun, on: date, sessions: Iterable[RunDone], km: float | None = None
) -> SingleCheck | None:
    """A run of so many km on a day against those before it; without km the most that stays within the bound.

    None where no run of those days has a distance: nothing is divided by nothing.
    """
    back = int(check.days.value)
    before = [one.km for one in sessions if one.km is not None and 0 < (on - one.on).days <= back]
    longest = max(before, default=0.0)
    if longest <= 0:
        return None
    most = longest * check.share.value / 100
    if km is None:
        return SingleCheck(longest, most)
    share = round(100 * km / longest, 6)  # 11.0 of 10.0 is 110, not a hair more
    beyond = [band for band in check.bands if share > float(band.line)] if share > check.share.value else []
    return SingleCheck(longest, most, share, beyond[-1] if beyond else None)
