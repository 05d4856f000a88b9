"""The tables as the rooms above use them: an error for every pair of examiners, a bout for every activity."""

from __future__ import annotations

from typing import get_args

import pytest

from store.bout.planning import plan_for
from store.knowledge.errors import with_error
from store.knowledge.kinds import Activity, Measure
from store.knowledge.load import load
from store.knowledge.words import Side
from store.reckon.error import Span, error_for

KNOWN = load()
CHOICES = [
    with_error(measure, family.id)
    for measure in KNOWN.measures.values()
    for family in measure.errors
    if family.examiners == 1
]


@pytest.mark.parametrize("measure", CHOICES, ids=lambda one: f"{one.id} {one.error.id}")
@pytest.mark.parametrize("span", get_args(Span))
@pytest.mark.parametrize("gap", [False, True])
def test_two_examiners_never_have_less_error_than_one(measure: Measure, span: Span, gap: bool) -> None:
    one, two = (error_for(measure, span, gap=gap, examiners=examiners) for examiners in (1, 2))
    if one:
        assert two
        assert two.mdc >= one.mdc


def test_two_examiners_of_the_lunge() -> None:
    """Printed 1.9 for one, 1.6 for two (Powden 2015): two have 1.9; where one has 1.0 (Chisholm 2012), 1.6."""
    lunge = KNOWN.measures["lunge"]
    for measure, wanted in ((lunge, 1.9), (with_error(lunge, "ankle_patients"), 1.6)):
        error = error_for(measure, "between", examiners=2)
        assert error is not None
        assert error.mdc == wanted


@pytest.mark.parametrize("activity", KNOWN.activities.values(), ids=lambda one: one.id)
def test_every_activity_can_be_planned_as_it_stands(activity: Activity) -> None:
    plan = plan_for(activity, Side.RIGHT, seed=1)
    assert plan.own_protocol is bool(activity.measure)
