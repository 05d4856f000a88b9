"""Readings that are worked out from others and never entered: the composite of three reaches. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Reading, Side
from store.reckon.sides import reach_composite

COMPOSITE = "reach_composite"
"""The one measure that is worked out, by its id."""

REACHES = ("reach_ant", "reach_pm", "reach_pl")
LEG_LENGTH = "leg_length"

_Occasion = tuple[Side | None, str, bool]
"""A side, the visit or the day without one, and whether it was after the hands-on part."""


def composites(readings: Iterable[Reading], measure: Measure) -> list[Reading]:
    """The composite of each side and occasion on which all three reaches have a value, oldest first.

    The last reading of each reach counts, and the leg length of the same side that was measured nearest in time. A
    composite has the id of its first reach with a plus behind it, since no row of the record stands for it.
    """
    taken: dict[_Occasion, dict[str, Reading]] = defaultdict(dict)
    lengths: dict[Side | None, list[Reading]] = defaultdict(list)
    for one in sorted(readings, key=lambda one: (one.taken, one.id)):
        if one.measure == LEG_LENGTH and one.value:
            lengths[one.side].append(one)
        elif one.measure in REACHES:
            occasion = one.visit or one.taken.on.isoformat()
            taken[one.side, occasion, one.moment is Moment.AFTER][one.measure] = one
    found = [
        _composite([parts[reach] for reach in REACHES], lengths[side], measure)
        for (side, _, _), parts in taken.items()
        if len(parts) == len(REACHES) and lengths[side]
    ]
    return sorted((one for one in found if one is not None), key=lambda one: (one.taken, one.id))


def _composite(reaches: list[Reading], lengths: list[Reading], measure: Measure) -> Reading | None:
    """One composite; None where a reach was tried and not possible."""
    last = max(reaches, key=lambda one: (one.taken, one.id))
    leg = min(lengths, key=lambda one: abs(one.taken.at - last.taken.at))
    ant, pm, pl = (one.value for one in reaches)
    value = reach_composite(ant, pm, pl, leg.value)
    if value is None:
        return None
    return last._replace(
        id=f"{reaches[0].id}+",
        measure=measure.id,
        unit=measure.unit,
        value=round(value, 9),
        trials=(),
        conditions=tuple(dict.fromkeys(word for one in reaches for word in one.conditions)),
        examiner=_all_alike(one.examiner for one in reaches),
        protocol=reaches[0].protocol,
        bout=None,
        note=None,
        blind=all(one.blind for one in reaches),
    )


def _all_alike(names: Iterable[str]) -> str:
    """The examiners' names, one or several."""
    return " and ".join(dict.fromkeys(name for name in names if name))
