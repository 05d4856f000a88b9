"""What was said of the days at home, held against the days that were told one by one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from store.care.care import Care
from store.care.faults import CareFault
from store.care.home import Handed, HomeStanding, handed_out
from store.care.in_words import many
from store.knowledge.words import Visit
from store.reckon.dose import adherence, disagrees


def disagreement(held: HomeStanding, visit: Visit | None) -> str:
    """A sentence where what was said in a visit and the days that were told cannot both be; else empty."""
    told = differing(held.handed, visit) if visit is not None else ""
    if visit is None or not told:
        return ""
    return f"said: {visit.home_done} of {many(visit.home_planned or 0, 'day')}; {told}. Put one of the two right."


def differing(handed: Sequence[Handed], visit: Visit) -> str:
    """What the days tell where what was said in a visit cannot be: "by the days: 1 done, 3 not done"; or empty."""
    if visit.home_done is None or not visit.home_planned:
        return ""
    last = visit.started.on - timedelta(days=1)
    first = last - timedelta(days=visit.home_planned - 1)
    days = [day for one in handed for day in one.days]
    found = adherence((), days, first, last)
    if not disagrees(visit.home_done, visit.home_planned, found):
        return ""
    return f"by the days: {found.done} done, {found.not_done} not done"


def differing_in(care: Care, visit: Visit) -> str:
    """The same of a visit as it is kept."""
    if visit.home_done is None or not visit.episode:
        return ""
    try:
        return differing(handed_out(care, visit.episode), visit)
    except CareFault:  # one that cannot be read is told where it is shown
        return ""
