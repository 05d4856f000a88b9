"""The plan of a visit as a list that is walked: what is done, what is next, and whether the slot will hold.

Pure. Whether a step is done is never stored: it follows from what was read, timed and said.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import timedelta
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple

from store.knowledge.kinds import Measure
from store.knowledge.time import Stamp
from store.knowledge.visit import KINDS
from store.knowledge.words import Moment, Reading, Side, Step, Visit

KNOWN_KINDS = frozenset(KINDS)
"""Kinds of steps that this copy can do; any other is from a later version, and stands in the plan greyed."""

EDGE_MIN = 59 / 60
"""A minute that is not full, but for a second, is not over."""

PAST_MIDNIGHT = timedelta(hours=4)
"""How long a visit that was not ended goes on beyond the day it began: none takes longer."""


class Worked(NamedTuple):
    """An ended bout as a plan sees it: on which sides something was done; None where it cannot be read."""

    activity: str
    sides: frozenset[Side | None] | None


class PlanLine(NamedTuple):
    """One step with what has become of it. `begun` says that something was done and a side still waits.

    `blind` says that its values are not to be shown yet.
    """

    step: Step
    done: bool
    later: bool
    blind: bool = False
    begun: bool = False

    @property
    def open(self) -> bool:
        """Whether it still waits to be done."""
        return not (self.done or self.later or self.step.dropped)


class Slot(NamedTuple):
    """The visit's time: minutes gone, minutes the open steps still want, and the slot."""

    gone: float
    wanted: float
    slot: int
    drop: Step | None = None

    @property
    def over(self) -> float:
        """Minutes by which the visit will overrun; negative when there is room."""
        return self.gone + self.wanted - self.slot


def goes_on(visit: Visit, now: Stamp) -> bool:
    """Whether a visit is the one in hand: not ended, and begun today, or a few hours ago across midnight.

    A clock that was set back across midnight does not end it either.
    """
    if visit.ended is not None:
        return False
    return visit.started.on == now.on or abs(now.at - visit.started.at) < PAST_MIDNIGHT


def is_of_first_days(days: int | None, until: float, *, graded: bool, bears: float | None) -> bool:
    """Whether a visit takes the plan of the first days: up to `until` days since the injury, and after them while
    the ankle is not graded and was last seen to take no weight (`bears` 0; None where nobody looked).

    Without a day of injury only the latter counts. Common practice.
    """
    return (days is not None and 0 <= days <= until) or (not graded and bears == 0)


def moment_of(kind: str) -> Moment | None:
    """The moment that readings of a step carry."""
    return {"measure": Moment.BEFORE, "retest": Moment.AFTER}.get(kind)


def lines(
    visit: Visit,
    readings: Iterable[Reading],
    bouts: Iterable[Worked],
    single: Collection[str] = (),
    asked: Mapping[str, frozenset[Side | None]] = MappingProxyType({}),
    kept: Collection[str] = (),
) -> tuple[PlanLine, ...]:
    """The plan's steps in order, each with what has become of it.

    `single` are the measures that have no sides; `asked` the sides that an activity is done on, by its id; `kept`
    the kinds of steps of which a row was kept in this visit, such as a home programme.
    """
    readings, bouts = list(readings), list(bouts)
    hidden = hidden_measures(visit, readings)
    return tuple(_line(step, visit, readings, bouts, hidden, single, asked, kept) for step in visit.plan)


def _line(
    step: Step,
    visit: Visit,
    readings: Collection[Reading],
    bouts: Collection[Worked],
    hidden: Collection[str],
    single: Collection[str],
    asked: Mapping[str, frozenset[Side | None]],
    kept: Collection[str],
) -> PlanLine:
    done, begun = step.kind in kept, False
    if step.kind == "said":
        done = visit.said is not None
    elif step.kind == "activity":
        done, begun = _worked(step.ref, bouts, asked.get(step.ref, frozenset()))
    elif moment_of(step.kind) is not None:
        before, after = sides_read(step.ref, readings)
        taken = after if step.kind == "retest" else before
        # A re-test wants the sides that were measured before; measuring wants both, where there are two.
        wanted = before if step.kind == "retest" and before else {Side.LEFT, Side.RIGHT}
        done = bool(taken) and (step.ref in single or taken >= wanted)
        begun = bool(taken) and not done
    return PlanLine(
        step,
        done=done,
        later=step.kind not in KNOWN_KINDS,
        blind=step.kind in {"measure", "retest"} and step.ref in hidden,
        begun=begun,
    )


