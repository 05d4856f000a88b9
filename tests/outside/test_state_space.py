"""The filter and smoother against the Nile series of the textbooks and against numbers of an outside program.

With next to no pull towards its end the model is the local level model: noise of variance q a step is an
Ornstein-Uhlenbeck noise of variance q x T / 2 about a pull of time constant T, as T grows.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import exp, sqrt

import pytest

from store.reckon.filter import Sighting, State, filtered, smoothed

T = 1e9
TOLERANCE = 1e-6

# Annual flow of the Nile at Aswan 1871-1970, 10^8 cubic metres: public domain, printed in Durbin and Koopman 2012,
# Time Series Analysis by State Space Methods.
NILE = (
    1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140,
    1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969,
    831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759,
    781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
    744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
)  # fmt: skip
EPSILON, ETA = 15099.0, 1469.1
"""Variances of reading and level, section 2.2.5 of the same book."""

START: State = (0.0, 0.0, 1e7, 0.0, 1e-9)


def run(
    days: Sequence[float], values: Sequence[float], noise: float, error: float, start: State
) -> tuple[list[State], list[State]]:
    keeps = [1.0, *(exp(-(later - earlier) / T) for earlier, later in pairwise(days))]
    sightings = [Sighting(day, value, sqrt(error)) for day, value in zip(days, values, strict=True)]
    _, after = filtered(sightings, keeps, noise * T / 2, start)
    return after, smoothed(after, keeps, noise * T / 2)


@pytest.fixture(scope="module")
def nile() -> tuple[list[State], list[State]]:
    return run(range(100), NILE, ETA, EPSILON, START)


@pytest.mark.parametrize(
    ("year", "level", "variance", "in_hindsight", "its_variance"),
    [
        (1871, 1118.3115, 15076.236, 1111.2203, 4030.533),
        (1872, 1140.1084, 7894.558, 1110.5293, 3242.057),
        (1873, 1072.3160, 5779.497, 1105.0249, 2818.473),
        (1899, 1037.2222, 4032.158, 950.9300, 2326.757),
        (1920, 849.0706, 4032.158, 834.7633, 2326.757),
        (1970, 798.3703, 4032.158, 798.3703, 4032.158),
    ],
)
def test_the_nile_filtered_and_smoothed(
    nile: tuple[list[State], list[State]],
    year: int,
    level: float,
    variance: float,
    in_hindsight: float,
    its_variance: float,
) -> None:
    # Start 0, variance 10^7; worked with the Kalman filter and smoother of a reference library (statsmodels
    # 0.15.0).
    after, later = (states[year - 1871] for states in nile)
    assert after[0] == pytest.approx(level, rel=TOLERANCE)
    assert after[2] == pytest.approx(variance, rel=TOLERANCE)
    assert later[0] == pytest.approx(in_hindsight, rel=TOLERANCE)
    assert later[2] == pytest.approx(its_variance, rel=TOLERANCE)


def test_the_gain_comes_to_its_steady_state(nile: tuple[list[State], list[State]]) -> None:
    # In closed form: P = e (q + root(q^2 + 4 q)) / 2 with q the ratio of the variances; gain 0.267048013.
    q = ETA / EPSILON
    predicted = EPSILON * (q + sqrt(q * q + 4 * q)) / 2
    assert predicted == pytest.approx(5501.257942)
    assert predicted / (predicted + EPSILON) == pytest.approx(0.267048013)
    assert nile[0][-1][2] == pytest.approx(predicted * EPSILON / (predicted + EPSILON), rel=TOLERANCE)


def test_a_gap_of_years_is_the_same_as_years_without_a_reading() -> None:
    # The missing-data example of the same book: 1891-1910 and 1931-1950 left out.
    kept = [year for year in range(100) if not (20 <= year < 40 or 60 <= year < 80)]
    after, later = run(kept, [NILE[year] for year in kept], ETA, EPSILON, START)
    at = {1871 + year: number for number, year in enumerate(kept)}
    assert after[at[1890]][0] == pytest.approx(1026.1394, rel=TOLERANCE)
    assert later[at[1890]][0] == pytest.approx(999.7108, rel=TOLERANCE)
    assert after[at[1911]][0] == pytest.approx(889.9491, rel=TOLERANCE)
    assert after[at[1911]][2] == pytest.approx(10537.789, rel=TOLERANCE)
    assert later[at[1911]][0] == pytest.approx(797.5001, rel=TOLERANCE)
    assert later[at[1911]][2] == pytest.approx(3614.396, rel=TOLERANCE)
    assert after[at[1951]][0] == pytest.approx(771.2668, rel=TOLERANCE)
    assert later[at[1951]][0] == pytest.approx(839.6941, rel=TOLERANCE)


def test_numbers_of_an_outside_program() -> None:
    # R package KFAS, as shipped in the test results of statsmodels (BSD-3): local level, H 1.993, Q 8.253, exact
    # diffuse start: after the first reading the level is that reading, with its variance.
    values = (10.2394, *[1.0] * 9)
    after, later = run(range(10), values, 8.253, 1.993, (10.2394, 0.0, 1e9, 0.0, 1e-9))
    assert [state[0] for state in after[:3]] == pytest.approx([10.2394, 2.50454483209, 1.25167384265], rel=1e-7)
    assert [state[0] for state in later[:3]] == pytest.approx(
        [8.69269189482, 2.28778372019, 1.21557953089], rel=1e-7
    )
