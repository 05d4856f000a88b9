"""The later kinds of bout on the timer: the giant word, the side above it, the count under it, the one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers.fit import misfits
from tests.screens.timing_room import timed


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_oscillations_show_their_word_the_time_left_and_the_rate(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with timed(tmp_path, "glide_3", size=size) as on:
        await on.start(10)
        assert (on.giant, on.seconds, on.side) == ("GLIDE", "110", "RIGHT")
        assert "2 a second    set 1 of 2" in on.text
        assert on.pedal == "stop"
        assert misfits(on.app) == []


async def test_the_one_key_skips_to_the_next_interval(tmp_path: Path) -> None:
    async with timed(tmp_path, "walk_run") as on:
        await on.start(5)
        assert (on.giant, on.seconds, on.side) == ("WALK", "3:55", "1")
        assert on.pedal == "skip to run"
        await on.press("space")
        assert (on.giant, on.side, on.pedal) == ("RUN", "2", "skip to walk")
        assert "interval 2 of 10" in on.text
        assert "so far walk 5 s" in on.text
        await on.press("u")
        assert (on.giant, on.side) == ("WALK", "1")
        assert on.kinds[-2:] == ["skipped", "undo"]


async def test_reaches_name_the_direction_and_each_press_is_one(tmp_path: Path) -> None:
    async with timed(tmp_path, "reaches") as on:
        await on.start(2)
        assert (on.giant, on.side, on.pedal) == ("FORWARD", "LEFT", "reached")
        await on.press("space")
        assert on.giant == "BACK IN"
        assert "reach 2 of 15    set 1 of 2" in on.text


async def test_a_hop_its_hold_and_its_faults(tmp_path: Path) -> None:
    async with timed(tmp_path, "hop_hold_short") as on:
        await on.start(1)
        assert on.giant == "HOP"
        await on.go(2)
        assert (on.giant, on.pedal) == ("HOLD", "one fault")
        await on.press("space")
        assert "hop 1 of 10    1 fault    set 1 of 2" in on.text


async def test_between_the_sides_the_giant_word_says_so(tmp_path: Path) -> None:
    async with timed(tmp_path, "reaches") as on:
        for of_two in range(2):
            await on.start(2)
            for _ in range(15):
                await on.press("space")
                await on.go(1)
            assert on.giant == ("REST", "CHANGE")[of_two]
        assert on.side == "RIGHT"
        assert "then right, set 1 of 2" in on.text


async def test_turns_of_both_legs_end_with_control_by_direction_in_words(tmp_path: Path) -> None:
    async with timed(tmp_path, "cutting") as on:
        await on.start(1)
        await on.press("space")
        await on.go(90)
        await on.press("0")
        await on.go(1)
        await on.start(91)
        assert on.giant == "DONE"
        told = next(line for line in on.text.splitlines() if "straight" in line)
        assert sorted(part for part in told.strip().split("   ")) == sorted(
            f"{way} {5 + (way != on.view.done[0].shifts[0].direction)} of 6"
            for way in ("left", "right", "straight")
        )


async def test_timed_work_is_shown_in_minutes_and_ends_with_what_it_came_to(tmp_path: Path) -> None:
    async with timed(tmp_path, "brace_or_tape") as on:
        await on.start(1)
        assert (on.giant, on.seconds) == ("WALK", "119")
        await on.go(120)
        assert "2 min in all" in on.text
        await on.go(1)
        await on.press("0", "space")
        assert on.rows[-1].ended is not None
