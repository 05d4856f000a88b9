"""A worked case of logic: both sides worse is not better."""

from __future__ import annotations

from store.knowledge.load import load
from store.knowledge.words import Side, Verdict
from store.reckon.change import change
from store.reckon.gaps import Pair, gap_change
from tests.reckon.made import LUNGE_OF_PATIENTS, reading


def test_a_gap_that_shrinks_without_a_gain_is_never_reported_as_one() -> None:
    # Injured 8.0 and 8.0, uninjured 11.0 and 9.0: the gap shrinks from 3.0 to 1.0. Logic, no source. Chisholm and
    # others 2012 (1.5 cm for the difference) would call the 2.0 clear.
    then = Pair(reading(8.0), reading(11.0, side=Side.LEFT))
    now = Pair(reading(8.0, visit="second"), reading(9.0, side=Side.LEFT, visit="second"))
    for measure in (load().measures["lunge"], LUNGE_OF_PATIENTS):
        assert gap_change(then, now, measure).verdict is Verdict.WITHIN
        assert change(then.injured, now.injured, measure).verdict is Verdict.WITHIN
        assert change(then.uninjured, now.uninjured, measure).verdict is Verdict.LOSS
