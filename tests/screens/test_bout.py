from __future__ import annotations

from pathlib import Path

import pytest

from tests.care.bouts import ward
from tests.screens.timing_room import Timed, timed
from tui.screens.bout import BoutScreen
from tui.widgets.big_word import BigWord
from tui.widgets.keyed_screen import unmet
from tui.widgets.look import Role
from tui.widgets.phase_bar import PhaseBar


def mode(at: Timed) -> str:
    return at.view.mode.value


def test_every_key_of_the_timer_does_something() -> None:
    assert unmet(BoutScreen) == []


# before the start


async def test_before_the_start_stand_side_dose_set_up_and_cautions(tmp_path: Path) -> None:
    async with timed(tmp_path, size=(120, 50)) as at:
        assert at.side == "RIGHT"
        assert "▶ injured" in at.text
        assert "3 sets   10 reps   lunge 2 s › hold 2 s › back 2 s   rest 60 s   right" in at.text
        assert "Injured foot on a bench or chair" in at.text
        assert "Suspected fracture: do not treat. Image first." in at.text
        assert "not asked yet: anticoagulants, loss of feeling, hypermobility" in at.text
        assert at.pedal == "start"
        assert at.rows == [], "nothing is kept before the start"


async def test_what_this_person_puts_in_force_stands_first_and_bright(tmp_path: Path) -> None:
    async with timed(tmp_path, anticoagulant=True, loss_of_feeling=False, hypermobility=False) as at:
        lines = at.text.splitlines()
        row = next(n for n, line in enumerate(lines) if "! On anticoagulants: ask first" in line)
        assert row < next(n for n, line in enumerate(lines) if "suspected fracture" in line)
        assert "not asked yet" not in at.text


