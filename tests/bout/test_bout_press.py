"""What the pedal means in each state, and that a held pedal is one press."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.bout import keys
from store.bout.events import Kind
from store.bout.plan import BoutPlan
from store.bout.press import Guard, meaning
from store.bout.state import Mode
from tests.bout.player import GLIDES, HOLD, PLANS, RAISES, SHIFTS, STANCE, Player


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.kind)
def test_ready_a_press_starts_a_countdown_of_three(plan: BoutPlan) -> None:
    player = Player(plan)
    assert player.view.pedal == "start"
    assert player.press() is Kind.SET_STARTED
    assert (player.view.mode, player.view.left_s) == (Mode.COUNTDOWN, 3)
    player.wait(2.999)
    assert (player.view.mode, player.view.left_s) == (Mode.COUNTDOWN, 1)
    player.wait(0.001)
    assert player.view.mode is Mode.WORKING


def test_paced_reps_a_press_stops_at_once_and_again_goes_on() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 + 4.5)
    assert player.view.pedal == "stop"
    assert player.press() is Kind.STOPPED
    assert (player.view.mode, player.view.word, player.view.rep) == (Mode.PAUSED, "HOLD", 2)
    assert player.view.sentence == "Stopped. Press again to go on."
    player.wait(100)
    assert (player.view.word, player.view.rep) == ("HOLD", 2)
    assert player.view.pedal == "go on"
    assert player.press() is Kind.WENT_ON
    assert (player.view.mode, player.view.sentence) == (Mode.WORKING, "")


def test_a_countdown_can_be_stopped_and_then_starts_afresh() -> None:
    player = Player(GLIDES)
    player.press()
    player.wait(2)
    assert player.press() is Kind.STOPPED
    player.wait(10)
    player.press()
    assert (player.view.mode, player.view.left_s) == (Mode.COUNTDOWN, 3)


def test_counted_reps_a_press_counts_one() -> None:
    player = Player(RAISES)
    player.start()
    assert player.view.pedal == "count one"
    for _ in range(4):
        player.wait(2)
        assert player.press() is Kind.COUNTED_REP
    assert player.view.reps_done == 4
    assert not player.state.current or not player.state.current.paced


def test_rest_a_press_starts_the_next_set() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 20)
    assert player.view.pedal == "start the next set"
    assert player.press() is Kind.SET_STARTED
    assert (player.view.mode, player.view.set_n) == (Mode.COUNTDOWN, 2)


def test_hold_to_loss_a_press_ends_the_trial() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(12.57)
    assert player.view.pedal == "lost it"
    assert player.press() is Kind.LOST
    assert player.view.mode is Mode.REST
    assert [(result.seconds, result.lost, result.cap_reached) for result in player.view.done] == [
        (12.5, True, False)
    ]
    assert player.view.pedal == "start the next trial"


def test_hold_of_fixed_time_a_press_is_one_fault() -> None:
    player = Player(HOLD)
    player.start()
    for _ in range(2):
        player.wait(5)
        assert player.view.pedal == "one fault"
        assert player.press() is Kind.FAULT
    assert player.view.faults == 2
    player.wait(20)
    assert (player.view.mode, player.view.done[0].faults, player.view.done[0].seconds) == (Mode.REST, 2, 30.0)


def test_direction_shift_a_press_is_lost_control_of_this_one_only_once() -> None:
    player = Player(SHIFTS)
    player.start()
    player.wait(6)
    assert (player.view.word, player.view.pedal) == ("IN", "lost control")
    assert player.press() is Kind.LOST_CONTROL
    player.wait(2)
    assert player.view.pedal == ""
    assert player.press() is None
    player.wait(20)
    assert player.view.mode is Mode.DONE
    assert [(shift.direction, shift.controlled) for shift in player.view.done[0].shifts] == [
        ("forward", True),
        ("in", False),
        ("back", True),
        ("out", True),
    ]


def test_done_a_press_means_nothing() -> None:
    player = Player(SHIFTS)
    player.start()
    player.wait(60)
    assert meaning(player.plan, player.state) is None
    assert player.press() is None


def test_paused_in_a_rest_a_press_goes_on_with_the_rest() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 20)
    player.key(keys.pause_or_resume)
    player.wait(500)
    assert (player.view.word, player.view.seconds) == ("REST", 20)
    player.press()
    player.wait(5)
    assert (player.view.mode, player.view.seconds, player.view.left_s) == (Mode.REST, 25, 35)


def test_a_held_pedal_is_one_press_however_long_it_is_held() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(2)
    for _ in range(200):
        player.press()
        player.wait(0.03)
    assert player.view.faults == 1


def test_the_guard_is_renewed_by_each_press() -> None:
    guard, new = Guard().pressed(0)
    assert new
    guard, new = guard.pressed(699)
    assert not new
    guard, new = guard.pressed(1398)
    assert not new
    guard, new = guard.pressed(2098)
    assert new
    assert guard == Guard(2098)


def test_a_press_held_over_from_the_start_does_not_fault_the_hold() -> None:
    player = Player(replace(HOLD, countdown_s=0))
    player.press()
    player.wait(0.3)
    assert player.press() is None
    assert player.view.faults == 0


def test_a_press_that_comes_too_late_for_its_set_does_not_start_the_next() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(45 + 0.3)
    assert player.press() is None
    assert player.view.mode is Mode.REST
    player.wait(1)
    assert player.press() is Kind.SET_STARTED
