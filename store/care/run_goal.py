"""Whether the goal's date can hold: when it is ready to jog, how long the way is, and what would have to be true.

The date sets nothing: it is held against the criteria and the ladder, never the other way round.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from store.care.ahead_words import chance_text
from store.care.care import Care
from store.care.dates import day_text, short_day
from store.care.run_against import stands_against
from store.care.run_ready import ReadyAhead, ready_ahead, ready_words
from store.care.run_words import running_lines
from store.care.running import RunStanding, jog_decided, run_done, running_standing, weekday_numbers
from store.care.stages import stage_of
from store.care.standing import Standing
from store.knowledge.criteria import Stage
from store.knowledge.running import Ladder
from store.reckon import running as reckoned
from store.reckon.goal import chance_ready_by, latest_start, steps_to

_KM = re.compile(r"(?<![\d.,])(\d{1,3}(?:[.,]\d{1,2})?)\s*km\b", re.IGNORECASE)
_WEEK = timedelta(days=7)
_PAST_JOGGING = frozenset({Stage.RUN, Stage.AGILITY, Stage.SPORT})


@dataclass(frozen=True, slots=True)
class GoalAhead:
    """What can be said of a goal's day. `what` is to be reached: `km`, where the goal's words name a distance,
    else the last rung.

    `ready` is when it may be ready to jog, None where jogging is decided, so that nothing is waited for.
    `in_one_piece` are the days of the last rung from the days of `ready` on, `earliest` the soonest day for the
    goal: a bound that holds where something is not foreseen too. `start_by` is the last day on which the way may
    begin, None where it is past; `chance` that it is ready by then, at most, None where something is not foreseen.
    """

    goal_on: date
    what: str
    km: float | None
    from_km: float
    ready: ReadyAhead | None
    in_one_piece: tuple[date | None, date | None]
    earliest: date | None
    start_by: date | None
    chance: float | None

    @property
    def holds(self) -> bool:
        """Whether the day can still be kept if all goes well."""
        return self.earliest is not None and self.earliest <= self.goal_on


def km_of(goal: str | None) -> float | None:
    """The distance that a goal names: "21 km forest race" is 21; None where it names none, or two."""
    found = {float(each.replace(",", ".")) for each in _KM.findall(goal or "")}
    (km,) = found if len(found) == 1 else (0.0,)
    return km or None


def goal_ahead(care: Care, held: RunStanding, stands_as: Standing) -> GoalAhead | None:
    """What can be said; None without a goal's day to come, in a closed episode, on an unknown ladder, or where an
    ankle without a plan is past jogging by its decisions."""
    goal_on, today = held.episode.goal_on, held.on
    if goal_on is None or goal_on < today or held.episode.closed is not None or held.unknown_ladder:
        return None
    decided = stage_of(care, held.episode.id)
    if held.plan is None and decided in _PAST_JOGGING:
        return None
    km = km_of(held.episode.goal)
    from_km = _longest(held) or held.table.first_km.value
    arrives = _way(held, km, from_km)
    ready = None if jog_decided(care, held.episode.id) else ready_ahead(care, stands_as)
    days = ready.days if ready is not None else (today, today)
    low = ready.low if ready is not None else today
    top = _top(held)
    start_by = latest_start(arrives, goal_on, today)
    return GoalAhead(
        goal_on=goal_on,
        what=f"{km:g} km" if km is not None else _ladder(held).rungs[-1].words,
        km=km,
        from_km=from_km,
        ready=ready,
        in_one_piece=(top(days[0]) if days[0] else None, top(days[1]) if days[1] else None),
        earliest=arrives(low) if low else None,
        start_by=start_by,
        chance=None
        if ready is None or not ready.known or not ready.marginals or start_by is None
        else chance_ready_by(ready.marginals, start_by, today),
    )


def _longest(held: RunStanding) -> float | None:
    """The longest run of the last days that count, in km."""
    back = int(held.table.single_run.days.value)
    ran = [run_done(one) for one in held.sessions if one.done_on is not None]
    return max((one.km for one in ran if one.km is not None and (held.on - one.on).days <= back), default=None)


def _top(held: RunStanding) -> Callable[[date], date | None]:
    """The first day on the last rung for a day on which it begins, all sessions clean."""
    ladder, plan = _ladder(held), held.plan
    done = [run_done(one) for one in held.sessions if plan is not None and one.done_on and one.plan == plan.id]
    weekdays: Sequence[int] = weekday_numbers(plan) if plan is not None else ()
    rung = plan.rung if plan is not None else 1

    def first(begins: date) -> date | None:
        begins = max(begins, plan.begins_on) if plan is not None else begins
        return reckoned.first_continuous(ladder, rung, done, weekdays, begins)

    return first


def _ladder(held: RunStanding) -> Ladder:
    return held.ladder or held.table.ladders[held.table.ladder]


def _way(held: RunStanding, km: float | None, from_km: float) -> Callable[[date], date | None]:
    """The day of arrival by the day on which it begins: the last rung, then one longer run a week."""
    weeks = steps_to(km, from_km, held.table.single_run.share.value) if km is not None else 0
    first = _top(held)

    def arrives(begins: date) -> date | None:
        found = first(begins)
        return found + weeks * _WEEK if found is not None else None

    return arrives


# in words

HOW = (
    "One luck for all that is foreseen (comonotone), which is the kindest case; every session clean; once it is "
    "run in one piece a longer run a week, within the bound above. Not before a day: by it the chance of what is "
    "foreseen is one in ten, and what has no forecast comes on top. No trial of people after a sprain drew this."
)
"""How the goal's day is worked out."""


