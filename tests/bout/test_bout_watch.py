"""A machine that slept, a program that was killed: the bout stands paused where it was, to the second."""

from __future__ import annotations

import pytest

from store.bout import keys
from store.bout.events import Event, Kind
from store.bout.fold import replay
from store.bout.plan import BoutPlan
from store.bout.state import Mode
from store.bout.view import fold, look
from store.bout.watch import gap_noticed, reopened
from tests.bout.player import GLIDES, PLANS, RAISES, STANCE, Player


@pytest.mark.parametrize(("ran_ms", "wall_ms"), [(12_000, 12_000), (40, 12_000), (12_000, 40), (5001, 5001)])
def test_a_gap_on_either_clock_pauses_where_it_was_and_counts_nothing(ran_ms: int, wall_ms: int) -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 2 + 4)
    event = gap_noticed(player.state, player.at_ms, ran_ms=ran_ms, wall_ms=wall_ms)
    assert event is not None
    player.take(event)
    player.to(player.at_ms + ran_ms)
    assert (player.view.mode, player.view.word, player.view.reps_done) == (Mode.PAUSED, "HOLD", 2)
    seconds = max(ran_ms, wall_ms) // 1000
    assert player.view.sentence == (
        f"The computer stood still for {seconds} s, so the bout is paused where it was. Press space to go on."
    )
    player.press()
    player.wait(4)
    assert player.view.reps_done == 3


@pytest.mark.parametrize(("ran_ms", "wall_ms"), [(40, 40), (5000, 5000), (1000, -3_600_000)])
def test_a_heartbeat_in_time_or_a_wall_clock_set_back_is_no_gap(ran_ms: int, wall_ms: int) -> None:
    player = Player(GLIDES)
    player.start()
    assert gap_noticed(player.state, player.at_ms, ran_ms=ran_ms, wall_ms=wall_ms) is None


def test_nothing_is_paused_where_nothing_runs() -> None:
    player = Player(GLIDES)
    assert gap_noticed(player.state, 0, ran_ms=99_000, wall_ms=99_000) is None
    player.start()
    player.press()
    player.wait(1)
    player.press()
    player.key(keys.pause_or_resume)
    assert gap_noticed(player.state, player.at_ms, ran_ms=99_000, wall_ms=99_000) is None


def test_a_rest_pauses_too_and_goes_on_from_where_it_was() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(80 + 20)
    event = gap_noticed(player.state, player.at_ms, ran_ms=600_000, wall_ms=600_000)
    assert event is not None
    player.take(event)
    player.wait(600)
    player.press()
    player.wait(1)
    assert (player.view.mode, player.view.seconds) == (Mode.REST, 21)


def test_a_gap_in_a_trial_of_time_to_loss_voids_the_trial() -> None:
    player = Player(STANCE)
    player.start()
    player.wait(20)
    event = gap_noticed(player.state, player.at_ms, ran_ms=9_000, wall_ms=9_000)
    assert event is not None
    player.take(event)
    player.wait(9)
    player.press()
    player.wait(3 + 4)
    player.press()
    assert [result.seconds for result in player.view.done] == [4.0]


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.kind)
@pytest.mark.parametrize("killed_after", [1.2, 7.9, 22.4, 37.75])
def test_after_a_kill_the_bout_opens_paused_where_it_was(plan: BoutPlan, killed_after: float) -> None:
    player = Player(plan)
    player.press()
    player.wait(killed_after)
    shown = player.view
    event = reopened(plan, player.events)
    if not player.state.running:
        assert event is None
        return
    assert event is not None
    after = fold(plan, [*player.events, event], event.at_ms + 86_400_000)
    assert after.mode is Mode.PAUSED
    assert after.sentence.startswith("The program stopped in the middle of this bout.")
    assert (after.doing, after.set_n, after.reps_done, after.done) == (
        shown.mode,
        shown.set_n,
        shown.reps_done,
        shown.done,
    )
    if shown.mode is not Mode.COUNTDOWN:
        assert after.seconds == shown.seconds
    assert (after.word, after.direction, after.shift_n) == (shown.word, shown.direction, shown.shift_n)


def test_the_clock_goes_on_from_the_last_instant_known() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(8 * 4 + 5.6)
    event = reopened(player.plan, player.events)
    assert event is not None
    assert event.at_ms == replay(player.plan, player.events).known_ms == player.at_ms - 600
    state = replay(player.plan, [*player.events, event])
    resumed = Event(event.seq + 1, Kind.RESUME, event.at_ms + 50)
    again = replay(player.plan, [*player.events, event, resumed])
    assert look(player.plan, state, 0).word == look(player.plan, again, resumed.at_ms).word == "BACK"
    assert look(player.plan, again, resumed.at_ms + 2999).left_s == 1


def test_a_bout_left_paused_or_never_begun_needs_no_event_to_open_again() -> None:
    player = Player(GLIDES)
    assert reopened(player.plan, player.events) is None
    player.start()
    player.wait(9)
    player.key(keys.leave)
    assert reopened(player.plan, player.events) is None
    assert player.view.sentence.startswith("This bout was kept paused.")


def test_a_bout_killed_with_all_done_opens_with_its_question() -> None:
    player = Player(GLIDES)
    for _ in range(3):
        player.start()
        player.wait(80)
    assert reopened(player.plan, player.events) is None
    assert player.view.mode is Mode.DONE
    assert player.view.questions
    assert not player.view.ended


def test_counted_reps_survive_a_kill() -> None:
    player = Player(RAISES)
    player.start()
    for _ in range(7):
        player.wait(2)
        player.press()
    event = reopened(player.plan, player.events)
    assert event is not None
    assert fold(player.plan, [*player.events, event], 0).reps_done == 7
