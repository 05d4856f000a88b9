"""What is heard and when: tones, spoken words, and instants that never drift."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.bout import keys
from store.bout.cues import Cue, Tone, cue_of, cues_between, next_cue
from store.bout.plan import BoutPlan
from store.bout.state import opening
from store.knowledge.kinds import Phase
from tests.bout.player import FIRST_MS, GLIDES, HOLD, PLANS, RAISES, SHIFTS, STANCE, Player


def started(plan: BoutPlan) -> Player:
    player = Player(plan)
    player.press()
    return player


def test_a_countdown_ticks_three_two_one_and_each_phase_has_its_tone() -> None:
    player = started(GLIDES)
    assert cues_between(player.plan, player.state, 0, FIRST_MS + 16_000) == (
        Cue(0, Tone.TICK, "3"),
        Cue(1000, Tone.TICK, "2"),
        Cue(2000, Tone.TICK, "1"),
        Cue(3000, Tone.RISING, "1"),
        Cue(6000, Tone.LEVEL, "hold"),
        Cue(8000, Tone.FALLING, "back"),
        Cue(11000, Tone.RISING, "2"),
        Cue(14000, Tone.LEVEL, "hold"),
        Cue(16000, Tone.FALLING, "back"),
    )


def test_the_last_rep_is_followed_by_the_end_and_the_end_of_the_rest_is_heard() -> None:
    player = started(GLIDES)
    end = FIRST_MS + 80_000
    heard = cues_between(player.plan, player.state, end - 3000, end + 300_000)
    assert heard == (
        Cue(end - 3000, Tone.FALLING, "back"),
        Cue(end, Tone.END, "rest"),
        Cue(end + 57_000, Tone.TICK, "3"),
        Cue(end + 58_000, Tone.TICK, "2"),
        Cue(end + 59_000, Tone.TICK, "1"),
        Cue(end + 60_000, Tone.LEVEL, "ready"),
    )


def test_with_sets_that_start_by_themselves_the_countdown_takes_the_place_of_ready() -> None:
    player = started(replace(GLIDES, auto_next=True, rest_s=10))
    end = FIRST_MS + 80_000
    heard = cues_between(player.plan, player.state, end + 9_500, end + 13_500)
    assert heard == (
        Cue(end + 10_000, Tone.TICK, "3"),
        Cue(end + 11_000, Tone.TICK, "2"),
        Cue(end + 12_000, Tone.TICK, "1"),
        Cue(end + 13_000, Tone.RISING, "1"),
    )


def test_no_cue_drifts_however_odd_the_phases_are() -> None:
    odd = (Phase("UP", 0.333), Phase("DOWN", 0.377))
    player = started(replace(GLIDES, reps=1000, phases=odd))
    heard = cues_between(player.plan, player.state, FIRST_MS, FIRST_MS + 710_000)
    assert [cue.at_ms for cue in heard[::2]] == [FIRST_MS + 710 * n for n in range(1000)]
    assert [cue.say for cue in heard[::2]] == [str(n) for n in range(1, 1001)]


def test_a_direction_is_spoken_as_it_begins() -> None:
    player = started(SHIFTS)
    assert cues_between(player.plan, player.state, FIRST_MS, 60_000) == (
        Cue(3000, Tone.LEVEL, "forward"),
        Cue(8000, Tone.LEVEL, "in"),
        Cue(13000, Tone.LEVEL, "back"),
        Cue(18000, Tone.LEVEL, "out"),
        Cue(23000, Tone.END, "done"),
    )


def test_a_hold_of_fixed_time_tells_the_seconds_left_at_each_ten_at_five_and_the_last_three() -> None:
    player = started(HOLD)
    assert cues_between(player.plan, player.state, FIRST_MS, FIRST_MS + 30_001) == (
        Cue(3000, Tone.RISING, "hold"),
        Cue(13000, Tone.TICK, "20"),
        Cue(23000, Tone.TICK, "10"),
        Cue(28000, Tone.TICK, "5"),
        Cue(30000, Tone.TICK, "3"),
        Cue(31000, Tone.TICK, "2"),
        Cue(32000, Tone.TICK, "1"),
        Cue(33000, Tone.END, "rest"),
    )


def test_a_test_to_loss_is_not_helped_along() -> None:
    player = started(STANCE)
    assert cues_between(player.plan, player.state, FIRST_MS, FIRST_MS + 45_001) == (
        Cue(3000, Tone.RISING, "hold"),
        Cue(48000, Tone.END, "rest"),
    )


def test_counted_reps_have_a_metronome_and_the_count_is_spoken_at_the_press() -> None:
    player = started(RAISES)
    assert cues_between(player.plan, player.state, FIRST_MS, 7000) == (
        Cue(3000, Tone.RISING),
        Cue(4000, Tone.FALLING),
        Cue(5000, Tone.RISING),
        Cue(6000, Tone.FALLING),
    )
    player.to(5200)
    player.press()
    assert cue_of(player.plan, player.state, player.events[-1]) == Cue(5200, Tone.TICK, "1")


def test_counted_reps_without_a_pace_hear_only_their_start() -> None:
    player = started(replace(RAISES, phases=()))
    assert cues_between(player.plan, player.state, FIRST_MS, 600_000) == (Cue(3000, Tone.RISING, "go"),)


def test_a_press_is_heard_to_have_been_taken() -> None:
    player = started(HOLD)
    player.wait(5)
    player.press()
    assert cue_of(player.plan, player.state, player.events[-1]) == Cue(5000, Tone.TICK)
    player.wait(1)
    player.key(keys.pause_or_resume)
    assert cue_of(player.plan, player.state, player.events[-1]) == Cue(6000, Tone.FALLING, "paused")
    player.key(keys.pause_or_resume)
    assert cue_of(player.plan, player.state, player.events[-1]) is None
    assert next_cue(player.plan, player.state, 6000) == Cue(6000, Tone.TICK, "3"), "the countdown is heard at once"
    player.wait(3)
    assert next_cue(player.plan, player.state, 9000) == Cue(9000, Tone.RISING, "hold")
    assert next_cue(player.plan, player.state, 9001) == Cue(16_000, Tone.TICK, "20")
    player.key(keys.end)
    assert cue_of(player.plan, player.state, player.events[-1]) is None


def test_nothing_is_heard_while_nothing_runs() -> None:
    assert next_cue(GLIDES, opening(GLIDES), 0) is None
    player = started(GLIDES)
    player.wait(10)
    player.key(keys.pause_or_resume)
    assert next_cue(player.plan, player.state, 0) is None
    player.key(keys.end)
    assert next_cue(player.plan, player.state, 0) is None


def test_after_a_pause_the_cues_go_on_with_what_is_left_of_the_phase() -> None:
    player = started(GLIDES)
    player.to(FIRST_MS + 4000)
    player.press()
    player.wait(100)
    player.press()
    assert next_cue(player.plan, player.state, player.at_ms) == Cue(player.at_ms + 1000, Tone.FALLING, "back")


def test_without_a_rest_the_end_is_still_heard() -> None:
    player = started(replace(GLIDES, rest_s=0))
    end = FIRST_MS + 80_000
    assert cues_between(player.plan, player.state, end - 1, end + 9000) == (Cue(end, Tone.END, "rest"),)


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.kind)
@pytest.mark.parametrize("slice_ms", [97, 1000, 3333])
def test_cues_taken_slice_by_slice_are_those_taken_at_once(plan: BoutPlan, slice_ms: int) -> None:
    player = started(plan)
    whole = cues_between(plan, player.state, 0, 30 * 3333)
    heard: list[Cue] = []
    while player.at_ms < 30 * 3333:
        until = min(player.at_ms + slice_ms, 30 * 3333)
        heard += cues_between(plan, player.state, player.at_ms, until)
        player.to(until)
    assert tuple(heard) == whole


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.kind)
def test_the_next_cue_is_the_first_of_those_to_come(plan: BoutPlan) -> None:
    player = started(plan)
    at_ms = 0
    walked: list[Cue] = []
    while (cue := next_cue(plan, player.state, at_ms)) is not None and cue.at_ms < 60_000:
        walked.append(cue)
        at_ms = cue.at_ms + 1
    assert tuple(walked) == cues_between(plan, player.state, 0, 60_000)
