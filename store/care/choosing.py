"""What there is to choose when a timer is opened: this visit's plan first, then what was used lately, then all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from store.care.care import Care
from store.care.timing import unfinished
from store.knowledge.kinds import Activity
from store.knowledge.words import Visit
from store.record import bouts
from store.record.visits import worked_visits

LATELY = 3
"""Visits, of those before this one, whose timers count as used lately (common practice)."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One activity, and the group it stands in: each stands once, in the first group that it fits."""

    activity: Activity
    group: str
    paused: bool = False


def choices(care: Care, visit: Visit) -> tuple[Choice, ...]:
    """All activities, those of the plan first, then those of the last visits, then by the phase of the course."""
    known = care.knowledge.activities
    paused = {row.activity for row in unfinished(care, visit)}
    groups = {
        "kept paused": tuple(row.activity for row in unfinished(care, visit)),
        "in the plan": tuple(step.ref for step in visit.plan if step.kind == "activity" and not step.dropped),
        "used lately": tuple(_lately(care, visit)),
    }
    found: dict[str, Choice] = {}
    for group, ids in groups.items():
        for each in ids:
            if each in known and each not in found:
                found[each] = Choice(known[each], group, each in paused)
    rest = (activity for activity in known.values() if activity.id not in found)
    return (*found.values(), *(Choice(activity, activity.phase) for activity in rest))


def _lately(care: Care, visit: Visit) -> Iterable[str]:
    """The activities of this visit and of the last ones of the episode, the latest first."""
    if visit.episode is None:
        return
    before = [each for each in worked_visits(care.record, visit.episode, LATELY + 1) if each.id != visit.id]
    for each in (visit, *before[:LATELY]):
        rows = bouts.bouts_of_visit(care.record, each.id)
        yield from (row.activity for row in reversed(rows) if row.ended is not None)
