"""The kinds of bout beside reps and holds: oscillations, walk-run intervals, reaches, hops, timed work."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from store.bout import keys
from store.bout.cues import Tone, cue_of, cues_between
from store.bout.events import Kind
from store.bout.plan import BoutPlan
from store.bout.result import Dose, outcome
from store.bout.state import Interval, Mode
from store.knowledge.kinds import Phase
from store.knowledge.words import Side
from tests.bout.player import FIRST_MS, HOLD, HOPS, OSCILLATIONS, REACHES, TIMED, WALK_RUN, Player


def started(plan: BoutPlan) -> Player:
    player = Player(plan)
    player.start()
    return player


# oscillations


def test_oscillations_have_a_tone_each_at_their_rate_and_lateness_never_adds_up() -> None:
    player = started(replace(OSCILLATIONS, rate=3))
    begun = player.at_ms
    cues = cues_between(player.plan, player.state, begun, begun + 120_000)
    assert cues[0].tone is Tone.RISING
    assert cues[0].say == "glide"
    assert {cue.tone for cue in cues[1:]} == {Tone.LEVEL}
    assert len(cues) == 3 * 120
    assert [cue.at_ms - begun for cue in cues] == [round(n * 1000 / 3) for n in range(360)]
    assert [cue.say for cue in cues if cue.say][1:3] == ["10", "20"]


def test_after_a_pause_the_tones_go_on_in_the_same_beat() -> None:
    player = started(OSCILLATIONS)
    player.wait(10.2)
    assert player.press() is Kind.STOPPED
    player.wait(60)
    assert player.press() is Kind.WENT_ON
    went_on = player.at_ms
    cues = cues_between(player.plan, player.state, went_on, went_on + 2000)
    assert [cue.at_ms - went_on for cue in cues] == [300, 800, 1300, 1800]


def test_two_sets_of_two_minutes_at_two_a_second_are_480_oscillations() -> None:
    player = started(OSCILLATIONS)
    player.wait(120)
    assert player.view.mode is Mode.REST
    player.wait(60)
    player.start()
    player.wait(120)
    assert player.kinds()[-1] is Kind.HOLD_DONE
    came_of = outcome(player.plan, player.state)
    assert came_of.done == came_of.planned == Dose(sets=2, reps=480, holds=0, seconds=240.0)


def test_the_time_of_a_set_can_be_changed_while_it_runs() -> None:
    player = started(OSCILLATIONS)
    player.wait(30)
    assert player.key(keys.set_times, hold_s=60) == ""
    assert player.view.left_s == 30
    player.wait(30)
    assert player.state.mode is Mode.REST
    assert player.state.done[0].complete


# walk-run


def test_intervals_go_by_the_clock_and_say_their_word() -> None:
    player = started(WALK_RUN)
    assert (player.view.word, player.view.left_s, player.view.shift_n, player.view.shifts) == ("WALK", 120, 1, 4)
    player.wait(121)
    assert (player.view.word, player.view.left_s, player.view.shift_n) == ("RUN", 59, 2)
    assert player.view.pedal == "skip to walk"
    player.wait(59 + 120 + 59)
    assert player.view.pedal == "end the last interval"
    player.wait(1)
    assert player.state.mode is Mode.DONE
    assert [(each.word, each.worked_ms) for each in player.state.done[0].intervals] == [
        ("WALK", 120_000), ("RUN", 60_000), ("WALK", 120_000), ("RUN", 60_000),
    ]  # fmt: skip
    assert player.state.done[0].complete


def test_the_one_key_skips_to_the_next_interval_and_what_was_done_is_kept() -> None:
    player = started(WALK_RUN)
    player.wait(40)
    assert player.press() is Kind.SKIPPED
    assert (player.view.word, player.view.left_s) == ("RUN", 60)
    player.wait(60)
    assert player.view.word == "WALK"
    player.key(keys.end)
    done = player.state.done[0]
    assert done.intervals[:2] == (Interval("WALK", 40_000, skipped=True), Interval("RUN", 60_000))
    assert not done.complete


def test_a_held_key_skips_once() -> None:
    player = started(WALK_RUN)
    player.wait(40)
    player.press()
    for _ in range(20):
        player.wait(0.1)
        assert player.press() is None
    assert player.view.word == "RUN"


@pytest.mark.parametrize("later_s", [0, 5, 70])
def test_a_skip_that_is_undone_leaves_the_interval_as_long_as_it_was_planned(later_s: int) -> None:
    player = started(WALK_RUN)
    player.wait(40)
    player.press()
    player.wait(later_s)
    assert player.view.undo == "skip"
    player.key(keys.undo)
    player.to(FIRST_MS + 1000 + 120_000 + 500)  # a second before the press, then the countdown
    assert player.state.current is not None
    interval = player.state.current.intervals[0]
    assert interval == Interval("WALK", 120_000)
    assert player.view.word == "RUN"


def test_the_last_part_of_a_cut_interval_counts_as_time() -> None:
    player = started(WALK_RUN)
    player.wait(130)
    player.key(keys.end_set)
    assert player.state.done[0].intervals[-1] == Interval("RUN", 10_000, skipped=True)
    assert player.state.done[0].seconds == 130


def test_changed_times_hold_from_the_next_interval_on() -> None:
    player = started(WALK_RUN)
    player.wait(10)
    player.key(keys.set_times, phases=(Phase("WALK", 30), Phase("RUN", 90)))
    assert player.view.left_s == 110
    player.wait(110)
    assert (player.view.word, player.view.left_s) == ("RUN", 90)


def test_the_start_of_each_interval_is_said() -> None:
    player = started(WALK_RUN)
    begun = player.at_ms
    said = [
        cue
        for cue in cues_between(player.plan, player.state, begun, begun + 181_000)
        if cue.say in ("walk", "run")
    ]
    assert [(cue.at_ms - begun, cue.say) for cue in said] == [(0, "walk"), (120_000, "run"), (180_000, "walk")]


# reaches


def test_reaches_go_round_the_directions_in_order_one_a_press() -> None:
    player = started(REACHES)
    named = []
    while player.state.mode is Mode.WORKING:
        named.append(player.view.direction)
        player.wait(2)
        assert player.press() is Kind.COUNTED_REP
    assert named == ["front", "back in", "back out"] * 2
    assert player.state.done[0].reps == player.plan.target == 6
    assert player.state.done[0].complete


def test_a_press_says_the_next_direction() -> None:
    player = started(REACHES)
    player.wait(2)
    player.press()
    cue = cue_of(player.plan, player.state, player.events[-1])
    assert cue is not None
    assert cue.say == "back in"
    assert player.view.undo == "reach 1"


def test_between_the_sides_the_sides_change() -> None:
    player = started(REACHES)
    for _ in range(6):
        player.wait(2)
        player.press()
    assert (player.view.word, player.view.changes, player.view.side) == ("CHANGE SIDES", True, Side.RIGHT)
    hold = started(HOLD)
    hold.wait(30)
    assert (hold.view.word, hold.view.changes, hold.view.side) == ("REST", False, Side.LEFT)
    cues = cues_between(player.plan, player.state, player.at_ms, player.at_ms + 1)
    assert [(cue.tone, cue.say) for cue in cues] == [(Tone.END, "change sides")]


# hop and hold


def test_faults_are_counted_by_hop() -> None:
    player = started(HOPS)
    player.wait(3)
    assert player.press() is Kind.FAULT
    player.wait(1)
    assert player.press() is Kind.FAULT
    player.wait(7)
    player.wait(20)
    done = player.state.done[0]
    assert (done.reps, done.faults, done.clean, done.paced) == (3, 2, 2, True)
    assert player.view.faults == 0


def test_an_undone_fault_leaves_the_hop_clean() -> None:
    player = started(HOPS)
    player.wait(3)
    player.press()
    player.key(keys.undo)
    player.wait(30)
    assert (player.state.done[0].faults, player.state.done[0].clean) == (0, 3)


# timed work


def test_timed_work_lasts_its_time_and_the_pedal_stops_it() -> None:
    player = started(TIMED)
    player.wait(50)
    assert player.press() is Kind.STOPPED
    player.wait(600)
    player.press()
    assert (player.view.word, player.view.left_s) == ("WALK", 100)
    player.wait(100)
    assert player.state.mode is Mode.DONE
    assert player.state.done[0].seconds == 150


def test_each_minute_of_timed_work_is_told() -> None:
    player = started(TIMED)
    begun = player.at_ms
    cues = cues_between(player.plan, player.state, begun, begun + 150_000)
    assert [cue.say for cue in cues] == ["walk", "1 min", "2 min", "3", "2", "1"]
    assert all(one.at_ms < two.at_ms for one, two in pairwise(cues))


# plans


@pytest.mark.parametrize(
    ("plan", "changed", "says"),
    [
        (OSCILLATIONS, {"rate": 0}, "it needs a rate, at most 5 a second"),
        (OSCILLATIONS, {"rate": 50}, "it needs a rate, at most 5 a second"),
        (OSCILLATIONS, {"hold_s": 0}, "it needs the seconds of a set"),
        (WALK_RUN, {"phases": ()}, "it needs intervals"),
        (WALK_RUN, {"sets": 2}, "in one go"),
        (REACHES, {"directions": ()}, "it needs directions, and at least one reach in each"),
        (HOPS, {"reps": 0}, "it needs at least one rep"),
        (TIMED, {"hold_s": 0}, "it needs the seconds of a set"),
    ],
)
def test_a_plan_that_cannot_run_says_why(plan: BoutPlan, changed: dict[str, object], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        BoutPlan.from_data(plan.as_data() | changed)


@pytest.mark.parametrize("plan", [OSCILLATIONS, WALK_RUN, REACHES, HOPS, TIMED], ids=lambda plan: plan.activity)
def test_a_plan_is_read_back_from_its_data(plan: BoutPlan) -> None:
    assert BoutPlan.from_data(plan.as_data()) == plan


def test_a_plan_that_an_earlier_version_kept_is_still_read() -> None:
    kept = HOLD.as_data()
    del kept["rate"], kept["word"]
    assert BoutPlan.from_data(kept) == HOLD
