"""Entering trial by trial: which side is tested now, and what has been measured so far.

Pure: a key makes a new `Trials`; nothing is saved here. The uninjured side goes first.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from store.care.faults import CareFault
from store.care.in_words import many
from store.entry.entry import SideEntry, asks_of, status_of
from store.entry.trials import values_in
from store.knowledge.kinds import Measure
from store.knowledge.units import YES_NO, unit_words
from store.knowledge.words import Moment, Side, Status

MOST = 10
"""Trials a side, at most."""


class SideTrials(NamedTuple):
    """What one side has so far. `side` is None on a single measure; `wanted` is how many trials it shall have.

    `earlier` says that it was read from the record, and nothing has been entered since.
    """

    side: Side | None
    wanted: int
    values: tuple[float, ...] = ()
    unable: bool = False
    earlier: bool = False

    @property
    def done(self) -> bool:
        """Whether nothing more is wanted of this side."""
        return self.unable or len(self.values) >= self.wanted

    @property
    def begun(self) -> bool:
        """Whether there is anything to save."""
        return self.unable or bool(self.values)

    def entry(self, measure: Measure) -> SideEntry:
        """What this side would be saved as."""
        status = Status.UNABLE if self.unable else status_of(self.values, measure)
        return SideEntry(self.side, self.values, status)


class Trials(NamedTuple):
    """A measure being taken, side after side. `now` is the index of the side in hand."""

    measure: Measure
    sides: tuple[SideTrials, ...]
    now: int = 0
    moment: Moment | None = None

    @property
    def current(self) -> SideTrials:
        """The side in hand."""
        return self.sides[self.now]

    @property
    def done(self) -> bool:
        """Whether every side has all it wants."""
        return all(side.done for side in self.sides)

    @property
    def begun(self) -> bool:
        """Whether anything has been entered."""
        return any(side.begun for side in self.sides)

    def of(self, side: Side | None) -> SideTrials:
        """What the given side has so far."""
        return next(trials for trials in self.sides if trials.side is side)


def begin(
    measure: Measure,
    injured: Side | None,
    moment: Moment | None = None,
    kept: Mapping[Side | None, tuple[tuple[float, ...], Status]] | None = None,
) -> Trials:
    """A measure about to be taken: the uninjured side first, or left first where no side is injured.

    `kept` are trials and status of sides that are in already; it goes on at the first side that still wants some.
    """
    order: tuple[Side | None, ...] = measure.sides
    if measure.paired and injured is Side.LEFT:
        order = (Side.RIGHT, Side.LEFT)
    sides = tuple(_kept(side, measure, (kept or {}).get(side)) for side in order)
    now = next((at for at, side in enumerate(sides) if not side.done), 0)
    return Trials(measure, sides, now, moment=moment)


def _kept(side: Side | None, measure: Measure, kept: tuple[tuple[float, ...], Status] | None) -> SideTrials:
    if kept is None:
        return SideTrials(side, measure.counted)
    return SideTrials(side, measure.counted, kept[0], unable=kept[1] is Status.UNABLE, earlier=True)


def enter(trials: Trials, text: str, *, sure: bool = False) -> Trials:
    """One trial's value, or several with spaces between; `unable` and `cap` are read too.

    Raises Doubt outside the plausible range, unless it was asked and is `sure`; EntryError or CareFault with a
    sentence. The trials stay as they were.
    """
    measure, side = trials.measure, trials.current
    if side.done:
        raise CareFault("every trial of this side is in: + adds one more, * swaps the side")
    if not text.strip():
        raise CareFault(f"type {_wanted(measure)}, then enter")
    typed = values_in(text, measure, side.side)
    if typed.status is Status.UNABLE:
        return unable(trials)
    if len(side.values) + len(typed.trials) > side.wanted:
        left = side.wanted - len(side.values)
        raise CareFault(f"{many(left, 'more trial')} wanted on this side, not {len(typed.trials)}")
    asks = asks_of(typed, measure, side.values)
    if asks and not sure:
        raise Doubt(asks[0])
    return _with(trials, side._replace(values=(*side.values, *typed.trials)))


def _wanted(measure: Measure) -> str:
    if measure.unit == YES_NO:
        return "yes or no"
    return "a figure from 0 to 10" if measure.unit == "0-10" else f"a value in {unit_words(measure.unit)}"


class Doubt(CareFault):
    """A value outside the plausible range, asked once more."""

    def __init__(self, ask: str) -> None:
        super().__init__(f"{ask} Enter it again if so.")


def unable(trials: Trials) -> Trials:
    """The side in hand could not do it: kept as unable, never as a zero. No trial that is in is thrown away."""
    if trials.current.values:
        raise CareFault("trials of this side are in and are kept: * goes to the other side, - takes one back")
    return _with(trials, trials.current._replace(unable=True))


def more(trials: Trials) -> Trials:
    """One more trial for the side in hand than the protocol asks."""
    side = trials.current
    if side.unable:
        raise CareFault("this side is unable: take that back first")
    wanted = max(side.wanted, len(side.values)) + 1
    if trials.measure.aggregate == "single":
        raise CareFault(f"{trials.measure.name} takes one value: - takes it back")
    if wanted > MOST:
        raise CareFault("ten trials a side are the most")
    sides = tuple(
        side._replace(wanted=wanted) if at == trials.now else other for at, other in enumerate(trials.sides)
    )
    return trials._replace(sides=sides)


def swap(trials: Trials) -> Trials:
    """Test the other side now."""
    if len(trials.sides) < 2:
        raise CareFault(f"{trials.measure.name} has no sides")
    return trials._replace(now=1 - trials.now)


def exchange(trials: Trials) -> Trials:
    """What was taken left counts as right and the other way round: the sides were swapped."""
    one, other = trials.sides
    sides = (other._replace(side=one.side), one._replace(side=other.side))
    return trials._replace(sides=sides)


def back(trials: Trials) -> Trials:
    """Take the last trial back: of this side, or, when it has none, of the side before."""
    at = trials.now
    if not trials.sides[at].begun:
        if len(trials.sides) < 2 or not trials.sides[1 - at].begun:
            raise CareFault("nothing to take back")
        at = 1 - at
    side = trials.sides[at]
    taken = side._replace(values=side.values[:-1], unable=False, earlier=False)
    sides = tuple(taken if index == at else other for index, other in enumerate(trials.sides))
    return trials._replace(sides=sides, now=at)


def _with(trials: Trials, side: SideTrials) -> Trials:
    """The trials with the side in hand replaced; moves on when that side is done."""
    side = side._replace(earlier=False)
    sides = tuple(side if at == trials.now else other for at, other in enumerate(trials.sides))
    now = trials.now
    if side.done:
        now = next((at for at, other in enumerate(sides) if not other.done), now)
    return trials._replace(sides=sides, now=now)
