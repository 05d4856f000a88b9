"""What a bout is planned as: sides, sets, times, the order of directions, and its plain data."""

from __future__ import annotations

import json
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.bout.directions import balanced
from store.bout.plan import BoutPlan, Turn
from store.bout.planning import Overrides, plan_for
from store.knowledge.kinds import Activity, Dose, Phase
from store.knowledge.words import BoutKind, Side

GLIDES = Activity(
    id="glides",
    name="glides with a belt",
    hands_on=True,
    kind=BoutKind.PACED,
    dose=Dose(sets=3, reps=10, rest_s=60, phases=(Phase("LUNGE", 3), Phase("HOLD", 2), Phase("BACK", 3))),
    domain="range",
    ask_pain=True,
    painless=True,
)
STANCE = Activity(
    id="stance",
    name="stance, eyes open",
    hands_on=False,
    kind=BoutKind.HOLD_TO_LOSS,
    dose=Dose(sets=3, cap_s=45, rest_s=30),
    domain="balance",
    sides="both",
    measure="stance_open",
)
SHIFTS = Activity(
    id="shifts",
    name="direction shifts",
    hands_on=False,
    kind=BoutKind.SHIFTS,
    dose=Dose(sets=1, hold_s=60, shift_s=5, rest_s=30),
    domain="balance",
    sides="both",
    directions=("forward", "back", "in", "out"),
)


def test_a_technique_is_planned_for_the_injured_side_only() -> None:
    plan = plan_for(GLIDES, Side.RIGHT, seed=1)
    assert plan.sides == (Side.RIGHT,)
    assert plan.turns == (Turn(Side.RIGHT, 1), Turn(Side.RIGHT, 2), Turn(Side.RIGHT, 3))
    assert (plan.reps, plan.rest_s, plan.countdown_s) == (10, 60, 3)
    assert plan.ask_pain
    assert plan.painless
    assert not plan.auto_next


@pytest.mark.parametrize("injured", list(Side))
def test_both_sides_are_worked_uninjured_first_with_all_their_sets(injured: Side) -> None:
    plan = plan_for(STANCE, injured, seed=1)
    assert [turn.side for turn in plan.turns] == [injured.other] * 3 + [injured] * 3
    assert [turn.n for turn in plan.turns] == [1, 2, 3, 1, 2, 3]


def test_an_activity_of_no_side_has_turns_without_a_side() -> None:
    plan = plan_for(GLIDES._replace(sides="none"), Side.LEFT, seed=1)
    assert [turn.side for turn in plan.turns] == [None, None, None]


def test_a_hold_to_loss_counts_trials_and_training_counts_sets() -> None:
    assert plan_for(STANCE, Side.LEFT, seed=1).unit == "trial"
    assert plan_for(STANCE, Side.LEFT, seed=1).trials == 3
    assert plan_for(GLIDES, Side.LEFT, seed=1).unit == "set"
    assert plan_for(GLIDES, Side.LEFT, seed=1).trials == 0


def test_what_is_asked_for_replaces_the_usual_dose() -> None:
    plan = plan_for(GLIDES, Side.LEFT, seed=1, overrides=Overrides(sets=4, reps=4, rest_s=30, auto_next=True))
    assert (plan.sets, plan.reps, plan.rest_s, plan.auto_next) == (4, 4, 30, True)
    assert plan_for(GLIDES, Side.LEFT, seed=1, overrides=Overrides(sides=(Side.RIGHT,))).sides == (Side.RIGHT,)


@pytest.mark.parametrize(
    "changed", [Overrides(cap_s=30), Overrides(sets=1), Overrides(phases=(Phase("UP", 1),)), Overrides(hold_s=9)]
)
def test_a_test_done_otherwise_than_its_measure_says_is_training(changed: Overrides) -> None:
    assert plan_for(STANCE, Side.LEFT, seed=1).own_protocol
    assert not plan_for(STANCE, Side.LEFT, seed=1, overrides=changed).own_protocol


