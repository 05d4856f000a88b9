from __future__ import annotations

import asyncio
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from store.care.timing import Mode
from store.record import bouts
from store.record.faults import FaultKind, RecordFault
from tests.clock.desk import desk, held_disk


async def test_cues_ring_at_their_instants_and_each_once(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt", sets=2, reps=2)
    await at.start()
    start = at.live.state.since_ms
    await at.move(12, step=0.35)
    assert [(ms - start, say) for ms, say in at.ears.cues] == [
        (-3000, "3"), (-2000, "2"), (-1000, "1"),
        (0, "1"), (2000, "hold"), (4000, "back"), (6000, "2"), (8000, "hold"), (10000, "back"), (12000, "rest"),
    ]  # fmt: skip


async def test_the_first_of_a_countdown_rings_at_the_press(tmp_path: Path) -> None:
    at = await desk(tmp_path, "hold_firm")
    await at.move(1.234)
    await at.press()
    assert at.ears.cues == [(1234, "3")]
    await at.move(0.4, step=0.1)
    assert at.ears.cues == [(1234, "3")]


async def test_a_cue_too_late_to_be_of_use_is_left_out(tmp_path: Path) -> None:
    at = await desk(tmp_path, "hold_firm")
    await at.start()
    at.ears.cues.clear()
    await at.move(29.2, step=4.6)
    assert [say for _, say in at.ears.cues] == ["1"], "20, 10, 5, 3 and 2 were over when it woke"


async def test_time_is_the_instants_and_never_the_wakes(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt", sets=1, reps=10)
    await at.start()
    start = at.live.state.since_ms
    await at.move(61, step=3.7)  # a loop that is kept busy wakes seldom
    done = at.view.done[0]
    assert (done.reps, done.worked_ms) == (10, 60_000)
    reps = [
        one.at_ms - start for one in bouts.events_of(at.at.care.record, at.live.row.id) if one.kind == "paced_rep"
    ]
    assert reps == [6000 * n for n in range(1, 11)]


@pytest.mark.parametrize(("ran", "shown"), [(29.96, 29), (30.01, 30)])
async def test_a_second_is_shown_once_it_has_passed(tmp_path: Path, ran: float, shown: int) -> None:
    at = await desk(tmp_path, "stance_open_test")
    await at.start()
    await at.move(ran)
    assert at.view.seconds == shown


async def test_what_is_due_is_not_shown_before_it_is_on_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = await desk(tmp_path, "hold_firm")
    await at.start()
    await at.move(29.5)
    with held_disk(monkeypatch) as let_go:
        at.at.clock.move(0.7)
        at.driver.wake()
        assert (at.view.mode, at.view.seconds) == (Mode.WORKING, 29)
        let_go.set()
        await at.hand.settled()
    assert at.view.mode is Mode.REST
    assert at.view.done[0].worked_ms == 30_000


async def test_a_slow_disk_holds_up_no_cue_and_no_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at = await desk(tmp_path, "stance_open_test")
    await at.start()
    start = at.live.state.since_ms
    await at.move(4)
    at.ears.cues.clear()
    with held_disk(monkeypatch) as let_go:
        at.at.clock.move(1)
        at.driver.wake()  # the fifth second waits for the disk
        at.at.clock.move(0.5)
        at.driver.press()  # lost it, at 5.5 s
        for _ in range(30):
            at.at.clock.move(0.5)
            at.driver.wake()
        assert at.view.seconds == 4, "what is not on disk is not shown"
        was_slow = at.driver.slow
        let_go.set()
        await at.hand.settled()
    assert (was_slow, at.driver.slow) == (True, False)
    assert at.view.mode is Mode.REST, "15 s without the disk are no gap: the program heard every one of them"
    assert at.view.done[0].seconds == 5.5
    assert at.view.done[0].lost
    assert at.live.state.since_ms == start + 5500
    assert at.faults == []


async def test_paced_cues_go_on_while_the_disk_waits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    start = at.live.state.since_ms
    at.ears.cues.clear()
    with held_disk(monkeypatch) as let_go:
        for _ in range(25):
            at.at.clock.move(0.5)
            at.driver.wake()
        let_go.set()
        await at.hand.settled()
    assert [(ms - start) // 1000 for ms, _ in at.ears.cues] == [2, 4, 6, 8, 10, 12]
    await at.move(0.1)
    assert at.view.reps_done == 2


async def test_a_full_disk_counts_nothing_says_so_and_catches_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = await desk(tmp_path, "heel_raises")
    await at.start()
    await at.press()

    def full(*_: object) -> None:
        raise RecordFault(FaultKind.FULL, "The disk is full: make room, then do this again.")

    with monkeypatch.context() as broken:
        broken.setattr(bouts, "add_events", full)
        at.at.clock.move(0.8)
        await at.press()
        assert at.view.reps_done == 1
        assert at.faults == ["The disk is full: make room, then do this again."]
        await at.move(2)
        assert at.view.seconds == 0
        assert set(at.faults) == {"The disk is full: make room, then do this again."}
    await at.move(1)
    assert at.view.seconds == 3
    await at.press()
    assert at.view.reps_done == 2


async def test_a_key_at_the_wrong_time_holds_nothing_up(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    at.at.clock.move(0.4)
    at.driver.do(lambda bout, instant: bout.control(2, instant))
    await at.hand.settled()
    assert at.faults == ["Control is graded after a hold, and this is none."]
    at.at.clock.move(0.6)
    at.driver.wake()
    await at.hand.settled()
    assert at.view.seconds == 1


async def test_a_sleep_rings_nothing_and_pauses_with_a_sentence(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    await at.move(7)
    at.ears.cues.clear()
    await at.move(61, step=61)
    assert at.ears.cues == []
    assert at.view.mode is Mode.PAUSED
    assert "stood still for 61 s" in at.view.sentence
    assert at.view.reps_done == 1
    await at.move(2)
    await at.press()
    await at.move(5)
    assert at.view.reps_done == 2


async def test_a_wall_clock_that_jumps_ahead_is_a_sleep_too(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    at.at.clock.put(at.at.clock.now().at + timedelta(hours=2))
    await at.move(0.2)
    assert at.view.mode is Mode.PAUSED


async def test_answers_are_heard_once_they_are_on_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at = await desk(tmp_path, "hold_firm")
    await at.start()
    await at.move(2)
    with held_disk(monkeypatch) as let_go:
        at.driver.press()
        assert at.ears.answers == []
        let_go.set()
        await at.hand.settled()
    assert at.ears.answers == ["tick"]
    at.driver.pause_or_resume()
    await at.hand.settled()
    assert at.ears.answers == ["tick", "falling"]


async def test_what_is_painted_follows_what_happens(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    at.painted.clear()
    await at.move(2)
    assert at.painted[-1].word == "HOLD"


async def test_a_stopped_driver_neither_wakes_nor_paints(tmp_path: Path) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    at.driver.press()
    at.driver.stop()
    at.painted.clear()
    await at.hand.settled()
    assert at.painted == []
    assert at.live.state.mode is Mode.PAUSED, "what was asked for is still written down"


class Loop:
    """Stands in for the loop's timers: notes for which instant each was set."""

    def __init__(self, loop: asyncio.AbstractEventLoop, monkeypatch: pytest.MonkeyPatch) -> None:
        self.waits: list[float] = []
        real = loop.call_at

        def call_at(when: float, does: Callable[..., object], *rest: object) -> asyncio.TimerHandle:
            if getattr(does, "__name__", "") == "wake":
                self.waits.append(when - loop.time())
            return real(when, does, *rest)

        monkeypatch.setattr(loop, "call_at", call_at)


async def test_timers_are_set_for_the_next_instant_of_the_bout(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = await desk(tmp_path, "mobilisation_belt")
    await at.start()
    set_for = Loop(asyncio.get_running_loop(), monkeypatch)
    await at.move(0.3)
    assert set_for.waits[-1] == pytest.approx(0.7, abs=0.02), "a second ends there"
    await at.move(1.2, step=0.6)
    assert set_for.waits[-1] == pytest.approx(0.5, abs=0.02), "the hold begins there"
    at.driver.pause_or_resume()
    await at.hand.settled()
    await at.move(0.4)
    assert set_for.waits[-1] == pytest.approx(0.6, abs=0.2), "nothing runs: only the heartbeat"
