"""How a bout runs, asked at the instants a user would see: reps, rests, holds, sides, pauses, changed times."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.bout import keys
from store.bout.due import due, next_due_ms
from store.bout.events import Event, Kind, event_from
from store.bout.fold import advance, replay
from store.bout.plan import BoutPlan
from store.bout.state import Mode
from store.bout.view import fold
from store.knowledge.kinds import Phase
from store.knowledge.words import Side
from tests.bout.player import FIRST_MS, GLIDES, HOLD, PLANS, RAISES, REP_MS, SHIFTS, STANCE, Player


@pytest.mark.parametrize(
    ("into", "word", "left", "rep"),
    [
        (0, "LUNGE", 3, 1),
        (2.999, "LUNGE", 1, 1),
        (3, "HOLD", 2, 1),
        (5, "BACK", 3, 1),
        (7.999, "BACK", 1, 1),
        (8, "LUNGE", 3, 2),
        (6 * 8 + 4, "HOLD", 1, 7),
        (79.9, "BACK", 1, 10),
    ],
)
def test_a_paced_rep_shows_its_phase_and_the_seconds_left_in_it(
    into: float, word: str, left: int, rep: int
) -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(into)
    view = player.view
    assert (view.word, view.left_s, view.rep, view.reps_done, view.reps) == (word, left, rep, rep - 1, 10)
    assert (view.side, view.injured, view.set_n, view.sets, view.unit) == (Side.RIGHT, True, 1, 3, "set")


def test_a_set_ends_after_its_last_rep_and_says_that_it_was_paced() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80)
    assert player.view.mode is Mode.REST
    result = player.view.done[0]
    assert (result.reps, result.paced, result.seconds, result.complete) == (10, True, 80.0, True)
    assert player.kinds().count(Kind.PACED_REP) == 10


def test_each_rep_stands_at_its_exact_instant_however_late_it_is_looked_for() -> None:
    player = Player(GLIDES)
    player.start()
    began = player.at_ms
    while player.view.mode is Mode.WORKING:
        player.wait(1.337)
    reps = [event.at_ms for event in player.events if event.kind is Kind.PACED_REP]
    assert reps == [began + REP_MS * n for n in range(1, 11)]


def test_a_rest_counts_on_past_its_end_and_waits() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 59)
    assert (player.view.word, player.view.left_s, player.view.rest_over) == ("REST", 1, False)
    assert player.view.set_n == 2
    player.wait(1)
    assert (player.view.left_s, player.view.rest_over) == (0, True)
    player.wait(300)
    assert (player.view.mode, player.view.seconds, player.view.left_s) == (Mode.REST, 360, 0)


def test_by_a_setting_the_next_set_starts_by_itself_with_its_countdown() -> None:
    player = Player(replace(GLIDES, auto_next=True))
    player.start()
    player.wait(80 + 60)
    assert (player.view.mode, player.view.left_s, player.view.set_n) == (Mode.COUNTDOWN, 3, 2)
    player.wait(3)
    assert player.view.mode is Mode.WORKING


def test_a_forgotten_rest_beats_once_a_minute_after_ten() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80)
    before = len(player.events)
    player.wait(600)
    assert len(player.events) - before == 600 + 1
    player.wait(3600)
    assert len(player.events) - before == 600 + 1 + 60
    assert player.view.seconds == 4200


def test_every_whole_second_of_a_hold_and_of_a_rest_stands_in_an_event() -> None:
    player = Player(HOLD)
    player.start()
    began = player.at_ms
    player.wait(30 + 20)
    beats = [event.at_ms - began for event in player.events if event.kind is Kind.BEAT]
    assert beats == [1000 * s for s in range(1, 51)]


def test_counted_reps_of_a_number_end_with_the_last() -> None:
    player = Player(replace(RAISES, reps=3, rest_s=20))
    player.start()
    for _ in range(3):
        player.wait(2)
        player.press()
    result = player.view.done[0]
    assert (player.view.mode, result.reps, result.paced, result.seconds) == (Mode.REST, 3, False, 6.0)


def test_as_many_as_can_be_done_end_by_a_key_and_the_injured_side_follows() -> None:
    player = Player(RAISES)
    player.start()
    assert player.view.side is Side.LEFT
    for _ in range(23):
        player.wait(2)
        player.press()
    assert player.key(keys.end_set) == ""
    assert (player.view.mode, player.view.done[0].reps, player.view.done[0].complete) == (Mode.REST, 23, True)
    assert (player.view.side, player.view.injured) == (Side.RIGHT, True)


def test_a_counted_set_shows_the_metronomes_phase() -> None:
    player = Player(RAISES)
    player.start()
    player.wait(7.2)
    assert (player.view.word, player.view.left_s) == ("DOWN", 1)


def test_a_hold_to_loss_stops_at_its_cap_and_says_so() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(44.9)
    assert (player.view.word, player.view.seconds, player.view.left_s) == ("HOLD", 44, 1)
    player.wait(5)
    result = player.view.done[0]
    assert (result.seconds, result.cap_reached, result.lost, result.complete) == (45.0, True, False, True)


def test_trials_run_through_one_side_then_the_other_uninjured_first() -> None:
    player = Player(STANCE)
    seen = []
    for _ in range(6):
        player.start()
        seen.append((player.view.side, player.view.set_n, player.view.unit, player.view.injured))
        player.wait(5)
        player.press()
    left = [(Side.LEFT, n, "trial", False) for n in (1, 2, 3)]
    assert seen == left + [(Side.RIGHT, n, "trial", True) for n in (1, 2, 3)]
    assert player.view.mode is Mode.DONE


def test_just_under_the_cap_never_reads_as_the_cap() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(44.99)
    player.press()
    assert (player.view.done[0].seconds, player.view.done[0].cap_reached) == (44.9, False)


def test_shifts_follow_the_planned_order_each_for_its_time() -> None:
    player = Player(SHIFTS)
    player.start()
    seen = []
    for _ in range(4):
        seen.append((player.view.word, player.view.shift_n, player.view.shifts, player.view.left_s))
        player.wait(5)
    assert seen == [("FORWARD", 1, 4, 5), ("IN", 2, 4, 5), ("BACK", 3, 4, 5), ("OUT", 4, 4, 5)]
    assert (player.view.mode, player.view.done[0].seconds) == (Mode.DONE, 20.0)


def test_ended_early_keeps_what_was_done_and_marks_it_as_not_whole() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 10)
    player.start()
    player.wait(8 * 4 + 2)
    assert player.view.keeps
    assert player.key(keys.end) == ""
    view = player.view
    assert (view.mode, view.ended, view.word) == (Mode.DONE, True, "DONE")
    assert [(result.reps, result.complete) for result in view.done] == [(10, True), (4, False)]


def test_there_is_nothing_to_keep_before_the_first_rep_or_second() -> None:
    player = Player(GLIDES)
    assert not player.view.keeps
    player.start()
    player.wait(0.9)
    assert not player.view.keeps
    player.key(keys.end)
    assert player.view.done == ()


def test_after_the_end_nothing_changes_any_more() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(20)
    player.key(keys.end)
    ended = player.state
    for kind in Kind:
        assert advance(player.plan, ended, Event(99, kind, 99_000, {"n": 1, "of": 3})) == ended
    assert next_due_ms(player.plan, ended) is None


def test_a_set_can_be_ended_by_a_key_and_the_bout_goes_on() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 6)
    player.press()
    assert player.key(keys.end_set) == ""
    assert (player.view.mode, player.view.set_n) == (Mode.REST, 2)
    assert (player.view.done[0].reps, player.view.done[0].complete) == (6, False)


def test_the_driver_knows_when_to_wake() -> None:
    player = Player(replace(GLIDES, phases=(Phase("UP", 0.7),)))
    assert next_due_ms(player.plan, player.state) is None
    player.press()
    assert next_due_ms(player.plan, player.state) == FIRST_MS
    player.to(FIRST_MS)
    assert next_due_ms(player.plan, player.state) == FIRST_MS + 700
    player.to(FIRST_MS + 700)
    assert next_due_ms(player.plan, player.state) == FIRST_MS + 1000


def test_what_is_due_is_due_once() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(30)
    assert due(player.plan, player.state, player.at_ms) == ()


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.kind)
def test_the_record_gives_back_what_the_screen_showed(plan: BoutPlan) -> None:
    player = Player(plan)
    player.start()
    player.wait(17.3)
    player.press()
    player.wait(2)
    kept = [event_from(event.seq, str(event.kind), event.at_ms, dict(event.data)) for event in player.events]
    assert replay(plan, kept) == player.state
    assert fold(plan, kept, player.at_ms) == player.view


def test_an_unknown_kind_of_event_is_refused_with_a_sentence() -> None:
    with pytest.raises(ValueError, match="'waltz', which this version does not know"):
        event_from(1, "waltz", 0, {})


def test_numbers_of_events_rise_by_one() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(100)
    assert [event.seq for event in player.events] == list(range(1, len(player.events) + 1))


def test_a_loss_pressed_after_a_cap_that_was_not_looked_for_is_the_cap() -> None:
    late = [Event(1, Kind.SET_STARTED, 0), Event(2, Kind.BEGAN, 3000), Event(3, Kind.LOST, 60_000)]
    result = replay(STANCE, late).done[0]
    assert (result.seconds, result.cap_reached, result.lost) == (45.0, True, False)


def test_a_rep_beyond_the_last_is_never_shown() -> None:
    reps = [Event(3 + n, Kind.PACED_REP, 3000 + REP_MS * n) for n in range(1, 11)]
    events = [Event(1, Kind.SET_STARTED, 0), Event(2, Kind.BEGAN, 3000), *reps]
    assert fold(GLIDES, events, 83_000).rep == 10


def test_an_event_that_does_not_fit_is_not_offered_for_undo() -> None:
    player = Player(HOLD)
    player.start()
    player.wait(31)
    player.take(Event(player.state.seq + 1, Kind.FAULT, player.at_ms))
    assert (player.view.done[0].faults, player.view.undo) == (0, "start")
