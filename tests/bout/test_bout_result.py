"""What becomes of a bout: readings only of what was done to protocol, and the dose planned and done."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.bout import keys
from store.bout.plan import BoutPlan
from store.bout.result import Dose, Outcome, outcome
from store.knowledge.kinds import Phase
from store.knowledge.words import Side, Status
from tests.bout.player import GLIDES, HOLD, RAISES, SHIFTS, STANCE, Player


def result_of(player: Player) -> Outcome:
    return outcome(player.plan, player.state)


def stance(seconds: tuple[float, ...], plan: BoutPlan = STANCE) -> Player:
    player = Player(plan)
    for s in seconds:
        player.start()
        player.wait(s)
        player.press()
        player.key(keys.control, 2)
    return player


def test_a_test_to_loss_gives_each_sides_trials_to_a_tenth() -> None:
    player = stance((44.1, 30.07, 12, 12.5, 9.99, 20))
    left, right = result_of(player).sides
    assert (left.side, left.trials, left.status) == (Side.LEFT, (44.1, 30.0, 12.0), Status.MEASURED)
    assert (right.side, right.trials, right.status) == (Side.RIGHT, (12.5, 9.9, 20.0), Status.MEASURED)
    assert left.controls == (2, 2, 2)
    assert result_of(player).to_protocol
    assert result_of(player).measure == "stance_open"


def test_one_trial_at_the_cap_makes_the_side_cap_reached() -> None:
    player = stance((45, 45, 44.1, 12.5, 10, 20))
    left, right = result_of(player).sides
    assert (left.trials, left.status) == ((45.0, 45.0, 44.1), Status.CAP)
    assert right.status is Status.MEASURED


def test_a_trial_broken_off_is_no_trial_but_counts_as_work() -> None:
    player = stance((10, 10, 10, 12))
    player.start()
    player.wait(8)
    player.key(keys.end)
    left, right = result_of(player).sides
    assert (left.missing, right.trials) == ("", (12.0,))
    assert right.missing == "1 of 3 trials was done on the right."
    assert result_of(player).done.seconds == 50.0


def test_what_was_planned_or_timed_otherwise_is_training() -> None:
    elsewise = stance((10,), replace(STANCE, own_protocol=False))
    assert result_of(elsewise).why_not == ("It was planned otherwise than the measure's own protocol.",)
    assert not result_of(elsewise).to_protocol
    half_dome = stance((10,), replace(STANCE, measure="", own_protocol=False))
    assert result_of(half_dome).why_not == ("This activity is training, and measures nothing.",)
    raises = Player(RAISES)
    raises.start()
    raises.key(keys.set_times, phases=(Phase("UP", 2), Phase("DOWN", 2)))
    assert result_of(raises).why_not == ("Its times were changed while it ran.",)
    raises.key(keys.undo)
    assert result_of(raises).to_protocol


def test_a_changed_rest_leaves_the_protocol_whole() -> None:
    player = stance((10,))
    player.key(keys.set_times, rest_s=60)
    assert result_of(player).to_protocol


def test_heel_raises_give_counts() -> None:
    player = Player(RAISES)
    for reps in (25, 14):
        player.start()
        for _ in range(reps):
            player.wait(2)
            player.press()
        player.key(keys.end_set)
    left, right = result_of(player).sides
    assert (left.trials, right.trials) == ((25.0,), (14.0,))
    assert result_of(player).done == Dose(sets=2, reps=39, holds=0, seconds=78.0)


def test_heel_raises_broken_off_are_no_trial() -> None:
    player = Player(RAISES)
    player.start()
    player.wait(2)
    player.press()
    player.key(keys.end)
    assert result_of(player).sides[0].trials == ()
    assert result_of(player).done.reps == 1


def test_paced_reps_can_never_be_a_reading() -> None:
    player = Player(replace(GLIDES, measure="lunge", own_protocol=True))
    assert result_of(player).why_not == ("Only holds and counted reps become readings.",)


@pytest.mark.parametrize(
    ("plan", "planned"),
    [
        (GLIDES, Dose(sets=3, reps=30, holds=0, seconds=240.0)),
        (replace(RAISES, reps=15, sets=2), Dose(sets=4, reps=60, holds=0, seconds=120.0)),
        (RAISES, Dose(sets=2, reps=0, holds=0, seconds=0.0)),
        (STANCE, Dose(sets=6, reps=0, holds=6, seconds=0.0)),
        (HOLD, Dose(sets=6, reps=0, holds=6, seconds=180.0)),
        (SHIFTS, Dose(sets=1, reps=0, holds=0, seconds=20.0)),
    ],
)
def test_the_planned_dose(plan: BoutPlan, planned: Dose) -> None:
    assert result_of(Player(plan)).planned == planned


def test_the_dose_done_leaves_out_rests_pauses_and_what_was_undone() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 30)
    player.key(keys.pain, 0)
    player.start()
    player.wait(8 * 5 + 1)
    player.key(keys.undo)
    player.press()
    player.wait(100)
    player.key(keys.end)
    assert result_of(player).done == Dose(sets=2, reps=14, holds=0, seconds=121.0)
    assert result_of(player).sides[0].pains == (0,)
