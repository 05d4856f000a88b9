"""The plan of a visit as a list that is walked: what is done, what is next, and whether the slot will hold.

Pure. Whether a step is done is never stored: it follows from what was read, timed and said.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from store.knowledge.words import BoutRow, Moment, Reading, Step, Visit

LATER_KINDS = frozenset({"safety", "home", "note"})
"""Steps whose rooms are not built yet: they stand in the plan, greyed."""


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One step with what has become of it. `blind` says that its values are not to be shown yet."""

    step: Step
    done: bool
    later: bool
    blind: bool = False

    @property
    def open(self) -> bool:
        """Whether it still waits to be done."""
        return not (self.done or self.later or self.step.dropped)


@dataclass(frozen=True, slots=True)
class Slot:
    """The visit's time: minutes gone, minutes the open steps still want, and the slot."""

    gone: float
    wanted: float
    slot: int
    drop: Step | None = None

    @property
    def over(self) -> float:
        """Minutes by which the visit will overrun; negative when there is room."""
        return self.gone + self.wanted - self.slot


def moment_of(kind: str) -> Moment | None:
    """The moment that readings of a step carry."""
    return {"measure": Moment.BEFORE, "retest": Moment.AFTER}.get(kind)


def lines(visit: Visit, readings: Iterable[Reading], bouts: Iterable[BoutRow]) -> tuple[PlanLine, ...]:
    """The plan's steps in order, each with what has become of it."""
    readings, bouts = list(readings), list(bouts)
    hidden = hidden_measures(visit, readings)
    return tuple(
        PlanLine(
            step,
            done=_done(step, visit, readings, bouts),
            later=step.kind in LATER_KINDS,
            blind=step.kind in {"measure", "retest"} and step.ref in hidden,
        )
        for step in visit.plan
    )


def _done(step: Step, visit: Visit, readings: Collection[Reading], bouts: Collection[BoutRow]) -> bool:
    if step.kind == "said":
        return visit.said is not None
    if step.kind == "activity":
        return any(bout.activity == step.ref and bout.ended is not None for bout in bouts)
    moment = moment_of(step.kind)
    taken = [reading for reading in readings if reading.measure == step.ref]
    if step.kind == "measure":
        return any(reading.moment is not Moment.AFTER for reading in taken)
    after = {reading.side for reading in taken if reading.moment is moment}
    before = {reading.side for reading in taken if reading.moment is Moment.BEFORE}
    return bool(after) and after >= before


def hidden_measures(visit: Visit, readings: Iterable[Reading]) -> frozenset[str]:
    """Measures whose before values no screen may show: a re-test waits and its after values are not all in."""
    if visit.ended is not None:
        return frozenset()
    readings = list(readings)
    hidden = set()
    for step in visit.plan:
        if step.kind != "retest" or step.dropped:
            continue
        taken = [reading for reading in readings if reading.measure == step.ref]
        before = {reading.side for reading in taken if reading.moment is Moment.BEFORE}
        after = {reading.side for reading in taken if reading.moment is Moment.AFTER}
        if before - after:
            hidden.add(step.ref)
    return frozenset(hidden)


def slot(visit: Visit, plan: Iterable[PlanLine], gone_min: float) -> Slot:
    """How the visit stands against its slot; when it will overrun, the last open activity is the one to drop."""
    waiting = [line for line in plan if line.open]
    wanted = sum(line.step.minutes for line in waiting)
    drop = next((line.step for line in reversed(waiting) if line.step.kind == "activity"), None)
    over = gone_min + wanted > visit.slot_min
    return Slot(gone_min, wanted, visit.slot_min, drop if over else None)
