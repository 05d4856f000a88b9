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

SHROUT_FLEISS = ((9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7))
"""Shrout and Fleiss 1979, Psychol Bull 86:420-428, as quoted elsewhere: six targets, four judges."""

HOPKINS = ((62, 67), (78, 76), (81, 87), (55, 55), (66, 63))
"""Hopkins 2000, Sports Med 30:1-15, as quoted elsewhere: five people, two trials."""

PEAK_FLOW = (
    (494, 490, 512, 525), (395, 397, 430, 415), (516, 512, 520, 508), (434, 401, 428, 444), (476, 470, 500, 500),
    (557, 611, 600, 625), (413, 415, 364, 460), (442, 431, 380, 390), (650, 638, 658, 642), (433, 429, 445, 432),
    (417, 420, 432, 420), (656, 633, 626, 605), (267, 275, 260, 227), (478, 492, 477, 467), (178, 165, 259, 268),
    (423, 372, 350, 370), (427, 421, 451, 443),
)  # fmt: skip
"""Bland and Altman 1986, Lancet i:307-310, as quoted elsewhere: 17 people, twice on each of two meters, l/min."""

GRADED_IN_THREE = ((0, 4, 1), (0, 8, 0), (0, 1, 5))
"""An example of agreement of SAS's FREQ procedure, as tests of statsmodels quote it: 19 cases, two graders."""

COHEN = ((88, 14, 18), (10, 40, 10), (2, 6, 12))
"""Cohen 1960, Educ Psychol Meas 20:37-46, and 1968, Psychol Bull 70:213-220 (recalled): 200 cases, two judges."""

FLEISS = ((75, 1, 4), (5, 4, 1), (0, 0, 10))
"""Fleiss, Statistical Methods for Rates and Proportions (recalled): 100 cases, two raters."""
