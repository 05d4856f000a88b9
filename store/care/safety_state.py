"""How an ankle stands by its safety screens: when it was last screened, and what still stands to be settled."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from store.care.care import Care
from store.care.dates import short_day
from store.knowledge.words import Visit
from store.record import safety, visits

if TYPE_CHECKING:
    from store.care.warning import Warned
    from store.knowledge.papers import SafetyScreen

FULL, AS_A_GROUP = "full", "asked as a group"
"""The kinds of a screen: question by question, or all at once with no change told."""

NO_CHANGE = "asked as a group, no change reported"
NOT_SCREENED = "not screened yet"
STANDS = ("emergency", "refer today", "refer")
"""Outcomes that stay on the episode until they are settled, the gravest first."""

REFER = "refer_"
"""How the id of such a reason begins; the id of its screen follows."""


def last_full(screens: Sequence[SafetyScreen]) -> SafetyScreen | None:
    """The newest that was asked question by question."""
    return next((one for one in reversed(screens) if one.kind == FULL), None)


def standing_refers(screens: Sequence[SafetyScreen]) -> tuple[SafetyScreen, ...]:
    """Those that say emergency or refer and were not settled, oldest first."""
    return tuple(one for one in screens if one.kind == FULL and one.outcome in STANDS and one.settled is None)


def gravest(outcomes: Collection[str]) -> str:
    """Which of these outcomes asks most; empty where none is to be settled."""
    return next((one for one in STANDS if one in outcomes), "")


def stands(care: Care, episode_id: str) -> tuple[SafetyScreen, ...]:
    """The same of an episode as it is kept."""
    return standing_refers(safety.screens_of(care.record, episode_id))


def refer_words(one: SafetyScreen) -> str:
    """A standing one in a few words: "refer today stands, 25 Nov"."""
    return f"{one.outcome} stands, {short_day(one.asked.on)}"


def warnings(care: Care, episode_id: str) -> tuple[Warned, ...]:
    """What is asked for each of them before hands-on work or loading."""
    from store.care.warning import Warned  # of no use to a list of people

    return tuple(
        Warned(
            f"{REFER}{one.id}",
            "settle it on the safety screen (s) with a reason, or do not load.",
            in_force=True,
            because=refer_words(one),
        )
        for one in stands(care, episode_id)
    )


def of_visit(care: Care, visit: Visit) -> list[SafetyScreen]:
    """What was asked in a visit, oldest first."""
    if visit.episode is None:
        return []
    return [one for one in safety.screens_of(care.record, visit.episode) if one.visit == visit.id]


def bearing_on(care: Care, visit: Visit) -> list[SafetyScreen]:
    """What a visit rests on: what was asked in it, and the screen of the same day that was gone through just
    before it was started, oldest first.
    """
    if visit.episode is None:
        return []
    earlier = [
        one.started for one in visits.visits_of_episode(care.record, visit.episode) if one.started < visit.started
    ]
    since = max(earlier, default=None)
    return [
        one
        for one in safety.screens_of(care.record, visit.episode)
        if one.visit == visit.id
        or (
            one.visit is None
            and one.asked.on == visit.started.on
            and one.asked <= visit.started
            and (since is None or since < one.asked)
        )
    ]


def step_says(care: Care, visit: Visit) -> str:
    """The step of the plan in a few words: what came of it, or what is wanted."""
    asked = bearing_on(care, visit)
    if asked:
        last = asked[-1]
        return "no change reported" if last.kind == AS_A_GROUP else last.outcome
    screens = safety.screens_of(care.record, visit.episode) if visit.episode else []
    stand = standing_refers(screens)
    if stand:
        return refer_words(stand[-1])
    return "ask as a group" if last_full(screens) else f"{NOT_SCREENED}: s"
