"""Whose bout it is and what it is about: read once when it is opened, since nothing of it changes meanwhile."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from store.care.asking import beside_cautions
from store.care.care import Care
from store.care.faults import CareFault
from store.care.last_time import last_time
from store.care.timing import (
    LiveBout,
    Overrides,
    SetResult,
    begin,
    bout_state,
    most_pain,
    reopen,
    reopen_by_id,
    unfinished,
)
from store.care.warning import Warned, not_asked, warned
from store.knowledge.kinds import Activity, Figure
from store.knowledge.words import BoutKind, Episode, Visit
from store.record import bouts


@dataclass(frozen=True, slots=True)
class Setting:
    """One activity in one visit, with what stands against it: a referral, the cautions, those in force first, and
    what nobody asked of them yet.

    `most_pain` is the most through which it runs on, None where it must be painless or no pain is asked.
    `last_time` says that it was stopped for pain when it was done last; else empty. `sources` are the texts of
    what its figures name. `earlier` is what this visit's ended bouts of direction shifts came to, to be set
    beside this.
    """

    visit: Visit
    episode: Episode
    activity: Activity
    warned: tuple[Warned, ...]
    not_asked: tuple[str, ...]
    earlier: tuple[SetResult, ...] = ()
    most_pain: Figure | None = None
    last_time: str = ""
    sources: Mapping[str, str] = field(default_factory=dict)


def setting(care: Care, visit_id: str, activity_id: str) -> Setting:
    """The setting of an activity in a visit. Raises CareFault when the record or this copy knows it not."""
    visit = care.visit(visit_id)
    activity = care.knowledge.activities.get(activity_id)
    if activity is None:
        raise CareFault(f"this copy does not know the activity {activity_id}: choose another one (t)")
    if visit.episode is None:
        raise CareFault("a bout belongs to a visit of an episode: start one (v)")
    episode, person = care.episode(visit.episode), care.person(visit.person)
    against = beside_cautions(care, visit, activity, episode)
    cautions = warned(care.knowledge, activity, episode, person, care.clock.now().on)
    most = most_pain(care, activity) if activity.ask_pain and not activity.painless else None
    asked = not_asked(activity, episode)
    earlier, stopped = _earlier(care, visit, activity), last_time(care, episode.id, activity.id)
    named = {each for each in (activity.dose.source, most.source if most is not None else "") if each}
    return Setting(
        visit,
        episode,
        activity,
        (*against, *cautions),
        asked,
        earlier,
        most,
        stopped,
        {each: care.knowledge.sources[each].text for each in named},
    )


def _earlier(care: Care, visit: Visit, activity: Activity) -> tuple[SetResult, ...]:
    if activity.kind is not BoutKind.SHIFTS:
        return ()
    rows = [
        row for row in bouts.bouts_of_visit(care.record, visit.id) if row.activity == activity.id and row.ended
    ]
    return tuple(result for row in rows for result in bout_state(care, row)[1].done)


def taken_up(care: Care, visit_id: str, activity_id: str) -> tuple[Setting, LiveBout | None]:
    """The setting, and, paused, the bout of this activity that was left unfinished in this visit, if any."""
    found = setting(care, visit_id, activity_id)
    left = [row for row in unfinished(care, found.visit) if row.activity == activity_id]
    return found, reopen(care, left[-1]) if left else None


def taken_up_by_id(care: Care, bout_id: str, *, take_over: bool = False) -> tuple[Setting, LiveBout]:
    """A bout that was left or cut short, paused where it was, and its setting. Raises CareFault; or, where another
    window keeps it running, RunsElsewhere unless `take_over`."""
    live = reopen_by_id(care, bout_id, take_over=take_over)
    return setting(care, live.row.visit or "", live.row.activity), live


def begun(care: Care, found: Setting, asked: Overrides) -> LiveBout:
    """A new bout in this setting with this dose. Raises CareFault when the visit has ended meanwhile."""
    return begin(care, found.activity, care.visit(found.visit.id), overrides=asked)
