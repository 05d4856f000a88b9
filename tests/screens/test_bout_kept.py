from __future__ import annotations

from pathlib import Path

import pytest

from store.care import timing
from store.care.timing import Mode
from store.record import bouts, readings
from store.record.faults import FaultKind, RecordFault
from tests.clock.desk import held_disk
from tests.helpers.fit import misfits, text_of
from tests.screens.timing_room import Timed, timed
from tui.screens.bout import BoutScreen
from tui.widgets.big_word import BigWord
from tui.widgets.control_cross import ControlCross


def mode(at: Timed) -> str:
    return at.view.mode.value


# keys in the bout


async def test_undo_says_what_it_takes_back(tmp_path: Path) -> None:
    async with timed(tmp_path, "heel_raises") as at:
        await at.start(1)
        await at.press("space")
        assert "undo rep 1" in at.text
        await at.press("u")
        assert "took back rep 1" in at.text
        assert at.view.reps_done == 0


async def test_p_pauses_and_goes_on_with_a_sentence(tmp_path: Path) -> None:
    async with timed(tmp_path, "hold_firm") as at:
        await at.start(10)
        await at.press("p")
        assert "Paused. Press space to go on." in at.text
        await at.go(30)
        await at.press("p")
        await at.go(1)
        assert at.giant == "2", "a foot is put up again first"
        assert "to the start" in at.text
        await at.go(2 + 1)
        assert at.giant == "11"


