"""How much work: sets, reps, holds and time under load; of a visit, a day or a week, planned or done."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from store.knowledge.home_item import HomeItem
from store.knowledge.papers import ProgrammeDay
from store.knowledge.words import BoutKind

WEEK = 7


@dataclass(frozen=True, slots=True)
class Amount:
    """Work of any kind. `load_s` are the seconds of it in which the ankle was loaded.

    Of a part of a day they need not be whole numbers.
    """

    sets: float = 0.0
    reps: float = 0.0
    holds: float = 0.0
    load_s: float = 0.0

    def __add__(self, other: Amount) -> Amount:
        """Both together."""
        return Amount(
            self.sets + other.sets,
            self.reps + other.reps,
            self.holds + other.holds,
            self.load_s + other.load_s,
        )

    def times(self, factor: float) -> Amount:
        """So many times as much."""
        return Amount(self.sets * factor, self.reps * factor, self.holds * factor, self.load_s * factor)

    @property
    def any(self) -> bool:
        """Whether it is anything at all."""
        return any((self.sets, self.reps, self.holds, self.load_s))


def total(amounts: Iterable[Amount]) -> Amount:
    """All together."""
    return sum(amounts, Amount())


def once(item: HomeItem) -> Amount:
    """An item done once, on every leg that it is done on.

    Reps that no clock paces take a time that nobody knows: their time under load is 0.
    """
    legs = max(len(item.sides), 1)
    cycle_s = sum(phase.seconds for phase in item.phases)
    seconds = item.hold_s or item.reps * cycle_s
    held = item.kind in (BoutKind.HOLD_FIXED, BoutKind.HOLD_TO_LOSS)
    one_set = Amount(1, item.reps * item.ways, held, seconds if item.loading else 0.0)
    return one_set.times(item.sets * legs)


def a_day(items: Iterable[HomeItem]) -> Amount:
    """A day on which everything is done as often as it is asked."""
    return total(once(item).times(item.a_day) for item in items)


def planned_a_week(items: Iterable[HomeItem]) -> Amount:
    """A week of a programme, each item on its days."""
    return total(once(item).times(item.a_day * item.days_a_week) for item in items)


def done(items: Sequence[HomeItem], days: Iterable[ProgrammeDay]) -> Amount:
    """What days of a programme came to. It is told how many items were done, not which: of a day with one of two
    done it is half of all.
    """
    whole = a_day(items)
    return total(whole.times(min(day.done / len(items), 1.0)) for day in days) if items else Amount()


# days


class Adherence(NamedTuple):
    """Days of a home programme: on how many something was done, on how many nothing, and which nobody told of.

    `planned` is how many of the `days` were to be days of work; a day not told is neither done nor not done.
    """

    days: int
    planned: int
    done: int
    not_done: int

    @property
    def not_told(self) -> int:
        """Days of which nothing was said."""
        return self.days - self.done - self.not_done


def adherence(items: Sequence[HomeItem], days: Iterable[ProgrammeDay], first: date, last: date) -> Adherence:
    """Of the days from `first` to `last`, both counted; none when `last` lies before `first`.

    Of a programme whose items are for three days a week three of seven days were planned, rounded.
    """
    span = max((last - first).days + 1, 0)
    often = max((item.days_a_week for item in items), default=0)
    told = [day for day in days if first <= day.day <= last]
    worked = sum(day.done > 0 for day in told)
    return Adherence(span, round(span * often / WEEK), worked, len(told) - worked)


def week_of(day: date) -> tuple[date, date]:
    """Monday and Sunday of the local week that a day lies in."""
    monday = day - timedelta(days=day.weekday())
    return monday, monday + timedelta(days=WEEK - 1)


def disagrees(said_done: int, said_planned: int, found: Adherence) -> bool:
    """Whether "5 of 7 days" cannot be true by the days that were told, whatever the days not told were."""
    return found.done > said_done or found.not_done > said_planned - said_done
