"""Small published tables, typed in, each with its source."""

from __future__ import annotations

from typing import NamedTuple


class Reach(NamedTuple):
    """A row of an example table of three-direction reach: cm, and the composite in percent as printed."""

    limb: float
    ant: float
    pm: float
    pl: float
    composite: float


REACH_TABLE = (
    Reach(90, 68, 96, 94, 95.56),
    Reach(91, 70, 97, 93, 95.24),
    Reach(90, 63, 95, 92, 92.59),
    Reach(89, 65, 96, 94, 95.51),
    Reach(92, 67, 101, 99, 96.74),
    Reach(93, 68, 103, 101, 97.49),
)
"""Example tables on three openly printed pages."""

LUNGE_LINES = (1.0, 1.5, 1.6, 1.9)
"""Published MDC95 of the lunge in cm: Chisholm 2012 one leg and difference; Powden 2015 two examiners and one."""

WEIR_A = ((146, 140), (148, 152), (170, 152), (90, 99), (157, 145), (156, 153), (176, 167), (205, 218))
"""Weir 2005, J Strength Cond Res 19:231-240, data set A, as quoted elsewhere: eight people, two trials."""

WEIR_A_SEM = 7.6
"""That of page 236, as quoted elsewhere."""
