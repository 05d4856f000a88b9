"""The invented clinic: its days, and the people that come to it."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from store.care.care import Care
from store.knowledge.time import SetClock, Stamp

SATURDAY, SUNDAY = 5, 6


class Clinic(NamedTuple):
    """Who examines, on a clock that moves with what is done; `now` is when the record will be opened."""

    care: Care
    clock: SetClock
    now: Stamp

    def day(self, days_ago: int) -> date:
        """A day before the one on which the record will be opened."""
        return self.now.on - timedelta(days=days_ago)

    def at(self, days_ago: int, hour: int, minute: int = 0) -> datetime:
        """A time on a working day: a Saturday is moved to the Friday, a Sunday to the Monday if that is past."""
        day = self.day(days_ago)
        if day.weekday() == SATURDAY or (day.weekday() == SUNDAY and days_ago == 1):
            day -= timedelta(days=day.weekday() - SATURDAY + 1)
        elif day.weekday() == SUNDAY:
            day += timedelta(days=1)
        return datetime.combine(day, time(hour, minute), self.clock.zone)

    def coming(self, days: int, hour: int, minute: int = 0) -> str:
        """A time on a working day from today on, as it is typed; a weekend's is moved to the Monday."""
        day = self.day(-days)
        day += timedelta(days=max(0, SUNDAY + 1 - day.weekday()) if day.weekday() >= SATURDAY else 0)
        return f"{day.isoformat()} {hour}:{minute:02}"

    def just_now(self, minutes: float) -> datetime:
        """Some minutes before the record is opened."""
        return self.now.at.astimezone(self.clock.zone) - timedelta(minutes=minutes)

    def sunday_in(self, days: int) -> date:
        """The first Sunday at least so many days ahead."""
        day = self.day(-days)
        return day + timedelta(days=SUNDAY - day.weekday())

    def pass_minutes(self, minutes: float) -> None:
        """Let time go by."""
        self.clock.move(round(minutes * 60))