async def test_what_was_stopped_for_pain_last_time_is_read_before_it_starts_again(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.start(live)
    at.go(live, 20)
    live.pain(3)
    live.end()
    async with timed(tmp_path, at=at) as now:
        assert "! last time, 25 Nov: stopped, pain 3" in now.text


async def test_all_that_is_read_before_can_be_reached_by_key(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        assert "common practice" not in at.text
        await at.press(*["pagedown"] * 5)
        assert "three sets of ten and a minute" in at.text
        await at.press(*["pageup"] * 5)
        assert "3 sets" in at.text


async def test_arrows_change_the_dose_before_the_start(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.press("up")
        assert "Choose with ← → what to change." in at.text
        await at.press("right", "down", "right", "up", "right", "up")
        assert "2 sets   11 reps   ▸lunge 2.5 s" in at.text
        await at.start()
        assert (at.view.sets, at.view.reps) == (2, 11)
        assert at.view.times.phases[0].seconds == 2.5


async def test_a_test_with_another_dose_says_that_it_makes_no_reading(tmp_path: Path) -> None:
    async with timed(tmp_path, "stance_open_test") as at:
        assert "not the test's own protocol" not in at.text
        await at.press("right", "down")
        assert "not the test's own protocol: it will be training, and no reading" in at.text


async def test_going_back_before_the_start_leaves_nothing(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.press("escape")
        assert not isinstance(at.app.screen, BoutScreen)
        assert at.rows == []


async def test_a_pedal_still_held_from_the_screen_before_starts_nothing(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        for _ in range(5):
            at.at.clock.move(0.2)
            await at.press("space")
        assert mode(at) == "ready"
        at.at.clock.move(0.7)
        await at.press("space")
        assert mode(at) == "countdown"


async def test_a_held_pedal_starts_once_and_does_not_stop_it_again(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.go(1)
        await at.press("space")
        for _ in range(10):
            at.at.clock.move(0.04)
            await at.press("space")
        assert mode(at) == "countdown"
        assert at.kinds == ["set_started"]


# it runs by itself


async def test_paced_reps_run_by_themselves_and_each_phase_looks_different(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.go(1)
        await at.press("space")
        assert at.giant == "3"
        await at.go(1)
        assert at.giant == "2"
        seen = []
        await at.go(2)
        for _ in range(3):
            giant, bar = at.screen.query_one("#giant", BigWord), at.screen.query_one(PhaseBar).bar
            seen.append((giant.text, giant.role, bar.at))
            await at.go(2)
        assert [word for word, _, _ in seen] == ["LUNGE", "HOLD", "BACK"]
        assert len({role for _, role, _ in seen}) == 3
        assert [place for _, _, place in seen] == [0, 1, 2]
        assert "rep 2 of 10    set 1 of 3" in at.text
        assert "lunge 2 s › hold 2 s › back 2 s" in at.text
        assert "heel down · belt square to the shin · pain: change the glide" in at.text


async def test_the_cues_ring_at_the_starts_of_phases_and_in_the_last_three_seconds(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(6)
        start = at.app.rings[0]
        assert [round(ring - start, 3) for ring in at.app.rings] == [0, 1, 2, 3, 5, 7, 9]
        await at.press("b")
        assert "The bell is off." in at.text
        await at.go(6)
        assert len(at.app.rings) == 7
        await at.press("b")
        await at.go(2)
        assert len(at.app.rings) == 8


async def test_a_rest_counts_on_past_zero_and_waits(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(60)
        assert at.giant == "REST"
        await at.go(18)
        assert at.seconds == "42"
        assert "rest 42 s, then set 2 of 3" in at.text
        assert at.pedal == "start the next set"
        await at.go(54)
        assert at.giant == "REST"
        assert at.seconds == "+12"
        assert "over by 12 s, space starts set 2" in at.text
        await at.go(300, step=2)
        assert at.seconds == "+312"
        await at.press("space")
        assert mode(at) == "countdown"
        assert at.view.set_n == 2


async def test_what_the_last_sets_were(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(60)
        await at.press("0")
        await at.start(7)
        assert "set 1 10 paced, pain 0    set 2 now    set 3 ·    rest 60 s, then waits" in at.text


@pytest.mark.parametrize(("ran", "shown"), [(29.96, "29"), (30.01, "30")])
async def test_a_second_of_a_hold_is_shown_once_it_has_passed(tmp_path: Path, ran: float, shown: str) -> None:
    async with timed(tmp_path, "stance_open_test") as at:
        await at.start(ran)
        assert at.giant == shown
        assert "of at most 45" in at.text


async def test_both_sides_in_order_the_uninjured_first_left_on_the_left(tmp_path: Path) -> None:
    async with timed(tmp_path, "hold_firm") as at:
        assert "left then right" in at.text
        sides = []
        for _ in range(6):
            await at.start(15)
            sides.append(at.side)
            await at.go(16)
        assert sides == ["LEFT"] * 3 + ["RIGHT"] * 3
        assert mode(at) == "done"
        assert "faults   left  0  0  0   right  0  0  0" in at.text


async def test_where_the_feet_change_the_rest_says_which_is_next(tmp_path: Path) -> None:
    async with timed(tmp_path, "hold_firm") as at:
        for _ in range(3):
            await at.start(31)
        assert at.side == "RIGHT"
        assert "next" in at.text.splitlines()[3]
        assert "then right, set 1 of 3" in at.text


async def test_shifts_show_one_giant_direction_and_the_seconds_left(tmp_path: Path) -> None:
    async with timed(tmp_path, "direction_shifts") as at:
        await at.start()
        assert at.giant in ("FORWARD", "IN", "BACK", "OUT")
        assert at.seconds == "5"
        await at.go(1)
        assert at.seconds == "4"
        assert "shift 1 of 12    set 1 of 1" in at.text
        await at.press("space")
        assert "control lost" in at.text
        assert at.screen.query_one("#giant", BigWord).role is Role.LOSS
        assert at.pedal == "nothing now"
        await at.go(4)
        assert at.pedal == "lost control"


# the pedal


async def test_the_pedal_in_every_state_and_what_it_says(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        assert at.pedal == "start"
        await at.go(1)
        await at.press("space")
        assert at.pedal == "stop"
        await at.go(5)
        assert at.pedal == "stop"
        await at.press("space")
        assert (mode(at), at.giant, at.pedal) == ("paused", "PAUSED", "go on")
        assert "Stopped. Press again to go on." in at.text
        await at.go(1)
        await at.press("space")
        assert (mode(at), at.pedal) == ("working", "stop")
        await at.go(60)
        assert (mode(at), at.pedal) == ("rest", "start the next set")


@pytest.mark.parametrize(
    ("activity", "says", "kind"),
    [
        ("stance_open_test", "lost it", "lost"),
        ("hold_firm", "one fault", "fault"),
        ("direction_shifts", "lost control", "lost_control"),
        ("heel_raises", "count one", "counted_rep"),
        ("mobilisation_belt", "stop", "stopped"),
    ],
)
async def test_what_the_pedal_means_at_work(tmp_path: Path, activity: str, says: str, kind: str) -> None:
    async with timed(tmp_path, activity) as at:
        await at.start(2.5)
        assert at.pedal == says
        await at.press("space")
        assert at.kinds[-1] == kind


async def test_a_lost_hold_is_a_time_to_a_tenth_and_the_rest_begins(tmp_path: Path) -> None:
    async with timed(tmp_path, "stance_open_test") as at:
        await at.start(12.56)
        await at.press("space")
        assert mode(at) == "rest"
        assert "left  12.5" in at.text


async def test_counted_reps_end_by_enter_where_no_number_is_set(tmp_path: Path) -> None:
    async with timed(tmp_path, "heel_raise_test") as at:
        await at.start()
        for _ in range(3):
            await at.go(2)
            await at.press("space")
        assert at.giant == "3"
        assert "end trial" in at.text
        await at.press("enter")
        assert mode(at) == "rest"
        assert at.view.done[0].reps == 3


async def test_enter_where_there_is_nothing_to_save_says_what_the_key_is(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.press("enter")
        assert "Space is the key now: start." in at.text


# what is asked


async def test_pain_after_a_set_is_asked_and_answered_and_replaced(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(61)
        assert "pain 0-9, * is ten" in at.text
        await at.press("asterisk")
        assert "pain 10 after set 1 right" in at.text
        assert "pain 0-9, * is ten" not in at.text
        await at.press("0")
        assert at.view.done[0].pain == 0


async def test_pain_of_one_asks_for_another_glide_and_again_to_stop(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(61)
        await at.press("1")
        assert "! change the glide" in at.text
        await at.start(61)
        await at.press("2")
        assert "! stop this technique" in at.text
        await at.press("u")
        assert "stop this technique" not in at.text


async def test_pain_in_a_set_belongs_to_that_set(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(5)
        await at.press("3")
        assert "pain 3 in set 1" in at.text
        assert "! change the glide" in at.text


async def test_control_is_asked_after_a_hold_and_figures_answer_it(tmp_path: Path) -> None:
    async with timed(tmp_path, "hold_firm") as at:
        await at.start(31)
        assert "control 0-3: 0 lost at once, 1 large corrections, 2 small, 3 steady" in at.text
        await at.press("7")
        assert "Control is graded 0 lost at once" in at.text
        await at.press("2")
        assert at.view.done[0].control == 2
        assert "control 2" in at.text
        await at.press("4")
        assert at.view.done[0].pain == 4, "nothing is asked any more: it is pain"


async def test_a_wrong_figure_after_a_hold_is_taken_back_and_asked_again(tmp_path: Path) -> None:
    async with timed(tmp_path, "hold_firm") as at:
        await at.start(31)
        await at.press("1")
        assert "control 1 after set 1 left" in at.text
        assert "u undo" in at.text, "the screen says how a wrong figure is mended"
        await at.press("u")
        assert "took back control 1" in at.text
        assert at.view.done[0].control is None
        assert "control 0-3: 0 lost at once" in at.text
        await at.press("3")
        assert at.view.done[0].control == 3


async def test_a_figure_before_the_start_says_why_not(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.press("3")
        assert "It has not started yet: space starts it." in at.text
