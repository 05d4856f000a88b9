"""One bout, two windows on one file: the second asks before it takes over, and the first then stands still."""

from __future__ import annotations

import asyncio
from pathlib import Path

from store.care.care import open_care
from store.care.timing import Mode
from tests.care.bouts import Ward
from tests.helpers.fit import text_of
from tests.screens.timing_room import Room, Timed, timed

RUNS = "This timer runs in another window"


def second(first: Timed, tmp_path: Path) -> Ward:
    """The same file in another program, under the same clock."""
    care = open_care(tmp_path / "ward.sqlite", first.at.clock, examiner="AB")
    return Ward(care, first.at.clock, first.at.visit)


async def test_a_second_window_asks_takes_over_and_the_first_stops_and_says_so(tmp_path: Path) -> None:
    async with timed(tmp_path) as first:
        await first.start(15)
        room = Room(second(first, tmp_path), tmp_path)
        async with room.run_test(size=(80, 24)) as pilot:
            other = Timed(room, pilot, second(first, tmp_path))
            await other.open(visit=first.at.visit.id, activity="mobilisation_belt")
            assert RUNS in other.text
            assert "The program stopped" not in other.text
            await other.press("space")
            assert first.kinds[-1] == "paced_rep", "the pedal alone takes nothing over"
            await other.press("enter")
            assert RUNS in other.text, "a held key takes nothing over either"
            first.at.clock.move(1)
            await other.press("enter")
            assert other.giant == "PAUSED"
            assert "Taken over from another window" in other.text
            assert RUNS not in other.text, "the question is answered"
            assert other.view.reps_done == 2
            await first.go(2)
            async with asyncio.timeout(20):
                while first.giant != "PAUSED":  # it is painted ten times a second
                    await first.pilot.pause(0.02)
            assert "Stopped here: this timer runs in another window." in first.text
            before = first.seconds
            await first.go(5)
            assert (first.seconds, first.view.reps_done) == (before, 2)
            first.at.clock.move(1)
            await other.press("space")
            await other.go(6)
            assert other.view.reps_done == 3
            await first.press("escape")
            assert "taken over by another window" in text_of(first.app)
            assert other.view.mode is Mode.WORKING


async def test_a_no_leaves_the_bout_to_the_window_it_runs_in(tmp_path: Path) -> None:
    async with timed(tmp_path) as first:
        await first.start(15)
        room = Room(second(first, tmp_path), tmp_path)
        async with room.run_test(size=(80, 24)) as pilot:
            other = Timed(room, pilot, second(first, tmp_path))
            await other.open(visit=first.at.visit.id, activity="mobilisation_belt")
            await other.press("escape")
            assert RUNS not in other.text
        await first.go(6)
        assert first.view.mode is Mode.WORKING
        assert first.view.reps_done == 3


async def test_a_bout_killed_a_while_ago_opens_without_a_question(tmp_path: Path) -> None:
    async with timed(tmp_path) as first:
        await first.start(15)
        first.app.pop_screen()
        await first.settle()
        first.at.clock.move(7)
        await first.open(bout=first.rows[0].id)
        assert RUNS not in first.text
        assert "The program stopped in the middle of this bout." in first.text
