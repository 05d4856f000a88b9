"""After discharge: the weeks of balance work that follow, and when the person is asked to come again."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from store.care.care import Care
from store.care.dates import day_text
from store.knowledge.words import Episode, Person
from store.record import episodes, visits

EARLY_DAYS = 14
"""A contact so many days before a recall, or later, stands for it (common practice)."""

LATE_DAYS = 92
"""So many days after the last recall it is no longer asked for (common practice)."""


_SHORT_MONTH = 3
"""Days by which the last of a long month lies beyond the last of a short one."""


class Recall(NamedTuple):
    """One recall: so many months after discharge, on a day; `due` when that has come and nobody was seen since."""

    months: int
    on: date
    due: bool = False


class Tail(NamedTuple):
    """What follows a discharge: balance work at home until a day, and the recalls."""

    closed_on: date
    balance_until: date
    recalls: tuple[Recall, ...]

    @property
    def due(self) -> Recall | None:
        """The recall that is due."""
        return next((one for one in self.recalls if one.due), None)


def tail_of(care: Care, episode: Episode) -> Tail | None:
    """What follows the discharge of a closed episode; None while it is open."""
    if episode.closed is None:
        return None
    return _tail(care, episode.closed.on, _last_contact(care, episode))


def recalls_due(care: Care, limit: int = -1) -> tuple[tuple[Person, Episode, Recall], ...]:
    """Everybody whose recall has come and who was not seen since, the longest due first; `limit` -1 is all."""
    today = care.clock.now().on
    months = sorted(int(line.figure.value) for line in care.knowledge.home.recall)
    found = []
    for at, each in enumerate(months):
        last = months_after(today, -each) + timedelta(days=_SHORT_MONTH)
        latest = months_after(today - timedelta(days=LATE_DAYS), -each) - timedelta(days=_SHORT_MONTH)
        since = months_after(today, -months[at + 1]) if at + 1 < len(months) else latest
        for person, episode in episodes.not_seen_since(care.record, since, last, each, EARLY_DAYS, limit):
            tail = tail_of(care, episode)
            if tail is not None and tail.due is not None and tail.due.months == each:
                found.append((person, episode, tail.due))
    found.sort(key=lambda one: one[2].on)
    return tuple(found if limit < 0 else found[:limit])


def _tail(care: Care, closed: date, seen: date) -> Tail:
    home, today = care.knowledge.home, care.clock.now().on
    days = [(int(line.figure.value), months_after(closed, int(line.figure.value))) for line in home.recall]
    passed = [day for _, day in days if day <= today]
    now = passed[-1] if passed else None
    waits = now is not None and seen < now - timedelta(days=EARLY_DAYS)
    waits = waits and (now != days[-1][1] or (today - days[-1][1]).days <= LATE_DAYS)
    return Tail(
        closed,
        balance_until(care, closed),
        tuple(Recall(months, day, waits and day == now) for months, day in days),
    )


def balance_until(care: Care, closed: date) -> date:
    """The last day of the balance work at home that follows a discharge."""
    return closed + timedelta(weeks=care.knowledge.home.tail_weeks.value)


def _last_contact(care: Care, episode: Episode) -> date:
    """When the person was last seen, for whichever ankle."""
    own = visits.visits_of_person(care.record, episode.person)
    return max((visit.started.on for visit in own), default=date.min)


def months_after(day: date, months: int) -> date:
    """The same day of another month, or the last one there is in it."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    from calendar import monthrange  # read when it is first asked for, not at the start

    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


# in words


def recall_words(one: Recall) -> str:
    """A recall: "3 months after discharge, 25 Feb 2027"."""
    return f"{one.months} months after discharge, {day_text(one.on)}{', due' if one.due else ''}"


def next_recall(tail: Tail, today: date) -> str:
    """The recall that is due, else the next to come, in words; empty after the last."""
    coming = (one for one in tail.recalls if one.on >= today)
    one = tail.due or next(coming, None)
    return f"recall {recall_words(one)}" if one is not None else ""


def tail_words(tail: Tail, today: date) -> tuple[str, ...]:
    """What follows a discharge, in sentences."""
    until = day_text(tail.balance_until)
    verb = "until" if today <= tail.balance_until else "ended"
    return (
        f"balance work at home {verb} {until}",
        "recall " + "; ".join(recall_words(one) for one in tail.recalls),
    )
