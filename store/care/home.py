"""The home programme: carried over with a change on top, handed out, taken back; what stands of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from store.care.appointments import next_appointment
from store.care.care import Care
from store.care.dates import day_text, short_day
from store.care.faults import CareFault
from store.care.home_items import change_words, item_says, renewed
from store.care.in_words import many
from store.care.recall import Tail, balance_until, tail_of
from store.care.visits import must_be_open
from store.care.warning import Warned, warned
from store.knowledge.home_item import HomeItem, as_data, of_data
from store.knowledge.papers import Programme, ProgrammeDay
from store.knowledge.words import Episode, Person, Visit
from store.reckon.dose import Adherence, Amount, adherence, done, planned_a_week, week_of
from store.record import programmes

REVIEW_DAYS = 14
"""Days until a programme is looked at again, where no visit is planned (common practice)."""

REVIEW_MOST = 365


class Handed(NamedTuple):
    """One programme as it was handed out, with its items, the days that were told of it, and how it was kept to.

    `until` is the last day it counts for: the day before today, or before the next one was handed out; of a closed
    episode at most the last day of the balance work that follows.
    """

    programme: Programme
    items: tuple[HomeItem, ...]
    days: tuple[ProgrammeDay, ...]
    until: date
    kept_to: Adherence

    @property
    def since(self) -> date:
        """The day it was handed out."""
        return self.programme.issued.on


class HomeStanding(NamedTuple):
    """All that a screen or paper shows of what a person does at home. `handed` has the programmes, oldest first.

    `planned_week` and `done_week` are the work of this local week, at home. `tail` follows a discharge.
    """

    person: Person
    episode: Episode
    on: date
    handed: tuple[Handed, ...]
    planned_week: Amount
    done_week: Amount
    tail: Tail | None

    @property
    def in_force(self) -> Handed | None:
        """The last one."""
        return self.handed[-1] if self.handed else None

    @property
    def told(self) -> Handed | None:
        """The one of which days can be told: the last that was handed out before today."""
        return next((one for one in reversed(self.handed) if one.since < self.on), None)

    def of_visit(self, visit_id: str) -> Handed | None:
        """The one that was handed out in a visit."""
        return next((one for one in reversed(self.handed) if one.programme.visit == visit_id), None)

    def before(self, programme_id: str) -> Handed | None:
        """The one before another."""
        ids = [one.programme.id for one in self.handed]
        at = ids.index(programme_id) if programme_id in ids else 0
        return self.handed[at - 1] if at > 0 else None


def home_standing(care: Care, episode_id: str) -> HomeStanding:
    """What stands of an episode's home programmes. Raises CareFault."""
    episode = care.episode(episode_id)
    today = care.clock.now().on
    handed = handed_out(care, episode_id)
    monday, sunday = week_of(today)
    last = handed[-1] if handed else None
    worked = [done(one.items, [day for day in one.days if monday <= day.day <= sunday]) for one in handed]
    tail = tail_of(care, episode)
    goes_on = last is not None and (tail is None or monday <= tail.balance_until)
    return HomeStanding(
        person=care.person(episode.person),
        episode=episode,
        on=today,
        handed=handed,
        planned_week=planned_a_week(last.items) if last and goes_on else Amount(),
        done_week=sum(worked, Amount()),
        tail=tail,
    )


def handed_out(care: Care, episode_id: str) -> tuple[Handed, ...]:
    """An episode's programmes that stand, oldest first. Raises CareFault on one that cannot be read."""
    kept = programmes.programmes_of(care.record, episode_id)
    yesterday = care.clock.now().on - timedelta(days=1)
    closed = care.episode(episode_id).closed if kept else None
    if closed is not None:
        yesterday = min(yesterday, balance_until(care, closed.on))
    found = []
    for at, one in enumerate(kept):
        later = kept[at + 1].issued.on - timedelta(days=1) if at + 1 < len(kept) else yesterday
        items, days = items_of(one), tuple(programmes.days_of(care.record, one.id))
        until = min(later, yesterday)
        found.append(Handed(one, items, days, until, adherence(items, days, one.issued.on, until)))
    return tuple(found)


def items_of(programme: Programme) -> tuple[HomeItem, ...]:
    """A programme's items. Raises CareFault where they cannot be read."""
    try:
        return tuple(of_data(item) for item in programme.items)
    except ValueError as wrong:
        raise CareFault(f"the home programme of {day_text(programme.issued.on)}: {wrong}") from wrong


# a new one


def carried_over(care: Care, held: HomeStanding) -> tuple[HomeItem, ...]:
    """The items of the last programme, to be handed out again; in today's words."""
    return tuple(renewed(care, item) for item in held.in_force.items) if held.in_force else ()


