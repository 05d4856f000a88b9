"""One measure over time as a chart shows it: the readings that count, their error, and the lines to reach."""

from __future__ import annotations

from typing import NamedTuple

from store.care.care import Care
from store.care.measured import counted_of
from store.care.standing import Standing, belongs, start_of
from store.care.worked_out import COMPOSITE, composites
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Reading, Side, Status
from store.reckon.error import error_for
from store.record import readings

BAR_SEM = 1.96
"""A bar is the value plus and minus so many SEM between visits: 95 of 100 such bars hold the true value."""


class Charted(NamedTuple):
    """What the chart of a measure is drawn from. `half_bar` is None where the error is not known.

    The readings of each side are those that count: one an occasion, taken before the hands-on part or unmarked.
    A side that was unable that day has no place on the chart and stands in `unable`. `lines` are values with the
    word at their end. `hidden` says that today's values are held back.
    """

    measure: Measure
    injured: Side
    left: tuple[Reading, ...]
    right: tuple[Reading, ...]
    single: tuple[Reading, ...]
    unable: tuple[Reading, ...]
    capped: tuple[Reading, ...]
    half_bar: float | None
    lines: tuple[tuple[float, str], ...]
    hidden: bool
    days: dict[str, float]

    def day_of(self, reading: Reading) -> float:
        """Days since the injury, or since the episode was opened where its day is not known."""
        return self.days[reading.id]


def charted(care: Care, held: Standing, measure: Measure) -> Charted:
    """The chart of one measure of an episode, without what is blind now."""
    shown = _shown(care, held, measure)
    sides = (Side.LEFT, Side.RIGHT, None)
    kept = {side: counted_of(one for one in shown if one.side is side) for side in sides}
    start = start_of(held.episode)
    every = [one for taken in kept.values() for one in taken]
    error = error_for(measure, "between")
    return Charted(
        measure=measure,
        injured=held.episode.side,
        left=_with_value(kept[Side.LEFT]),
        right=_with_value(kept[Side.RIGHT]),
        single=_with_value(kept[None]),
        unable=tuple(one for one in every if one.value is None),
        capped=tuple(one for one in every if one.status is Status.CAP),
        half_bar=BAR_SEM * error.sem if error else None,
        lines=tuple(
            (cut.figure.value, f"{cut.line} {cut.figure.value:g}") for cut in measure.cut_offs if cut.line
        ),
        hidden=held.of(measure.id).hidden,
        days={one.id: float((one.taken.on - start).days) for one in every},
    )


def untreated_of(care: Care, held: Standing, measure: Measure, side: Side | None) -> tuple[Reading, ...]:
    """The readings of one side that count, oldest first, without those after treatment and what is blind now."""
    shown = [one for one in _shown(care, held, measure) if one.side is side and one.moment is not Moment.AFTER]
    return counted_of(shown)


def _shown(care: Care, held: Standing, measure: Measure) -> list[Reading]:
    """The readings of the measure since the injury and until the episode was closed, none that is blind now."""
    if measure.id == COMPOSITE:
        parts = [one for part in measure.made_of for one in _kept(care, held, part)]
        kept = composites(parts, measure)
    else:
        kept = _kept(care, held, measure.id)
    return [one for one in kept if belongs(one, held.episode)]


def _kept(care: Care, held: Standing, measure_id: str) -> list[Reading]:
    """All readings of a measure, none that is blind now."""
    blind = {visit for visit, measures in held.blind.items() if measure_id in measures}
    kept = readings.readings_of_person(care.record, held.person.id, measure_id)
    return [one for one in kept if one.visit not in blind]


def _with_value(taken: tuple[Reading, ...]) -> tuple[Reading, ...]:
    return tuple(one for one in taken if one.value is not None)
