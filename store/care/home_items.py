"""The items of a home programme: made from activities, their doses changed by a key, and told in a few words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from store.care.care import Care
from store.care.dose_words import intervals_words, time_words
from store.care.dosing import SPANS, Part, Span, stepped
from store.care.faults import CareFault
from store.care.in_words import many
from store.knowledge.home import HomeWords
from store.knowledge.home_item import HomeItem
from store.knowledge.kinds import Activity
from store.knowledge.words import BoutKind, Episode, Side, Visit
from store.record import bouts

A_DAY, DAYS_A_WEEK = Span(1, 1, 6), Span(1, 1, 7)
"""How far the keys go; ours."""

_BY_TIME = (BoutKind.HOLD_FIXED, BoutKind.TIMED)
_TIMES = {1: "once a day", 2: "twice a day"}


class HomeChoice(NamedTuple):
    """An activity that can be done at home, and the group it stands in."""

    activity: Activity
    words: HomeWords
    group: str
    says: str


def choices(care: Care, episode: Episode, visit: Visit | None, last: Iterable[HomeItem]) -> tuple[HomeChoice, ...]:
    """All that can be done at home: what was given last, then what was done in this visit, then by the phase of
    the course. Nothing that needs a clinician's hand, and no test.
    """
    worked = bouts.bouts_of_visit(care.record, visit.id) if visit is not None else []
    groups = {
        "given last time": [item.activity for item in last],
        "done in this visit": [row.activity for row in worked],
    }
    known = care.knowledge.activities
    group_of = {each: group for group, ids in reversed(groups.items()) for each in ids}
    fit = [one for one in known.values() if not one.hands_on and not one.measure and _can_be_told(care, one)]
    first = [one for group in groups for one in fit if group_of.get(one.id) == group]
    rest = [one for one in fit if one.id not in group_of]
    return tuple(
        HomeChoice(
            one, words_of(care, one), group_of.get(one.id, one.phase), item_says(new_item(care, one, episode))
        )
        for one in (*first, *rest)
    )


def _can_be_told(care: Care, activity: Activity) -> bool:
    """One that the clinic added is told in its own words; the program's need plain ones."""
    return activity.added or activity.id in care.knowledge.home.words


def words_of(care: Care, activity: Activity) -> HomeWords:
    """The plain words of an activity; those of its set-up where the table has none."""
    found = care.knowledge.home.words.get(activity.id)
    return found or HomeWords(activity.id, activity.name, activity.set_up, pull=activity.anchor)


def new_item(care: Care, activity: Activity, episode: Episode) -> HomeItem:
    """An activity as an item, with its usual dose. Raises CareFault on what cannot be done at home."""
    if activity.hands_on or activity.measure or not _can_be_told(care, activity):
        raise CareFault(f"{activity.name} is not done at home: choose another")
    words, dose = words_of(care, activity), activity.dose
    return HomeItem(
        activity=activity.id,
        name=activity.name,
        kind=activity.kind,
        sides=_sides(activity, episode.side),
        sets=dose.sets,
        words=words,
        reps=dose.reps,
        hold_s=dose.hold_s,
        rest_s=dose.rest_s,
        phases=dose.phases,
        ways=len(activity.directions) if activity.kind is BoutKind.REACHES else 1,
        a_day=words.a_day,
        days_a_week=words.days_a_week,
        loading=activity.loading,
    )


def renewed(care: Care, item: HomeItem) -> HomeItem:
    """An item of last time with today's words; as it was where this copy does not know it."""
    activity = care.knowledge.activities.get(item.activity)
    return item._replace(name=activity.name, words=words_of(care, activity)) if activity is not None else item


def _sides(activity: Activity, injured: Side) -> tuple[Side, ...]:
    return {"both": tuple(Side), "injured": (injured,)}.get(activity.sides, ())


# the dose, part by part


