"""The forecast against published courses of range after injury and surgery: group means, which test its shape."""

from __future__ import annotations

from store.reckon.filter import Sighting
from store.reckon.prior import SPREAD_SEMS
from store.reckon.recovery import Reference, outlook
from tests.bench.recoveries import straight_line

SEM = 2.0  # degrees


def test_dorsiflexion_after_an_acute_sprain() -> None:
    # J Sport Rehabil 2009;18(3):358-74, acute inversion sprain, n = 22: active dorsiflexion, knee straight,
    # degrees, weeks 0, 2, 4, 6: -6, 7, 11, 11 (read: abstract). A line through the first three says 21 at week 6:
    # 10 too much.
    seen = ((0, -6.0), (14, 7.0), (28, 11.0))
    line = straight_line(seen, 42)
    assert 20.5 < line < 21.5
    course = outlook([Sighting(day, value, SEM) for day, value in seen], Reference(11, SEM), SPREAD_SEMS * SEM)
    low, middle, high = course.quantiles(42, (0.1, 0.5, 0.9))
    assert abs(middle - 11) <= (line - 11) / 3
    assert low <= 11 <= high


def test_a_knee_that_comes_back_less_fast_than_a_line() -> None:
    # Musculoskelet Surg, weekly goniometry after knee replacement, n = 137: flexion 80 to 110 degrees in weeks 1
    # to 8, most of it in the first 4 weeks (read: abstract). The weeks between follow that shape and are ours.
    seen = ((7, 80.0), (14, 90.0), (21, 97.0), (28, 102.0))
    course = outlook([Sighting(day, value, SEM) for day, value in seen], Reference(125, SEM), 20 * SEM)
    assert course.quantiles(56, (0.5,))[0] < straight_line(seen, 56)
