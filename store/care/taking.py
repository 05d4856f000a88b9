"""From an entry to the readings that would be kept of it."""

from __future__ import annotations

from store.care.care import Care
from store.entry.entry import Entry, SideEntry
from store.knowledge.kinds import Measure
from store.knowledge.words import Reading, Status, Visit
from store.reckon.sides import value_of


def new_readings(
    care: Care,
    person: str,
    entry: Entry,
    visit: Visit | None = None,
    *,
    episode: str | None = None,
    bout: str | None = None,
    blind: bool = False,
) -> list[Reading]:
    """A reading a side, taken now, not yet kept. The episode is the visit's where there is one."""
    now, measure = care.clock.now(), entry.measure
    return [
        Reading(
            id=care.new_id(),
            person=person,
            measure=measure.id,
            unit=measure.unit,
            taken=now,
            side=side.side,
            value=value_of_side(side, measure),
            status=side.status,
            moment=entry.moment,
            trials=side.trials,
            conditions=entry.conditions,
            episode=visit.episode if visit else episode,
            visit=visit.id if visit else None,
            bout=bout,
            examiner=care.examiner,
            note=entry.note,
            protocol=measure.protocol,
            blind=blind,
        )
        for side in entry.sides
    ]


def value_of_side(side: SideEntry, measure: Measure) -> float | None:
    """The one value that a side's trials make; None when unable."""
    return None if side.status is Status.UNABLE else value_of(side.trials, measure)
