"""Symmetry and reach against worked examples that others published."""

from __future__ import annotations

import pytest

from store.knowledge.words import Better, Verdict
from store.reckon.change import verdict_of
from store.reckon.sides import deficit, difference, gap, lsi, normalised_reach, reach_composite
from tests.outside.published import LUNGE_LINES, REACH_TABLE, Reach

HIGHER, LOWER = Better.HIGHER, Better.LOWER


def test_lsi_where_higher_is_better() -> None:
    # The injured limb as a percentage of the other: Reid and others 2007 (abstract). The figures are arithmetic.
    assert lsi(8.5, 10.0, HIGHER) == pytest.approx(85.0)
    assert lsi(108, 120, HIGHER) == pytest.approx(90.0)
    assert lsi(20, 25, HIGHER) == pytest.approx(80.0)


def test_lsi_where_lower_is_better_is_turned_over() -> None:
    # The usual convention for timed hops, recalled: uninjured / injured, so that under 100 is worse.
    assert lsi(12.0, 10.0, LOWER) == pytest.approx(83.3, abs=0.05)
    assert lsi(2.4, 2.1, LOWER) == pytest.approx(87.5)


def test_swapping_the_sides_turns_lsi_over_and_not_round() -> None:
    # 85 % against 117.6 %: an index that took the wrong side does not just change its sign (arithmetic).
    assert lsi(10.0, 8.5, HIGHER) == pytest.approx(117.6, abs=0.05)


@pytest.mark.parametrize("row", REACH_TABLE)
def test_reach_composite_as_printed(row: Reach) -> None:
    # 100 x (anterior + posteromedial + posterolateral) / (3 x limb length). The rows are example tables on openly
    # printed pages, to the digits printed there.
    composite = reach_composite(row.ant, row.pm, row.pl, row.limb)
    assert composite == pytest.approx(row.composite, abs=0.005)


def test_one_direction_as_printed() -> None:
    # An openly printed example: reach 58 cm, limb 73 cm, 79.5 %.
    assert normalised_reach(58, 73) == pytest.approx(79.5, abs=0.05)


def test_each_side_has_its_own_limb_length() -> None:
    # 4 cm: Plisky and others 2006 (abstract). The two sides are worked by hand.
    right, left = reach_composite(65, 100, 95, 92), reach_composite(60, 98, 94, 92)
    assert right == pytest.approx(94.2, abs=0.05)
    assert left == pytest.approx(91.3, abs=0.05)
    assert abs(gap(60, 65)) > 4
    assert reach_composite(60, 98, 94, 91) == pytest.approx(100 * 252 / 273)


def test_heel_raises_inside_the_limits_of_agreement() -> None:
    # Hebert-Losier and others 2017, Physiotherapy 103:446 (abstract): 95 % limits of agreement about 6 either way,
    # so a change from 20 to 25 is inside them.
    assert verdict_of(25 - 20, 6.0, HIGHER) is Verdict.WITHIN
    assert verdict_of(27 - 20, 6.0, HIGHER) is Verdict.GAIN


@pytest.mark.parametrize("line", LUNGE_LINES)
def test_a_lunge_of_six_millimetres_more_is_within_every_published_error(line: float) -> None:
    assert verdict_of(difference(9.6, 9.0), line, HIGHER) is Verdict.WITHIN


def test_the_verdict_on_twelve_millimetres_hangs_on_the_line() -> None:
    # Chisholm and others 2012: 1.0 cm for one leg, 1.5 cm for the difference; Powden and others 2015: 1.6 and 1.9.
    gained = difference(10.2, 9.0)
    assert verdict_of(gained, 1.0, HIGHER) is Verdict.GAIN
    assert verdict_of(gained, 1.6, HIGHER) is Verdict.WITHIN
    assert verdict_of(gained, 1.9, HIGHER) is Verdict.WITHIN
    closed = difference(deficit(10.2, 12.0, HIGHER), deficit(9.0, 12.0, HIGHER))
    assert closed == -1.2
    assert verdict_of(closed, 1.5, LOWER) is Verdict.WITHIN
