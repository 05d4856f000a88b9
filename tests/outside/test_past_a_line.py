"""The probability that a true value is past a line, and reliable change, against standard tables and worked
examples."""

from __future__ import annotations

import math

import pytest

from store.knowledge.words import Better
from store.reckon.error import mdc_from_sem
from store.reckon.filter import normal_below
from store.reckon.threshold import past


@pytest.mark.parametrize(("z", "below"), [(0, 0.5), (1, 0.8413447), (1.96, 0.9750021), (-1.644854, 0.05)])
def test_standard_tables_of_the_normal(z: float, below: float) -> None:
    # Standard printed tables of the normal distribution.
    assert normal_below(z) == pytest.approx(below, abs=1e-6)


@pytest.mark.parametrize(
    ("reading", "line", "sem", "chance"),
    [
        (10.5, 10, 0.6, 0.797671619036),
        (9.4, 10, 0.6, 0.158655253931),
        (10, 10, 0.6, 0.5),
        (92, 90, 3, 0.747507462453),
    ],
)
def test_a_reading_against_a_line(reading: float, line: float, sem: float, chance: float) -> None:
    # Phi((x - line) / SEM), flat prior; worked with scipy 1.17.1.
    found = past(reading, line, Better.HIGHER, sem)
    assert found.probability == pytest.approx(chance, abs=1e-9)


def test_a_gap_against_a_line() -> None:
    # Two sides with SEM 0.6 each, gap 1.8: P(true gap <= 2) 0.593168, P(gap > 0) 0.983053; worked with scipy
    # 1.17.1.
    sem = 0.6 * math.sqrt(2)
    assert past(1.8, 2.0, Better.LOWER, sem).probability == pytest.approx(0.593168142117, abs=1e-9)
    assert past(1.8, 0.0, Better.HIGHER, sem).probability == pytest.approx(0.983052573238, abs=1e-9)


def test_reliable_change() -> None:
    # Jacobson and Truax 1991, J Consult Clin Psychol 59:12-19, as repeated in a public package's documentation:
    # 47.5 to 32.5 with a standard error of the difference of 4.74 is an index of 3.16. An index over 1.96 is a
    # change over the MDC.
    sem = 7.5 * math.sqrt(1 - 0.80)  # SD and reliability as recalled
    difference_se = math.sqrt(2) * sem
    assert difference_se == pytest.approx(4.74, abs=0.005)
    index = (47.5 - 32.5) / difference_se
    assert index == pytest.approx(3.16, abs=0.005)
    assert (index > 1.96) is (mdc_from_sem(sem) < 47.5 - 32.5)
    assert mdc_from_sem(sem) / difference_se == pytest.approx(1.96)