def put_together(care: Care, held: HomeStanding) -> Programme | None:
    """What was handed out today and taken back, with nothing handed out since: it is there to go on from."""
    last = programmes.last_taken_back(care.record, held.episode.id)
    if last is None or last.issued.on != held.on:
        return None
    now = held.in_force
    return last if now is None or now.programme.id < last.id else None


def review_day(care: Care, held: HomeStanding) -> date:
    """When a programme of today is looked at again: at the next visit that is planned after today."""
    coming = next_appointment(care, held.person.id)
    if coming is not None and coming.due.on > held.on:
        return coming.due.on
    return held.on + timedelta(days=REVIEW_DAYS)


def issue(
    care: Care, held: HomeStanding, items: Sequence[HomeItem], review_on: date, visit: Visit | None = None
) -> Programme:
    """Hand a programme out: a new row, and the last one is in force. Raises CareFault.

    What it has otherwise than the one before is kept with it, in words.
    """
    if care.episode(held.episode.id).closed is not None:
        raise CareFault("this episode is closed: open it again to hand out a programme")
    if visit is not None:
        must_be_open(care.visit(visit.id))
    if not items:
        raise CareFault("nothing is in this programme: add something first")
    if not 0 <= (review_on - held.on).days <= REVIEW_MOST:
        raise CareFault(f"the review is from today to {REVIEW_MOST} days ahead")
    made = Programme(
        id="",
        person=held.person.id,
        episode=held.episode.id,
        issued=care.clock.now(),
        items=tuple(as_data(item) for item in items),
        visit=visit.id if visit is not None else None,
        examiner=care.examiner,
        review_on=review_on,
        words=origin_words(held, items),
    )
    with care.together():
        return programmes.PROGRAMME.add(care.record, made, by=care.examiner)


def origin_words(held: HomeStanding, items: Sequence[HomeItem]) -> str:
    """Where a new programme comes from: "carried over from 18 Nov; heel raises 3 sets instead of 2"."""
    last = held.in_force
    if last is None:
        return "first programme"
    changes = change_words(last.items, items)
    return f"carried over from {short_day(last.since)}{f'; {changes}' if changes else ', unchanged'}"


def take_back(care: Care, programme: Programme) -> str:
    """Take back that a programme was handed out; the one before is in force again. Raises CareFault.

    One of which days were told stays: they belong to it.
    """
    if programmes.days_of(care.record, programme.id):
        raise CareFault("days at home were told of this programme: take them back first")
    with care.together():
        programmes.PROGRAMME.take_back(care.record, None, programme, by=care.examiner)
    return "took back the home programme that was handed out"


# what to mind


def too_many(care: Care, items: Sequence[HomeItem]) -> str:
    """A gentle word where there is more than is usual on one sheet; empty where there is not."""
    most, fewer = care.knowledge.home.most_items, care.knowledge.home.fewer
    if len(items) <= most.value:
        return ""
    return (
        f"{len(items)} exercises: more than the usual {most.value:g} ({most.mark}). In one study of "
        f"{fewer.value:g} older people two were done better than eight; how often they were done was no different."
    )


def minded(care: Care, held: HomeStanding, items: Sequence[HomeItem]) -> tuple[Warned, ...]:
    """The cautions that this person puts in force for any of the items, each once."""
    found: dict[str, Warned] = {}
    for item in items:
        activity = care.knowledge.activities.get(item.activity)
        if activity is not None:
            told = warned(care.knowledge, activity, held.episode, held.person, held.on)
            found |= {one.id: one for one in told if one.in_force}
    return tuple(found.values())


# in words


def programme_lines(one: Handed) -> tuple[str, ...]:
    """A programme, an item a line: "heel raises: 3 x 12, right, once a day, 4 days a week"."""
    return tuple(f"{item.name}: {item_says(item)}" for item in one.items)


def kept_to_words(one: Handed) -> str:
    """How it was kept to: "since 18 Nov 5 of 7 days done, 1 not, 1 not told"; empty before its second day.

    Where no day was told, nothing is said of how many were done.
    """
    found = one.kept_to
    if not found.days:
        return ""
    if found.not_told == found.days:  # none of them done would be said of what nobody asked
        return f"since {short_day(one.since)} no day told, of {many(found.planned, 'planned day')}"
    says = f"since {short_day(one.since)} {found.done} of {many(found.planned, 'planned day')} done"
    says += f", {found.not_done} not done" if found.not_done else ""
    return says + (f", {many(found.not_told, 'day')} not told" if found.not_told else "")
