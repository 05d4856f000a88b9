"""The date of a goal: when an ankle may be ready to run, how far it is from there, and the chance that it fits.

All that is foreseen gets better by one and the same luck: a course draws one number between 0 and 1 and leads it
through the forecast of each criterion (comonotone). No other coupling makes it likelier that all are met by a day,
so a chance from here is the kindest case: at most that much. It is worked out as what such draws come to.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date, timedelta

Marginal = Callable[[date], float]
"""The probability that one criterion is met on a day."""

_DAY, _WEEK = timedelta(days=1), timedelta(days=7)


def all_ready(days: Sequence[date | None], today: date) -> date | None:
    """The day on which the last of all is ready; today without any, None where one is not within sight.

    Where each is the first day at one probability, this is the first day of all at it, by one luck for all.
    """
    known = [day for day in days if day is not None]
    return max([today, *known]) if len(known) == len(days) else None


def chance_ready_by(marginals: Sequence[Marginal], day: date, today: date) -> float:
    """The probability that all are met by a day, in the kindest case: that of the least likely. 1 without any.

    A chance that has come is not lost again: each is the highest from today on, looked at once a week.
    """
    if day < today:
        return 0.0
    weeks = [today + n * _WEEK for n in range((day - today).days // 7 + 1)]
    return min((max(chance(each) for each in (*weeks, day)) for chance in marginals), default=1.0)


def steps_to(goal_km: float, from_km: float, share: float) -> int:
    """How many longer runs lead from one distance to another, each at most `share` per cent of the longest before.

    Raises ValueError where that leads nowhere.
    """
    if from_km <= 0 or share <= 100:
        raise ValueError("from more than 0 km, and by more than 100 per cent")
    if goal_km <= from_km:
        return 0
    exact = math.log(goal_km / from_km) / math.log(share / 100)
    return math.ceil(round(exact, 9))


def latest_start(arrives: Callable[[date], date | None], goal_on: date, first: date) -> date | None:
    """The last day from `first` on from which one still arrives by the goal's day; None where none is left.

    `arrives` gives the day of arrival for a day of departure. A week's rule can make a later start a few days
    quicker, and never by more than a week.
    """
    whole = arrives(first)
    if whole is None:
        return None
    day = goal_on - (whole - first) + _WEEK
    while day >= first:
        found = arrives(day)
        if found is not None and found <= goal_on:
            return day
        day -= _DAY
    return None