def _worked(activity: str, bouts: Collection[Worked], asked: frozenset[Side | None]) -> tuple[bool, bool]:
    """Whether an activity is done on every side that it is asked on, and whether it is begun only."""
    own = [bout.sides for bout in bouts if bout.activity == activity]
    if None in own:  # it was done, and how cannot be read: nothing says that a side waits
        return True, False
    on = frozenset[Side | None]().union(*(sides for sides in own if sides is not None))
    done = bool(on) and (asked <= {None} or on >= asked)
    return done, bool(on) and not done


def sides_read(measure: str, readings: Iterable[Reading]) -> tuple[set[Side | None], set[Side | None]]:
    """The sides of a measure that were read before the hands-on part, or unmarked, and after it."""
    taken = [reading for reading in readings if reading.measure == measure]
    after = {reading.side for reading in taken if reading.moment is Moment.AFTER}
    return {reading.side for reading in taken if reading.moment is not Moment.AFTER}, after


def before_and_after(
    measure: Measure, side: Side | None, readings: Iterable[Reading]
) -> tuple[Reading | None, Reading | None]:
    """Of one side in one visit, whose readings are given oldest first: the last before the hands-on part, or
    unmarked, and the last after it.
    """
    own = [one for one in readings if one.measure == measure.id and one.side is side]
    before = [one for one in own if one.moment is not Moment.AFTER]
    after = [one for one in own if one.moment is Moment.AFTER]
    return before[-1] if before else None, after[-1] if after else None


def awaiting_retest(visit: Visit, readings: Iterable[Reading]) -> frozenset[str]:
    """Measures of which the plan wants a re-test that is not all in: nothing is to be compared yet."""
    readings = list(readings)
    planned = {step.ref for step in visit.plan if step.kind == "retest"}
    return frozenset(ref for ref in planned if awaits_retest(visit, ref, *sides_read(ref, readings)))


def awaits_retest(
    visit: Visit, measure: str, before: Collection[Side | None], after: Collection[Side | None]
) -> bool:
    """Whether the plan wants a re-test of a measure that is not all in, by the sides read before and after."""
    return visit.ended is None and wants_retest(visit, measure) and not all_in(before, after)


def all_in(before: Collection[Side | None], after: Collection[Side | None]) -> bool:
    """Whether every side that was read before treatment was read after it."""
    return bool(after) and set(after) >= set(before)


def hidden_measures(visit: Visit, readings: Iterable[Reading]) -> frozenset[str]:
    """Measures whose before values no screen may show: they are in, and the re-test is not."""
    readings = list(readings)
    return frozenset(measure for measure in awaiting_retest(visit, readings) if sides_read(measure, readings)[0])


def was_shown(measure: str, kept: Iterable[Reading], versions: Iterable[Visit]) -> bool:
    """Whether the before values were in sight at some time while the visit went on, so that it is not blind.

    `kept` are all of the visit's readings, also the retracted ones; `versions` are the visit as it stood, oldest
    first. Either the re-test had been all in and was taken back, or the plan had none for a while, or the visit
    had ended and was opened again.
    """
    kept = list(kept)
    before, after = sides_read(measure, kept)
    if before and after >= before:
        return True
    first = min((one.id for one in kept if one.measure == measure and one.moment is not Moment.AFTER), default="")
    versions = list(versions)
    return bool(first) and any(
        following.revision > first and (version.ended is not None or not wants_retest(version, measure))
        for version, following in pairwise(versions)
    )


def wants_retest(visit: Visit, measure: str) -> bool:
    """Whether the plan wants a measure to be tested again after the hands-on part."""
    return any(step.kind == "retest" and step.ref == measure and not step.dropped for step in visit.plan)


def slot(visit: Visit, plan: Sequence[PlanLine], gone_min: float, last_min: float = 0.0) -> Slot:
    """How the visit stands against its slot; when it will overrun, the last open activity is the one to drop.

    `last_min` is how far the visit was when something was last finished: what has passed since then is taken off
    the next step, which is being done. While anything is open, steps of later rooms that lie ahead want their
    minutes too: they are done by hand.
    """
    waiting = [line for line in plan if line.open]
    done = max((at for at, line in enumerate(plan) if line.done), default=-1)
    by_hand = [line for line in plan[done + 1 :] if line.later and not line.step.dropped]
    wanted = sum(line.step.minutes for line in (*waiting, *by_hand)) if waiting else 0.0
    wanted -= min(max(gone_min - last_min, 0.0), waiting[0].step.minutes) if waiting else 0.0
    drop = next((line.step for line in reversed(waiting) if line.step.kind == "activity"), None)
    over = gone_min + wanted - visit.slot_min > EDGE_MIN
    return Slot(gone_min, wanted, visit.slot_min, drop if over else None)
