"""Whether a true value is past a line, given what was measured and its error: a probability, and the verdict in
words."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from store.knowledge.words import Better
from store.reckon.filter import normal_below
from store.reckon.sides import EDGE

CLEAR = 0.90
"""A verdict is clear from this probability on, and clearly the other way from its rest down: common practice."""


class LineVerdict(StrEnum):
    """What can be said of a value and a line. What begins with met, or clearly met, counts as met."""

    CLEARLY_MET = "clearly met"
    MET_CLOSE = "met, close"
    SHORT_CLOSE = "short, close"
    CLEARLY_SHORT = "clearly short"
    MET_UNKNOWN = "met, error unknown"
    SHORT_UNKNOWN = "short, error unknown"
    MET = "met"
    SHORT = "short"
    NOT_MEASURED = "not measured"
    STALE = "stale"

    @property
    def met(self) -> bool:
        """Whether it counts as met. Not measured and stale never do."""
        return self in _MET

    @property
    def answered(self) -> bool:
        """Whether there is an answer at all."""
        return self not in {LineVerdict.NOT_MEASURED, LineVerdict.STALE}


_MET = frozenset({LineVerdict.CLEARLY_MET, LineVerdict.MET_CLOSE, LineVerdict.MET_UNKNOWN, LineVerdict.MET})


class PastLine(NamedTuple):
    """A line, the probability that the true value is at or past it (None where no error is known), and the
    verdict."""

    line: float
    probability: float | None
    verdict: LineVerdict


def past(value: float, line: float, better: Better, sem: float | None) -> PastLine:
    """Hold a measured value against a line on the side that is better: P = Phi((value - line) / SEM), turned
    where lower is better.

    Without an error, or with one that is not above nought, only the figures are compared. A value of exactly the
    line is met.
    """
    margin = value - line if better is Better.HIGHER else line - value
    if sem is None or not sem > 0:
        return PastLine(line, None, LineVerdict.MET_UNKNOWN if margin >= -EDGE else LineVerdict.SHORT_UNKNOWN)
    return PastLine(line, chance := normal_below(margin / sem), of_chance(chance))


def of_chance(chance: float) -> LineVerdict:
    """The verdict that a probability stands for. Exactly 0.90 and 0.10 are clear; exactly one half is met."""
    if chance >= CLEAR - EDGE:
        return LineVerdict.CLEARLY_MET
    if chance <= 1 - CLEAR + EDGE:
        return LineVerdict.CLEARLY_SHORT
    return LineVerdict.MET_CLOSE if chance >= 0.5 - EDGE else LineVerdict.SHORT_CLOSE


def of_answer(yes: bool) -> LineVerdict:
    """The verdict of what is answered by yes or no."""
    return LineVerdict.MET if yes else LineVerdict.SHORT