def goal_lines(ahead: GoalAhead) -> list[str]:
    """What can be said, a sentence a line, the most important first."""
    return [*([ready_words(ahead.ready)] if ahead.ready is not None else []), _date_words(ahead)]


def goal_data(ahead: GoalAhead | None) -> dict[str, Any] | None:
    """The same as plain data."""
    if ahead is None:
        return None

    def iso(day: date | None) -> str | None:
        return day.isoformat() if day else None

    ready = ahead.ready
    return {
        "goal_on": ahead.goal_on.isoformat(),
        "distance_km": ahead.km,
        "ready_low_on": iso(ready.days[0]) if ready else None,
        "ready_high_on": iso(ready.days[1]) if ready else None,
        "ready_not_before_on": iso(ready.not_before) if ready else None,
        "last_rung_low_on": iso(ahead.in_one_piece[0]),
        "last_rung_high_on": iso(ahead.in_one_piece[1]),
        "earliest_on": iso(ahead.earliest),
        "start_by_on": iso(ahead.start_by),
        "holds": ahead.holds,
        "chance_at_most": None if ahead.chance is None else round(ahead.chance, 4),
        "not_foreseen": [one.measure for one in ready.unforeseen] if ready else [],
    }


def _date_words(ahead: GoalAhead) -> str:
    """What is soonest, and what would have to be true for the day. A goal without a distance may be no run: of
    that it is not said whether it holds."""
    when = f"not before {day_text(ahead.earliest)}" if ahead.earliest else "out of sight"
    soonest = f"{ahead.what} {when}"
    goal = short_day(ahead.goal_on)
    if not ahead.holds or ahead.start_by is None:
        return f"{soonest}: {goal} does not hold by this ladder" if ahead.km else f"{soonest}; the goal is {goal}"
    if ahead.ready is None:
        return f"{soonest}: {goal} holds if every session is clean" if ahead.km else soonest
    rest = len(ahead.ready.unforeseen)
    needs = [*ahead.ready.needs, *([f"{rest} more met" if ahead.ready.needs else f"{rest} met"] if rest else [])]
    wanted = f"{', '.join(needs)} and " if needs else ""
    chance = f"; chance at most {chance_text(ahead.chance)}" if ahead.chance is not None else ""
    return f"{soonest}; for {goal}: {wanted}jogging by {short_day(ahead.start_by)}, all clean{chance}"


def told_of_running(care: Care, stands_as: Standing) -> list[str]:
    """Where running stands and what is said of the goal's day, as `show` tells it."""
    held = running_standing(care, stands_as.episode.id)
    ahead = goal_ahead(care, held, stands_as)
    return running_lines(
        held, goal_lines(ahead) if ahead is not None else [], stands_against(care, held, stands_as)
    )
