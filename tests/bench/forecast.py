"""The forecast: its error and its band on simulated recoveries, shape by shape, and how long one takes."""

from __future__ import annotations

import time
from collections.abc import Iterator
from statistics import fmean, median

from store.reckon.filter import Sighting
from store.reckon.prior import SPREAD_SEMS
from store.reckon.recovery import Reference, outlook
from tests.bench.lines import Against, Line
from tests.bench.place import Place
from tests.bench.recoveries import AFTER, HELD_OUT, SEM, SHAPES, Miss, cases, misses

SEEDS = range(120)
"""Held out of all tuning. Two people a shape and seed, three forecasts a person."""


def lines(place: Place) -> list[Line]:
    """Error against a straight line overall and by shape, coverage, interval score, milliseconds a forecast."""
    missed = [miss for case in cases(SEEDS) for miss in misses(case)]
    return [
        _error("forecast error 14 days ahead, all shapes", missed, 0.38),
        *(_error(f"  {_named(shape)}", [one for one in missed if one.shape == shape], 1.0) for shape in SHAPES),
        *(_error(f"  after {n} visits", [one for one in missed if one.visits == n], 1.0) for n in AFTER),
        *_covered(missed),
        _score(missed),
        Line(
            "one forecast",
            "ms",
            median(_taken(place.runs)),
            30,
            Against.ALONE,
            how="eight readings, one day, one line",
        ),
    ]


def _named(shape: str) -> str:
    return f"{shape}, in no tuning" if shape == HELD_OUT else shape


def _error(what: str, missed: list[Miss], at_most: float) -> Line:
    ours, line = fmean(one.ours for one in missed), fmean(one.line for one in missed)
    last = fmean(one.last for one in missed)
    return Line(
        what,
        "cm",
        ours,
        at_most,
        Against.RATIO,
        "a straight line",
        line,
        f"last value {last:.2f}; band holds {_inside(missed):.0f} %, "
        f"{fmean(one.width for one in missed):.2f} wide",
    )


def _inside(missed: list[Miss]) -> float:
    return 100 * fmean(one.inside for one in missed)


def _covered(missed: list[Miss]) -> Iterator[Line]:
    """The share that the 80 % band holds is to lie between 78 and 88: told as its distance from the middle."""
    share = _inside(missed)
    yield Line(
        "80 % band, off the middle of 78 to 88 %",
        "%",
        abs(share - 83),
        5,
        Against.ALONE,
        how=f"it holds {share:.1f} %",
    )


def _score(missed: list[Miss]) -> Line:
    """Gneiting and Raftery's interval score; less is better, and nothing is asked of it."""
    score = fmean(one.score for one in missed)
    return Line("interval score of the 80 % band", "cm", score, float("inf"), Against.ALONE, how="less is better")


def _taken(runs: int) -> list[float]:
    seen = [Sighting(3 + 4 * step, 4 + 0.6 * step, SEM) for step in range(8)]
    taken = []
    for _ in range(runs):
        begun = time.perf_counter()
        course = outlook(seen, Reference(11, 0.3), SPREAD_SEMS * SEM)
        course.quantiles(45, (0.1, 0.5, 0.9))
        course.first_days(9, (0.1, 0.5, 0.9), 31)
        taken.append(1000 * (time.perf_counter() - begun))
    return taken
