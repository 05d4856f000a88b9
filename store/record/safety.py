"""Safety screens: kept, settled, and found by episode."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING

from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of

if TYPE_CHECKING:
    from store.knowledge.papers import SafetyScreen


def _screen(row: Row) -> SafetyScreen:
    from store.knowledge.papers import SafetyScreen  # of no use to a list of people

    asked = stamp_of(row[5], row[6])
    assert asked is not None
    return SafetyScreen(
        id=row[0],
        person=row[1],
        episode=row[2],
        visit=row[3],
        kind=row[4],
        asked=asked,
        examiner=row[7],
        answers=json.loads(row[8]),
        shown=tuple(json.loads(row[9])),
        outcome=row[10],
        findings=tuple(json.loads(row[11])),
        rules=row[12],
        settled=stamp_of(row[13], row[14]),
        settled_because=row[15],
        retracted=stamp_of(row[16], row[17]),
        revision=row[18],
    )


SCREEN: Shelf[SafetyScreen] = Shelf(
    "safety_screen",
    "id, person, episode, visit, kind, asked_at, asked_offset_min, examiner, answers, shown, outcome, findings, "
    "rules, settled_at, settled_offset_min, settled_because, retracted_at, retracted_offset_min, revision",
    _screen,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "visit": one.visit,
        "kind": one.kind,
        **instant("asked", one.asked),
        "examiner": one.examiner,
        "answers": as_json(one.answers),
        "shown": as_json(list(one.shown)),
        "outcome": one.outcome,
        "findings": as_json(list(one.findings)),
        "rules": one.rules,
        **instant("settled", one.settled, local_date=False),
        "settled_because": one.settled_because,
        **instant("retracted", one.retracted, local_date=False),
    },
)

OF_EPISODE = SCREEN.select("episode = :episode ORDER BY asked_at, id")


UNSETTLED_IN = """SELECT episode, CASE WHEN settled_at IS NULL THEN outcome ELSE '' END
FROM json_each(:episodes) CROSS JOIN safety_screen ON episode = json_each.value
WHERE kind = 'full' AND retracted_at IS NULL ORDER BY asked_at, safety_screen.id"""


def unsettled_in(record: Record, episodes: Iterable[str]) -> dict[str, list[str]]:
    """Of each of these episodes the outcome of each screen that was asked question by question, oldest first;
    empty text for one that was settled. An episode that was never screened so has none.
    """
    found: dict[str, list[str]] = {episode: [] for episode in episodes}
    for episode, outcome in record.read(UNSETTLED_IN, {"episodes": as_json(list(found))}):
        found[episode].append(outcome)
    return found


def screens_of(record: Record, episode_id: str) -> list[SafetyScreen]:
    """All of an episode that stand, oldest first."""
    return SCREEN.found(record, OF_EPISODE, {"episode": episode_id})