def parts(item: HomeItem) -> tuple[Part, ...]:
    """What can be changed of an item, in the order it is told."""
    found = [Part("sets", many(item.sets, "set"))]
    if item.reps:
        found.append(Part("reps", f"{item.reps} each way" if item.ways > 1 else many(item.reps, "rep")))
    if item.kind in _BY_TIME:
        found.append(Part("hold_s", time_words(item.hold_s)))
    if item.sides:
        found.append(Part("sides", sides_words(item.sides)))
    return (
        *found,
        Part("a_day", often_words(item)),
        Part("days_a_week", f"{many(item.days_a_week, 'day')} a week"),
    )


def changed(item: HomeItem, part: str, by: int) -> HomeItem:
    """The item after one key up (`by` 1) or down (-1) on a part of its dose."""
    match part:
        case "sets":
            return item._replace(sets=int(stepped(item.sets, SPANS["sets"], by)))
        case "reps":
            return item._replace(reps=int(stepped(item.reps, SPANS["reps"], by)))
        case "hold_s":
            span = SPANS["hold_s" if item.kind is BoutKind.HOLD_FIXED or item.hold_s < 120 else "work_s"]
            return item._replace(hold_s=stepped(item.hold_s, span, by))
        case "sides":
            return item._replace(sides=_next_sides(item.sides, by))
        case "a_day":
            return item._replace(a_day=int(stepped(item.a_day, A_DAY, by)))
        case "days_a_week":
            return item._replace(days_a_week=int(stepped(item.days_a_week, DAYS_A_WEEK, by)))
    raise CareFault(f"an item of a home programme has no {part}")


def _next_sides(sides: tuple[Side, ...], by: int) -> tuple[Side, ...]:
    ring = [(Side.LEFT,), (Side.RIGHT,), (Side.LEFT, Side.RIGHT)]
    at = ring.index(sides) if sides in ring else 0
    return ring[(at + by) % len(ring)]


# in words


def amount_words(item: HomeItem) -> str:
    """What is done at one time: "2 x 10", "3 x 30 s", "15 min"."""
    if item.kind is BoutKind.WALK_RUN:
        return f"{item.reps} x {intervals_words(item.phases)}"
    if item.kind in _BY_TIME:
        amount = time_words(item.hold_s)
    else:
        amount = f"{item.reps} each way" if item.ways > 1 else f"{item.reps}"
    return f"{item.sets} x {amount}" if item.sets > 1 or item.kind not in _BY_TIME else amount


def sides_words(sides: Sequence[Side]) -> str:
    """On which leg: "left", "left and right"; empty where it is both at once."""
    return " and ".join(side.value for side in sides)


def often_words(item: HomeItem) -> str:
    """How often a day: "once a day", "4 times a day"."""
    return _TIMES.get(item.a_day, f"{item.a_day} times a day")


def item_says(item: HomeItem) -> str:
    """The dose in a few words: "2 x 10, right, once a day", "3 x 30 s, left, once a day, 3 days a week"."""
    sides = sides_words(item.sides)
    days = "" if item.days_a_week == DAYS_A_WEEK.most else f", {many(item.days_a_week, 'day')} a week"
    return f"{amount_words(item)}{f', {sides}' if sides else ''}, {often_words(item)}{days}"


def change_words(before: Sequence[HomeItem], after: Sequence[HomeItem]) -> str:
    """What one programme has otherwise than the one before, in words; empty where nothing is."""
    was, now = {item.activity: item for item in before}, {item.activity: item for item in after}
    says = [f"{item.name} added, {item_says(item)}" for item in after if item.activity not in was]
    for item in before:
        new = now.get(item.activity)
        if new is None:
            says.append(f"{item.name} dropped")
        elif item_says(new) != item_says(item):
            says.append(f"{item.name} {_from_to(item, new)}")
    return "; ".join(says)


def _from_to(before: HomeItem, after: HomeItem) -> str:
    """The parts of a dose that changed: "3 sets instead of 2 sets"."""
    old = {part.id: part.says for part in parts(before)}
    return ", ".join(
        f"{part.says} instead of {old.get(part.id, 'none')}"
        for part in parts(after)
        if part.says != old.get(part.id)
    )
