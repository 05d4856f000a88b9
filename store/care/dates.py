"""Days and times as they are shown, in plain English words whatever the machine's own language is."""

from __future__ import annotations

from datetime import date

from store.knowledge.time import MONTHS, WEEKDAYS, Stamp


def day_text(day: date, *, weekday: bool = False) -> str:
    """A day in words: `25 Nov 2026`, or `Wed 25 Nov 2026`."""
    text = f"{day.day} {MONTHS[day.month - 1][:3].capitalize()} {day.year}"
    return f"{weekday_text(day)} {text}" if weekday else text


def weekday_text(day: date) -> str:
    """The day of the week: `Wed`."""
    return WEEKDAYS[day.weekday()][:3].capitalize()


def short_day(day: date) -> str:
    """A day of about now, without its year: `25 Nov`."""
    return f"{day.day} {MONTHS[day.month - 1][:3].capitalize()}"


def time_text(stamp: Stamp) -> str:
    """The wall-clock time there and then, as `10:38`."""
    return f"{stamp.local:%H:%M}"


def stamp_text(stamp: Stamp) -> str:
    """Day and time there and then: `25 Nov 2026 10:38`."""
    return f"{day_text(stamp.on)} {time_text(stamp)}"


def away_text(day: date, today: date) -> str:
    """How far a day lies from today, counted in days: `tomorrow`, `in 84 days`, `91 days ago`."""
    days = (day - today).days
    if abs(days) <= 1:
        return ("yesterday", "today", "tomorrow")[days + 1]
    return f"{-days} days ago" if days < 0 else f"in {days} days"


def age_words(days: int) -> str:
    """How old something of so many days ago is: `today`, `1 day ago`; what is dated after today, since the clock
    was set back, is never minus so many days old."""
    if days == 0:
        return "today"
    size = f"{abs(days)} day{'' if abs(days) == 1 else 's'}"
    return f"{size} ago" if days > 0 else f"dated {size} ahead"


def how_long(day: date, today: date) -> str:
    """How far a day lies from today, in words: `today`, `5 days ago`, `in 3 weeks`."""
    days = abs((day - today).days)
    if days < 21:
        return away_text(day, today)
    return f"{days // 7} weeks ago" if day < today else f"in {days // 7} weeks"
