"""Pauses and times changed inside the bout: what stands still, what goes on, what is done again."""

from __future__ import annotations

from store.bout import keys
from store.bout.events import Event, Kind
from store.bout.fold import advance, replay
from store.bout.state import Mode
from store.knowledge.kinds import Phase
from tests.bout.player import GLIDES, HOLD, STANCE, Player


def test_a_pause_inside_a_phase_keeps_the_rest_of_the_phase() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 + 3.4)
    player.key(keys.pause_or_resume)
    assert (player.view.mode, player.view.word, player.view.left_s) == (Mode.PAUSED, "HOLD", 2)
    player.wait(1234.5)
    player.key(keys.pause_or_resume)
    again = player.at_ms
    player.wait(1.599)
    assert player.view.word == "HOLD"
    player.wait(0.001)
    assert player.view.word == "BACK"
    player.wait(3)
    assert player.events[-1] == Event(player.events[-1].seq, Kind.PACED_REP, again + 4600)


def test_a_pause_is_no_time_under_load() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(10)
    player.key(keys.pause_or_resume)
    player.wait(60)
    player.key(keys.pause_or_resume)
    player.wait(3 + 20)
    assert player.view.mode is Mode.REST
    assert player.view.done[0].worked_ms == 30_000


def held_then_paused(seconds: float = 12.4) -> Player:
    player = Player(HOLD)
    player.start()
    player.wait(seconds)
    player.press()
    player.key(keys.pause_or_resume)
    player.wait(60)
    return player


def test_a_paused_hold_is_counted_in_before_it_goes_on_by_either_key() -> None:
    for goes_on in (Player.press, lambda player: player.key(keys.pause_or_resume)):
        player = held_then_paused()
        goes_on(player)
        assert (player.view.mode, player.view.left_s, player.view.faults) == (Mode.COUNTDOWN, 3, 1)
        player.wait(3)
        assert (player.view.mode, player.view.seconds, player.view.faults) == (Mode.WORKING, 12, 1)
        player.wait(17.599)
        assert player.view.mode is Mode.WORKING
        player.wait(0.001)
        assert (player.view.mode, player.view.done[0].worked_ms) == (Mode.REST, 30_000)
        assert replay(HOLD, player.events) == player.state


def test_what_was_held_stays_whatever_is_pressed_while_it_is_counted_in() -> None:
    player = held_then_paused()
    player.press()
    player.wait(1)
    assert player.key(keys.pain, n=2) == ""
    player.key(keys.pause_or_resume)  # and once more from the start of the countdown
    player.wait(60)
    player.press()
    player.wait(2.9)
    assert player.view.mode is Mode.COUNTDOWN
    assert player.view.keeps
    ended = advance(HOLD, player.state, Event(player.state.seq + 1, Kind.END, player.at_ms))
    assert [(each.seconds, each.pain_during, each.complete) for each in ended.done] == [(12.4, (2,), False)]
    assert player.key(keys.end_set) == ""
    assert (player.view.mode, player.view.done[0].seconds) == (Mode.REST, 12.4)
    assert replay(HOLD, player.events) == player.state


def test_a_hold_that_went_on_at_once_in_an_older_bout_still_does() -> None:
    player = held_then_paused()
    older = advance(HOLD, player.state, Event(player.state.seq + 1, Kind.WENT_ON, player.at_ms))
    assert (older.mode, older.run_ms(player.at_ms + 1000)) == (Mode.WORKING, 13_400)


def test_a_trial_of_time_to_loss_that_was_paused_is_done_again() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(17)
    player.key(keys.pause_or_resume)
    assert (player.view.seconds, player.view.pedal) == (17, "do this trial again")
    assert "done again from its start" in player.view.sentence
    player.wait(30)
    player.key(keys.pause_or_resume)
    assert (player.view.mode, player.view.set_n) == (Mode.COUNTDOWN, 1)
    player.wait(3 + 8)
    player.press()
    assert [result.seconds for result in player.view.done] == [8.0]


def test_changed_phases_pace_the_next_rep_not_the_one_under_way() -> None:
    player = Player(GLIDES)
    player.start()
    began = player.at_ms
    player.wait(4)
    quick = (Phase("LUNGE", 2), Phase("HOLD", 4), Phase("BACK", 2.5))
    assert player.key(keys.set_times, phases=quick) == ""
    assert player.view.times.phases == quick
    player.wait(3.9)
    assert player.view.word == "BACK"
    player.wait(0.1 + 2)
    assert (player.view.word, player.view.left_s) == ("HOLD", 4)
    player.wait(20)
    reps = [event.at_ms - began for event in player.events if event.kind is Kind.PACED_REP]
    assert reps == [8000, 16500, 25000]


def test_a_changed_hold_and_rest_are_in_force_at_once() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(12)
    assert player.key(keys.set_times, hold_s=20) == ""
    assert player.view.left_s == 8
    player.wait(8)
    assert (player.view.mode, player.view.done[0].seconds) == (Mode.REST, 20.0)
    assert player.key(keys.set_times, rest_s=90) == ""
    assert player.view.left_s == 90


def test_a_hold_cut_below_what_was_held_ends_now_and_keeps_what_was_held() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(25)
    player.key(keys.set_times, hold_s=20)
    assert player.view.mode is Mode.REST
    assert player.view.done[0].seconds == 25.0
    player.wait(10)
    player.key(keys.set_times, rest_s=5)
    assert player.view.rest_over
    assert [event.at_ms for event in player.events if event.kind is Kind.REST_OVER] == [player.at_ms]


def test_a_hold_cut_short_while_paused_ends_as_it_goes_on_and_keeps_what_was_held() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(25)
    player.key(keys.pause_or_resume)
    player.key(keys.set_times, hold_s=20)
    player.wait(50)
    player.key(keys.pause_or_resume)
    player.wait(3)
    assert (player.view.mode, player.view.done[0].seconds) == (Mode.REST, 25.0)
    assert player.state.since_ms == player.at_ms


def test_a_rest_pauses_and_goes_on_by_the_same_key() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(30 + 12)
    player.key(keys.pause_or_resume)
    player.wait(100)
    assert player.key(keys.pause_or_resume) == ""
    assert (player.view.mode, player.view.left_s) == (Mode.REST, 18)