async def test_times_change_in_the_bout_from_the_next_rep_and_undo_takes_it_back(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(1)
        await at.press("right", "up")
        assert "▸lunge 2.5 s › hold 2 s" in at.text
        await at.press("left", "down")
        assert "▸rest 55 s" in at.text
        assert at.view.times.rest_ms == 55_000
        await at.press("u")
        assert at.view.times.rest_ms == 60_000


async def test_a_bout_done_shows_what_it_came_to_and_one_key_keeps_it(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        for _ in range(3):
            await at.start(61)
            if at.view.mode is not Mode.DONE:
                await at.press("0")
        assert at.giant == "DONE"
        assert "3 of 3 sets, 30 of 30 reps, 180 s under load" in at.text
        assert "pain 0-9, * is ten" in at.text
        assert at.pedal == "keep after pain"
        await at.press("space")
        assert "Pain first, 0-9 or * for ten; x keeps it without an answer." in at.text
        await at.press("0")
        await at.go(1)
        await at.press("space")
        assert not isinstance(at.app.screen, BoutScreen)
        assert "✓ saved mobilisation, belt: 3 sets, 30 reps, 180 s under load" in at.text
        assert at.rows[0].ended is not None


@pytest.mark.parametrize("key", ["x", "enter"])
async def test_x_and_enter_keep_it_too(tmp_path: Path, key: str) -> None:
    async with timed(tmp_path, "direction_shifts") as at:
        await at.start(61)
        await at.press(key)
        assert "✓ saved direction shifts: 1 set, 60 s under load" in at.text


async def test_the_press_that_was_meant_for_the_last_hold_does_not_end_the_bout(tmp_path: Path) -> None:
    async with timed(tmp_path, "direction_shifts") as at:
        await at.start(60.3)
        await at.press("space")
        assert mode(at) == "done"
        assert isinstance(at.app.screen, BoutScreen)


async def test_x_in_the_middle_keeps_what_was_done(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(25)
        await at.press("x")
        assert "✓ saved mobilisation, belt: 1 set, 4 reps, 25 s under load" in at.text


async def test_x_with_nothing_done_keeps_nothing_and_says_so(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.go(1)
        await at.press("space", "x")
        assert "nothing was done, nothing kept" in at.text
        assert at.rows == []


async def test_a_stance_to_its_protocol_becomes_readings_and_is_said_before(tmp_path: Path) -> None:
    async with timed(tmp_path, "stance_open_test") as at:
        for seconds in (46, 46, 46, 12.5, 15.2, 9.0):
            await at.start(seconds)
            if at.view.mode is Mode.WORKING:
                await at.press("space")
        assert "stance, eyes open right 15.2 s, best of 3: becomes a reading" in at.text
        await at.press("x")
        assert "under load; kept as a" in at.text
        kept = readings.readings_of_visit(at.at.care.record, at.at.visit.id)
        assert {(str(one.side), one.value, one.status.value) for one in kept} == {
            ("left", 45.0, "cap reached"), ("right", 15.2, "measured"),
        }  # fmt: skip


async def test_at_the_end_of_shifts_a_cross_shows_control_by_direction_for_both_feet(tmp_path: Path) -> None:
    async with timed(tmp_path, "direction_shifts") as at:
        await at.press("left", "up")
        assert "▸left then right" in at.text
        await at.start(2)
        lost = at.giant.lower()
        await at.press("space")
        await at.go(59)
        await at.start(61)
        feet = at.screen.query_one(ControlCross).feet
        assert [str(foot.side) for foot in feet] == ["left", "right"]
        assert feet[0].ways[lost].controlled == 2
        assert {way.controlled for way in feet[1].ways.values()} == {3}
        line = next(line for line in at.text.splitlines() if "left foot" in line)
        assert line.index("left foot") < line.index("right foot ▶ injured")
        assert "! 2 of 3" in at.text
        assert "✓ 3 of 3" in at.text
        assert at.seconds == "DONE"


async def test_the_foot_done_before_in_this_visit_stands_beside_the_one_done_now(tmp_path: Path) -> None:
    async with timed(tmp_path, "direction_shifts") as at:
        await at.press("left", "up", "up", "up")
        assert "▸left" in at.text
        assert "▸left then" not in at.text
        await at.start(61)
        await at.press("x")
        await at.open(visit=at.at.visit.id, activity="direction_shifts")
        await at.start(61)
        feet = at.screen.query_one(ControlCross).feet
        assert [(str(foot.side), foot.injured) for foot in feet] == [("left", False), ("right", True)]


async def test_enter_held_at_the_last_end_does_not_close_what_is_to_be_answered(tmp_path: Path) -> None:
    async with timed(tmp_path, "heel_raise_test") as at:
        for _ in range(2):
            await at.start(2)
            await at.press("space", "enter")
        assert mode(at) == "done"
        await at.press("enter", "enter")
        assert mode(at) == "done"
        await at.go(1)
        await at.press("enter")
        assert "saved heel raise test" in at.text


async def test_x_pressed_twice_ends_it_once(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(10)
        await at.pilot.press("x", "x")
        await at.settle()
        assert "✓ saved mobilisation, belt" in at.text
        assert at.kinds.count("end") == 1


async def test_an_end_that_cannot_be_kept_stays_and_can_be_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise RecordFault(FaultKind.FULL, "The disk is full: make room, then do this again.")

    async with timed(tmp_path, "direction_shifts") as at:
        await at.start(61)
        with monkeypatch.context() as broken:
            broken.setattr(bouts, "add_events", full)
            await at.press("x")
            assert "! The disk is full: make room, then do this again." in at.text
            assert mode(at) == "done"
        await at.press("x")
        assert "✓ saved direction shifts" in at.text


# leaving, kills, gaps


async def test_left_paused_it_comes_back_where_it_was(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(15)
        await at.press("escape")
        assert "kept paused: mobilisation, belt. Open it again to go on." in at.text
        at.at.clock.move(600)
        await at.open(visit=at.at.visit.id, activity="mobilisation_belt")
        assert at.giant == "PAUSED"
        assert "rep 3 of 10    set 1 of 3" in at.text
        assert "This bout was kept paused. Press space to go on." in at.text
        await at.go(1)
        await at.press("space")
        await at.go(3)
        assert at.view.reps_done == 3
        assert len(at.rows) == 1


async def test_dropped_without_a_word_it_opens_paused_by_its_id(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(15)
        at.app.pop_screen()
        await at.settle()
        assert at.kinds[-1] == "paced_rep"
        at.at.clock.move(7)  # sooner it might run in another window still
        await at.open(bout=at.rows[0].id)
        assert at.giant == "PAUSED"
        assert "The program stopped in the middle of this bout." in at.text
        assert at.view.reps_done == 2


async def test_a_sleep_pauses_it_and_says_for_how_long(tmp_path: Path) -> None:
    async with timed(tmp_path, "hold_firm") as at:
        await at.start(8)
        await at.go(61, step=61)
        assert at.giant == "PAUSED"
        assert "The computer stood still for 61 s, so the bout is paused where it was." in at.text
        assert "space to go on." in at.text
        assert at.view.seconds == 8


async def test_a_bout_that_ended_is_not_opened_and_says_so(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(10)
        await at.press("x")
        await at.open(bout=at.rows[0].id)
        assert not isinstance(at.app.screen, BoutScreen)
        assert "this bout has ended" in at.text


async def test_help_may_lie_on_top_while_it_runs(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(3)
        screen = at.screen
        await at.press("f1")
        assert not isinstance(at.app.screen, BoutScreen)
        at.at.clock.move(4)
        assert screen.driver is not None
        screen.driver.wake()
        await screen.settled()
        await at.press("escape")
        await at.settle()
        assert "rep 2 of 10" in at.text


# what is on disk


async def test_a_count_is_shown_only_once_it_is_on_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with timed(tmp_path, "heel_raises") as at:
        await at.start(1)
        await at.press("space")
        with held_disk(monkeypatch) as let_go:
            at.at.clock.move(1)
            await at.pilot.press("space")
            await at.pilot.pause()
            assert at.giant == "1"
            at.at.clock.move(1.5)
            at.screen.paint()
            await at.pilot.pause()
            assert "the disk is slow" in at.text
            let_go.set()
            await at.settle()
        assert at.giant == "2"
        assert "the disk is slow" not in at.text


async def test_a_full_disk_moves_no_count_and_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise RecordFault(FaultKind.FULL, "The disk is full: make room, then do this again.")

    async with timed(tmp_path, "heel_raises") as at:
        await at.start(1)
        await at.press("space")
        with monkeypatch.context() as broken:
            broken.setattr(bouts, "add_events", full)
            at.at.clock.move(1)
            await at.press("space")
            assert at.giant == "1"
            assert "! The disk is full: make room, then do this again." in at.text
            await at.press("escape")
            assert not isinstance(at.app.screen, BoutScreen), "there is a way out"
            assert "The disk is full" in text_of(at.app)
        at.at.clock.move(7)  # sooner it might run in another window still
        await at.open(bout=at.rows[0].id)
        assert at.view.reps_done == 1


async def test_a_fault_of_our_own_is_not_taken_for_a_wrong_key(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def wrong(*_: object) -> None:
        raise ZeroDivisionError

    async def meets_it() -> None:
        async with timed(tmp_path, "heel_raises") as at:
            await at.start(1)
            monkeypatch.setattr(bouts, "add_events", wrong)
            await at.press("space")

    with pytest.raises(ZeroDivisionError):
        await meets_it()


async def test_no_other_screen_takes_what_was_timed_for_another_windows_doing(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        at.at.care.changed_elsewhere()
        await at.start(10)
        await at.press("x")
        assert not at.at.care.changed_elsewhere()


# fit


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
@pytest.mark.parametrize(
    "activity", ["mobilisation_belt", "stance_open_test", "direction_shifts", "heel_raise_test"]
)
async def test_it_fits_in_every_state(tmp_path: Path, activity: str, size: tuple[int, int]) -> None:
    async with timed(tmp_path, activity, size=size) as at:
        assert misfits(at.app) == []
        await at.go(1)
        await at.press("space")
        for seconds in (1, 3, 20, 40):
            await at.go(seconds)
            assert misfits(at.app) == []
            assert all(len(line) <= size[0] for line in at.text.splitlines())
        assert "F1" in at.text.splitlines()[-1]


async def test_another_size_in_the_middle_changes_nothing_but_the_size(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(3)
        before = at.screen.query_one("#giant", BigWord).scale
        await at.pilot.resize_terminal(120, 40)
        await at.settle()
        after = at.screen.query_one("#giant", BigWord).scale
        assert before is not None
        assert after is not None
        assert after.height > before.height
        await at.pilot.resize_terminal(50, 12)
        await at.settle()
        assert "What runs goes on." in at.text
        await at.go(2)
        await at.pilot.resize_terminal(80, 24)
        await at.settle()
        assert at.giant == "BACK"
        assert misfits(at.app) == []


async def test_a_plan_kept_is_the_plan_shown(tmp_path: Path) -> None:
    async with timed(tmp_path, "direction_shifts") as at:
        await at.start(61)
        plan, state = timing.bout_state(at.at.care, at.rows[0])
        assert [shift.direction for shift in state.done[0].shifts] == list(plan.directions)
