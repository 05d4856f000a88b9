"""Undo: what is taken back, what hung on it, and what the clock has done in the meantime."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.bout import keys
from store.bout.events import Event, Kind
from store.bout.fold import advance, replay
from store.bout.state import Mode
from store.knowledge.kinds import Phase
from tests.bout.player import GLIDES, HOLD, RAISES, SHIFTS, STANCE, Player


def test_an_undone_paced_rep_does_not_count_and_the_set_lasts_one_longer() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 7 + 1)
    assert (player.view.reps_done, player.view.undo) == (7, "rep 7")
    player.key(keys.undo)
    assert (player.view.reps_done, player.view.undo) == (6, "rep 6")
    assert player.view.word == "LUNGE"
    player.wait(8 * 3)
    assert (player.view.mode, player.view.reps_done) == (Mode.WORKING, 9)
    player.wait(8)
    assert (player.view.mode, player.view.done[0].reps, player.view.done[0].seconds) == (Mode.REST, 10, 88.0)


def test_a_paced_rep_undone_in_the_rest_corrects_the_count_and_leaves_the_rest_alone() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 15)
    player.key(keys.undo)
    result = player.view.done[0]
    assert (player.view.mode, player.view.seconds) == (Mode.REST, 15)
    assert (result.reps, result.complete, result.seconds) == (9, False, 80.0)


def test_undo_walks_back_one_thing_at_a_time() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 2 + 1)
    player.key(keys.pain, 3)
    seen = []
    for _ in range(4):
        seen.append(player.view.undo)
        assert player.key(keys.undo) == ""
    assert seen == ["pain 3", "rep 2", "rep 1", "start"]
    assert player.view.mode is Mode.READY
    assert player.view.undo == ""
    assert player.key(keys.undo) == "There is nothing to undo in this bout."


def test_an_undone_start_goes_back_to_the_rest_which_has_run_on() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 10)
    player.press()
    player.wait(3 + 2)
    player.key(keys.undo)
    assert (player.view.mode, player.view.seconds, player.view.set_n) == (Mode.REST, 15, 2)
    beats = [event.data["s"] for event in player.events if event.kind is Kind.BEAT]
    assert beats[-5:] == [11, 12, 13, 14, 15]


def test_a_set_that_started_by_itself_and_is_undone_waits() -> None:
    player = Player(replace(GLIDES, auto_next=True))
    player.start()
    player.wait(80 + 60 + 3 + 2)
    player.key(keys.undo)
    player.wait(30)
    assert (player.view.mode, player.view.seconds) == (Mode.REST, 95)
    rested = [event.data["s"] for event in player.state.kept if event.kind is Kind.BEAT][80:]
    assert rested == list(range(1, 96))
    assert player.view.pedal == "start the next set"
    player.press()
    player.wait(3)
    assert (player.view.mode, player.view.set_n) == (Mode.WORKING, 2)


def test_an_undone_fault_and_an_undone_loss_of_control_never_were() -> None:
    player = Player(HOLD)
    player.start()
    for _ in range(2):
        player.wait(2)
        player.press()
    player.key(keys.undo)
    assert player.view.faults == 1
    shifts = Player(SHIFTS)
    shifts.start()
    shifts.wait(1)
    shifts.press()
    shifts.wait(5)
    shifts.key(keys.undo)
    assert shifts.state.current is not None
    assert all(shift.controlled for shift in shifts.state.current.shifts)


def test_a_loss_taken_back_at_once_lets_the_hold_run_on() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(12.5)
    player.press()
    player.wait(2)
    assert (player.view.mode, player.view.undo) == (Mode.REST, "loss")
    player.key(keys.undo)
    assert (player.view.mode, player.view.seconds, player.view.done) == (Mode.WORKING, 14, ())
    player.wait(6)
    player.press()
    assert player.view.done[0].seconds == 20.5


@pytest.mark.parametrize("seconds", [5.001, 20, 40])
def test_a_loss_taken_back_late_makes_the_trial_one_to_do_again(seconds: float) -> None:
    player = Player(STANCE)
    player.start()
    player.wait(12.5)
    player.press()
    player.wait(seconds)
    player.key(keys.undo)
    assert (player.view.mode, player.view.set_n, player.view.done) == (Mode.READY, 1, ())
    assert not player.view.keeps


def test_a_loss_taken_back_after_a_pause_is_late() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(12.5)
    player.press()
    player.wait(1)
    player.key(keys.leave)
    player.key(keys.pause_or_resume)
    player.key(keys.undo)
    assert player.view.mode is Mode.READY


def test_a_late_loss_of_a_trial_that_started_by_itself_goes_back_to_a_rest_that_waits() -> None:
    player = Player(replace(STANCE, auto_next=True))
    player.start()
    player.wait(5)
    player.press()
    player.wait(30 + 3 + 4)
    player.press()
    player.wait(6)
    player.key(keys.undo)
    player.wait(60)
    assert (player.view.mode, player.view.set_n, len(player.view.done)) == (Mode.REST, 2, 1)


def test_the_rep_that_ended_a_counted_set_is_taken_back_and_the_set_is_open_again_paused() -> None:
    player = Player(replace(RAISES, reps=3))
    player.start()
    for _ in range(3):
        player.wait(2)
        player.press()
    player.wait(40)
    player.key(keys.undo)
    assert (player.view.mode, player.view.doing, player.view.reps_done) == (Mode.PAUSED, Mode.WORKING, 2)
    player.press()
    player.wait(2)
    player.press()
    assert (player.view.done[0].reps, player.view.done[0].seconds) == (3, 8.0)


def test_a_counted_rep_inside_a_set_is_simply_taken_back() -> None:
    player = Player(RAISES)
    player.start()
    for _ in range(3):
        player.wait(2)
        player.press()
    player.key(keys.pause_or_resume)
    player.key(keys.undo)
    assert (player.view.mode, player.view.reps_done, player.view.undo) == (Mode.PAUSED, 2, "rep 2")


def test_a_set_ended_by_a_key_is_open_again_paused_so_that_the_time_since_is_no_work() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 3 + 4)
    player.key(keys.end_set)
    player.wait(50)
    assert player.view.undo == "end of set"
    player.key(keys.undo)
    assert (player.view.mode, player.view.word, player.view.reps_done) == (Mode.PAUSED, "HOLD", 3)
    player.press()
    player.wait(4)
    assert player.view.reps_done == 4


def test_an_undone_change_of_times_gives_the_old_times_back() -> None:
    player = Player(GLIDES)
    player.start()
    player.key(keys.set_times, phases=(Phase("LUNGE", 1),), rest_s=10)
    assert player.view.undo == "change of times"
    player.key(keys.undo)
    assert player.view.times.phases == GLIDES.phases
    assert player.view.times.rest_ms == 60_000


def test_undone_control_and_pain_are_asked_again() -> None:
    player = Player(replace(HOLD, ask_pain=True))
    player.start()
    player.wait(30)
    player.key(keys.pain, 2)
    player.key(keys.control, 1)
    assert player.view.undo == "control 1"
    player.key(keys.undo)
    player.key(keys.undo)
    assert len(player.view.questions) == 2


def test_a_whole_hold_is_taken_back_by_its_start() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(30 + 5)
    player.key(keys.undo)
    assert (player.view.mode, player.view.set_n, player.view.done) == (Mode.READY, 1, ())


@pytest.mark.parametrize("of", [0, 2, 99, "x", None])
def test_an_undo_of_what_cannot_be_undone_changes_nothing(of: object) -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(10)
    undone = advance(player.plan, player.state, Event(50, Kind.UNDO, player.at_ms, {"of": of}))
    assert undone == player.state


def test_an_undo_is_not_undone() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(1)
    player.press()
    player.key(keys.undo)
    undo = player.events[-1]
    again = advance(player.plan, player.state, Event(undo.seq + 1, Kind.UNDO, player.at_ms, {"of": undo.seq}))
    assert again == player.state


def test_the_history_keeps_what_was_undone() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(1)
    player.press()
    player.key(keys.undo)
    assert player.kinds()[-2:] == [Kind.FAULT, Kind.UNDO]
    assert replay(player.plan, player.events) == player.state


def test_an_ending_taken_back_leaves_the_set_paused_with_its_reps_and_its_seconds() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 3 + 2)
    player.key(keys.end)
    assert (player.view.mode, player.state.done[0].reps) == (Mode.DONE, 3)
    player.key(keys.undo_end)
    assert (player.view.mode, player.view.reps_done, player.view.done) == (Mode.PAUSED, 3, ())
    player.wait(40)
    player.press()
    player.wait(6)
    assert (player.view.mode, player.view.reps_done) == (Mode.WORKING, 4)


def test_an_ending_after_all_was_done_is_taken_back_to_where_all_is_done() -> None:
    player = Player(replace(HOLD, sets=1, sides=(HOLD.injured,)))
    player.start()
    player.wait(HOLD.hold_s)
    player.key(keys.control, 2)
    before = player.state
    player.key(keys.end)
    player.key(keys.undo_end)
    assert player.state == before
    assert (player.view.mode, player.view.undo) == (Mode.DONE, "control 2")


def test_of_a_bout_that_has_ended_nothing_but_its_ending_is_undone() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 3)
    rep = next(event for event in reversed(player.events) if event.kind is Kind.PACED_REP)
    player.key(keys.end)
    ended = player.state
    player.take(Event(ended.seq + 1, Kind.UNDO, player.at_ms, {"of": rep.seq}))
    assert player.state == ended