def test_rest_and_countdown_are_no_part_of_a_measures_protocol() -> None:
    changed = Overrides(rest_s=90, countdown_s=5, auto_next=True, cap_s=45)
    assert plan_for(STANCE, Side.LEFT, seed=1, overrides=changed).own_protocol


def test_an_activity_without_a_measure_follows_no_protocol() -> None:
    assert not plan_for(GLIDES, Side.LEFT, seed=1).own_protocol


def test_every_side_gets_each_direction_equally_often() -> None:
    plan = plan_for(SHIFTS, Side.LEFT, seed=7)
    assert plan.shifts == 12
    assert plan.duration_s == 60
    for turn in range(2):
        assert Counter(plan.directions_of(turn)) == dict.fromkeys(SHIFTS.directions, 3)


def test_the_same_seed_gives_the_same_order() -> None:
    assert plan_for(SHIFTS, Side.LEFT, seed=7) == plan_for(SHIFTS, Side.LEFT, seed=7)
    orders = {plan_for(SHIFTS, Side.LEFT, seed=seed).directions for seed in range(20)}
    assert len(orders) > 1


@given(st.integers(2, 8), st.integers(1, 60), st.integers())
def test_an_order_is_balanced_to_within_one_and_never_the_same_twice_running(
    n: int, count: int, seed: int
) -> None:
    names = tuple(f"way {k}" for k in range(n))
    order = balanced(names, count, seed)
    often = Counter(order)
    assert len(order) == count
    assert max(often[name] for name in names) - min(often[name] for name in names) <= 1
    assert all(a != b for a, b in pairwise(order))


def test_one_direction_alone_can_only_repeat() -> None:
    assert balanced(("forward",), 3, 1) == ("forward", "forward", "forward")


@pytest.mark.parametrize("activity", [GLIDES, STANCE, SHIFTS])
def test_a_plan_survives_being_kept_as_plain_data(activity: Activity) -> None:
    plan = plan_for(activity, Side.RIGHT, seed=3)
    kept = json.loads(json.dumps(plan.as_data()))
    assert kept["injured"] == "right"
    assert BoutPlan.from_data(kept) == plan


def test_kept_data_that_does_not_fit_is_refused_with_a_sentence() -> None:
    kept = plan_for(GLIDES, Side.RIGHT, seed=3).as_data()
    with pytest.raises(ValueError, match="'injured' is missing"):
        BoutPlan.from_data({name: value for name, value in kept.items() if name != "injured"})
    with pytest.raises(ValueError, match="bout's plan cannot be read"):
        BoutPlan.from_data(kept | {"kind": "juggling"})
    with pytest.raises(ValueError, match="bout's plan cannot be read"):
        BoutPlan.from_data(kept | {"phases": [3]})


@pytest.mark.parametrize(
    ("activity", "changed", "says"),
    [
        (GLIDES, Overrides(sets=0), "at least one set"),
        (GLIDES, Overrides(reps=0), "at least one rep"),
        (GLIDES, Overrides(phases=()), "phases"),
        (GLIDES, Overrides(phases=(Phase("HOLD", 0),)), "phases"),
        (GLIDES, Overrides(rest_s=-1), "below zero"),
        (GLIDES, Overrides(countdown_s=-1), "below zero"),
        (GLIDES, Overrides(sides=()), "at least one side"),
        (STANCE, Overrides(cap_s=0), "cap"),
        (SHIFTS, Overrides(shift_s=0), "direction"),
        (SHIFTS, Overrides(duration_s=0), "direction"),
    ],
)
def test_a_plan_that_cannot_run_says_why(activity: Activity, changed: Overrides, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        plan_for(activity, Side.LEFT, seed=1, overrides=changed)


def test_a_hold_of_fixed_time_needs_its_time() -> None:
    hold = GLIDES._replace(kind=BoutKind.HOLD_FIXED)
    with pytest.raises(ValueError, match="hold"):
        plan_for(hold, Side.LEFT, seed=1)
    assert plan_for(hold, Side.LEFT, seed=1, overrides=Overrides(hold_s=30)).hold_s == 30
