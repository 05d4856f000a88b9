"""What was decided on the stages of an episode."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING

from store.knowledge.words import Stage
from store.record.handle import Record, Row
from store.record.kept import Shelf
from store.record.rows import as_json, instant, stamp_of

if TYPE_CHECKING:
    from store.knowledge.planned import StageDecision


def _decision(row: Row) -> StageDecision:
    from store.knowledge.planned import StageDecision  # of no use to a list of people

    decided = stamp_of(row[4], row[5])
    assert decided is not None
    answers = tuple(json.loads(row[8]))
    return StageDecision(
        id=row[0],
        person=row[1],
        episode=row[2],
        stage=Stage(row[3]),
        decided=decided,
        examiner=row[6],
        reason=row[7],
        answers=answers,
        retracted=stamp_of(row[9], row[10]),
        revision=row[11],
    )


DECISION: Shelf[StageDecision] = Shelf(
    "stage_decision",
    "id, person, episode, stage, decided_at, decided_offset_min, examiner, reason, answers, retracted_at, "
    "retracted_offset_min, revision",
    _decision,
    lambda one: {
        "id": one.id,
        "person": one.person,
        "episode": one.episode,
        "stage": one.stage,
        **instant("decided", one.decided),
        "examiner": one.examiner,
        "reason": one.reason,
        "answers": as_json(list(one.answers)),
        **instant("retracted", one.retracted, local_date=False),
    },
)


OF_EPISODE = DECISION.select("episode = :episode ORDER BY decided_at, id")


def decisions_of(record: Record, episode_id: str) -> list[StageDecision]:
    """All of an episode that stand, oldest first."""
    return DECISION.found(record, OF_EPISODE, {"episode": episode_id})


STAGES = """SELECT episode, stage FROM stage_decision JOIN json_each(:episodes) ON episode = json_each.value
WHERE retracted_at IS NULL ORDER BY decided_at, stage_decision.id"""


def stages_of(record: Record, episodes: Sequence[str]) -> dict[str, Stage]:
    """The stage decided last of each of these episodes, by episode; none where nothing was decided."""
    rows = record.read(STAGES, {"episodes": as_json(list(episodes))})
    return {episode: Stage(stage) for episode, stage in rows}


def last_of(record: Record, episodes: Sequence[str]) -> dict[str, StageDecision]:
    """The newest that stands of each of these episodes, by episode; none where nothing was decided."""
    found = {}
    for episode in episodes:
        decisions = decisions_of(record, episode)
        if decisions:
            found[episode] = decisions[-1]
    return found
