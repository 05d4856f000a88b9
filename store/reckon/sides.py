"""Two sides of one body: a side's value from its trials, and how the injured side stands against its reference."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from store.knowledge.units import YES_NO
from store.knowledge.words import Better

if TYPE_CHECKING:
    from store.knowledge.kinds import Measure

EDGE = 1e-9
"""Differences below this are the noise of binary fractions, far under any measure's step."""


def value_of(trials: Sequence[float], measure: Measure) -> float:
    """One side's value: the mean of its trials, the best of them, or the only one, as the measure says.

    A trial past the cap counts as the cap: the clock should have stopped there. Raises ValueError without trials,
    or on several where the measure takes one.
    """
    if not trials:
        raise ValueError(f"{measure.id}: no trials to make a value of")
    capped = [trial if measure.cap is None else min(trial, measure.cap) for trial in trials]
    if measure.aggregate == "best":
        return max(capped) if measure.better is Better.HIGHER else min(capped)
    if measure.aggregate == "single" and len(capped) > 1:
        raise ValueError(f"{measure.id}: takes one value, not {len(capped)}")
    return round(math.fsum(capped) / len(capped), 9)  # no noise of binary fractions, as in `difference`


def difference(later: float, earlier: float) -> float:
    """`later` minus `earlier` without the noise of binary fractions: 9.9 less 8.0 is 1.9."""
    return round(later - earlier, 9) + 0.0  # + 0.0 turns a minus nought into nought


def gap(injured: float, reference: float) -> float:
    """Injured minus reference, raw, in the measure's unit."""
    return difference(injured, reference)


def deficit(injured: float, reference: float, better: Better) -> float:
    """The gap turned so that positive is worse, whichever way the measure improves."""
    return difference(reference, injured) if better is Better.HIGHER else difference(injured, reference)


def lsi(injured: float | None, uninjured: float | None, better: Better) -> float | None:
    """Limb symmetry index in percent, 100 being even and less being worse on the injured side.

    Injured / uninjured where higher is better, uninjured / injured where lower is. None where a side is missing or
    unable, or where the divisor is nought.
    """
    if injured is None or uninjured is None:
        return None
    part, whole = (injured, uninjured) if better is Better.HIGHER else (uninjured, injured)
    return None if whole == 0 else 100 * (part / whole)


def perhaps_swapped(injured: float, uninjured: float, measure: Measure, mdc: float | None) -> bool:
    """Whether the two sides were perhaps typed the wrong way round: the injured one is better by `mdc` or more.

    `mdc` is that of one side: 1.96 x root 2 x SEM is what two readings of equal sides may differ by. Without a
    known error nothing is clearly better, and the answer is no.
    """
    return mdc is not None and deficit(injured, uninjured, measure.better) <= EDGE - mdc


def in_words(gap: float, measure: Measure) -> str:
    """A raw gap as a number and a word, never a bare sign: '5.4 short', '1.4 larger', '2.0 slower', or 'equal'."""
    size = written(abs(gap), measure)
    if float(size) == 0:
        return "equal"
    less, more = _words(measure)
    return f"{size} {less if gap < 0 else more}"


_SCORES = frozenset({"0-10", "grade", "points", "level", "%"})
_COUNTS = frozenset({"reps", "count", "errors"})


def _words(measure: Measure) -> tuple[str, str]:
    """The words for an injured side that reads less, and more, than its reference."""
    if measure.unit in _SCORES:
        return "lower", "higher"
    if measure.better is Better.HIGHER:
        return "short", "more"
    if measure.unit == "s":
        return "faster", "slower"
    return ("fewer", "more") if measure.unit in _COUNTS else ("smaller", "larger")


def written(value: float, measure: Measure) -> str:
    """A value to as many decimals as the step has, halves rounded away from nought; yes and no in words."""
    if measure.unit == YES_NO:
        return "yes" if value else "no"
    step = Decimal(repr(measure.step)).normalize()
    places = Decimal(1).scaleb(min(int(step.as_tuple().exponent), 0))
    rounded = Decimal(repr(value)).quantize(places, rounding=ROUND_HALF_UP)
    return str(abs(rounded) if rounded == 0 else rounded)


def normalised_reach(reach_cm: float, limb_cm: float) -> float:
    """A reach in percent of the same side's limb length, both in cm (Gribble & Hertel 2003).

    Raises ValueError on a limb length of nought or less.
    """
    if not limb_cm > 0:
        raise ValueError("a reach is held against a limb length above nought")
    return 100 * reach_cm / limb_cm


def reach_composite(ant: float | None, pm: float | None, pl: float | None, limb_cm: float | None) -> float | None:
    """100 x (anterior + posteromedial + posterolateral) / (3 x the same side's limb length), cm in, percent out.

    None while any part is missing. Raises ValueError on a limb length of nought or less.
    """
    if ant is None or pm is None or pl is None or limb_cm is None:
        return None
    return normalised_reach(math.fsum((ant, pm, pl)) / 3, limb_cm)
