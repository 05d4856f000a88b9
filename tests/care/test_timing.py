from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from store.bout.events import Kind
from store.care import timing, visits
from store.care.faults import CareFault, RunsElsewhere
from store.care.live_bout import ELSEWHERE
from store.care.timing import Instant, LiveBout, Mode
from store.knowledge.words import BoutRow, Side
from store.record import bouts
from store.record.faults import FaultKind, RecordFault
from tests.care.bouts import Ward, ward


def full_disk(*_: object, **__: object) -> None:
    raise RecordFault(FaultKind.FULL, "The disk is full: make room, then do this again.")


def kept(at: Ward, live: LiveBout) -> list[str]:
    return [event.kind for event in bouts.events_of(at.care.record, live.row.id)]


def row_of(at: Ward, live: LiveBout) -> BoutRow:
    row = bouts.bout(at.care.record, live.row.id)
    assert row is not None
    return row


# on disk first


def test_what_cannot_be_kept_does_not_count_and_counts_once_it_can(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = ward(tmp_path)
    live = at.begin("heel_raises")
    at.start(live)
    live.press()
    with monkeypatch.context() as broken:
        broken.setattr(bouts, "add_events", full_disk)
        at.clock.move(0.9)
        with pytest.raises(RecordFault, match="disk is full"):
            live.press()
        assert live.look().reps_done == 1
        at.clock.move(1.5)  # a whole second falls due that cannot be kept either
        with pytest.raises(RecordFault):
            live.tick()
        assert live.state.beats == 0
    live.tick()
    assert live.state.beats == 2, "what fell due meanwhile is kept at its own instants"
    live.press()
    assert live.look().reps_done == 2


def test_a_refused_press_does_not_make_the_next_one_a_held_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = ward(tmp_path)
    live = at.begin("heel_raises")
    at.start(live)
    at.clock.move(0.5)
    with monkeypatch.context() as broken:
        broken.setattr(bouts, "add_events", full_disk)
        with pytest.raises(RecordFault):
            live.press()
    at.clock.move(0.1)
    live.press()
    assert live.look().reps_done == 1


def test_an_end_that_cannot_be_kept_has_not_happened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm", sets=1, hold_s=5)
    at.start(live)
    at.go(live, 6)
    with monkeypatch.context() as broken:
        broken.setattr(bouts, "revise_bout", full_disk)
        with pytest.raises(RecordFault):
            live.end()
        assert not live.state.ended
        assert Kind.END not in kept(at, live)
    assert live.end().says == "saved single-leg hold: 1 hold, 5 s under load"
    assert row_of(at, live).ended is not None


def test_an_act_keeps_the_instant_of_its_key_however_late_it_is_kept(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("stance_open_test", sets=1, sides=(Side.RIGHT,))
    at.start(live)
    at.clock.move(4.5)
    let_go = Instant.now(at.clock)
    at.clock.move(3.0)  # so long the disk had other things to do
    live.press(let_go)
    assert live.state.done[0].seconds == 4.5
    lost = bouts.events_of(at.care.record, live.row.id)[-1]
    assert lost.kind == Kind.LOST
    assert lost.wall_at == let_go.wall


def test_what_falls_due_carries_the_wall_time_at_which_it_fell_due(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.start(live)
    began = at.clock.now()
    at.clock.move(2.25)
    live.tick()
    beats = [one for one in bouts.events_of(at.care.record, live.row.id) if one.kind == Kind.BEAT]
    assert [(one.wall_at.at - began.at).total_seconds() for one in beats] == [1.0, 2.0]


def test_tenths_added_up_do_not_fall_short_of_a_whole_second(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    at.start(live)
    for _ in range(30):
        at.clock.move(0.1)
        live.tick()
    assert live.look().seconds == 3
    assert live.state.beats == 3


def test_another_thread_keeps_a_bout_over_a_connection_of_its_own(tmp_path: Path) -> None:
    at = ward(tmp_path)

    def elsewhere() -> str:
        hand = timing.own_hand(at.care)
        try:
            live = timing.begin(hand, hand.knowledge.activities["hold_firm"], at.visit)
            live.press()
            return live.row.id
        finally:
            hand.close()

    with ThreadPoolExecutor(1) as pool:
        bout_id = pool.submit(elsewhere).result()
    assert [one.id for one in timing.unfinished(at.care, at.visit)] == [bout_id]
    live = timing.reopen_by_id(at.care, bout_id, take_over=True)
    assert live.state.mode is Mode.PAUSED
    with pytest.raises(CareFault, match="no longer in the record"):
        timing.reopen_by_id(at.care, "nothing")


# the pedal


def test_a_pedal_still_held_from_the_screen_before_starts_nothing(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    live.pressed_before()
    for _ in range(20):
        at.clock.move(0.1)
        live.press()
    assert live.look().mode is Mode.READY
    at.clock.move(0.7)
    live.press()
    assert live.look().mode is Mode.COUNTDOWN


def test_a_press_ends_a_bout_only_once_it_is_done_and_neither_held_nor_late(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm", sets=1, sides=(Side.RIGHT,), hold_s=5)
    at.start(live)
    at.clock.move(1)
    assert not live.press_ends(), "the hold goes on"
    at.go(live, 4.3)
    assert live.state.mode is Mode.DONE
    assert not live.press_ends(), "meant for the hold"
    at.clock.move(0.6)
    assert not live.press_ends(), "held"
    at.clock.move(0.7)
    assert live.press_ends()


def test_the_same_key_pauses_and_goes_on_and_says_so_by_a_tone(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.start(live)
    paused = live.pause_or_resume()
    assert live.state.mode is Mode.PAUSED
    assert paused is not None
    assert paused.tone == "falling"
    went_on = live.pause_or_resume()
    assert went_on is not None
    assert went_on.tone == "rising"


def test_what_cannot_be_done_now_is_said(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    acts: list[tuple[Callable[[], object], str]] = [
        (live.undo, "nothing to undo"),
        (live.end_set, "No set is under way"),
        (lambda: live.pain(3), "No set has begun"),
        (lambda: live.control(2), "once a hold has ended"),
    ]
    for act, says in acts:
        with pytest.raises(CareFault, match=says):
            act()


# gaps, leaving, kills


def test_a_laptop_that_slept_pauses_the_bout_where_it_was(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    at.start(live)
    at.go(live, 4)
    at.clock.move(600)
    live.tick()
    view = live.look()
    assert (view.mode, view.seconds) == (Mode.PAUSED, 4)
    assert "stood still for 600 s" in view.sentence
    at.clock.move(60)
    live.tick()
    live.press()
    assert live.look().mode is Mode.COUNTDOWN, "a foot is put up again first"
    at.go(live, 3 + 1)
    assert live.look().seconds == 5


def test_the_press_that_ends_a_sleep_only_wakes(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    at.start(live)
    at.clock.move(600)
    assert live.press() is None
    assert (live.look().mode, live.look().faults) == (Mode.PAUSED, 0)
    at.clock.move(600)
    live.pause_or_resume()
    assert live.state.mode is Mode.COUNTDOWN, "what is paused already has nothing to wake from"
    at.clock.move(600)
    assert live.pause_or_resume() is None
    assert live.look().mode is Mode.PAUSED


def test_the_wall_clock_alone_shows_a_sleep_that_the_other_does_not(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    at.start(live)
    later = at.clock.now().at.timestamp() + 900
    at.clock.move(0.5)
    at.clock.put(at.clock.now().at.fromtimestamp(later, at.clock.zone))
    live.tick()
    assert live.state.mode is Mode.PAUSED


def test_a_kill_leaves_it_paused_and_the_numbers_go_on_after_an_undo(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("heel_raises")
    at.start(live)
    live.press()
    at.clock.move(1)
    live.press()
    live.undo()
    at.clock.move(40)
    again = timing.reopen(at.care, row_of(at, live))
    view = again.look()
    assert (view.mode, view.reps_done) == (Mode.PAUSED, 1)
    assert "program stopped" in view.sentence
    at.clock.move(1)
    again.press()
    at.clock.move(1)
    again.press()
    assert again.look().reps_done == 2
    assert timing.bout_state(at.care, row_of(at, live))[1] == again.state


def test_left_paused_it_opens_paused_and_says_that_it_was_left(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    at.start(live)
    at.go(live, 3)
    live.leave()
    again = timing.reopen(at.care, row_of(at, live))
    assert again.look().left
    assert again.look().seconds == 3
    assert kept(at, again)[-1] == Kind.LEAVE


def test_an_ended_bout_is_not_opened_again(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    live.end()
    with pytest.raises(CareFault, match="has ended"):
        timing.reopen(at.care, row_of(at, live))


def test_a_bout_that_cannot_be_read_says_so(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("hold_firm")
    broken = BoutRow(**{name: getattr(live.row, name) for name in BoutRow._fields} | {"plan": {"kind": "x"}})
    with pytest.raises(CareFault, match="plan cannot be read"):
        timing.reopen(at.care, broken)


def test_a_bout_needs_a_visit_that_goes_on_and_a_dose_that_can_run(tmp_path: Path) -> None:
    at = ward(tmp_path)
    with pytest.raises(CareFault, match="at least one rep"):
        at.begin("mobilisation_belt", reps=0)
    at.visit = visits.end_visit(at.care, at.visit)
    with pytest.raises(CareFault, match="start one"):
        at.begin("hold_firm")


def test_another_window_that_went_on_with_it_is_told_apart(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("heel_raises")
    at.start(live)
    with pytest.raises(RunsElsewhere, match="runs in another window"):
        timing.reopen(at.care, row_of(at, live))
    other = timing.reopen(at.care, row_of(at, live), take_over=True)
    assert "Taken over from another window" in other.look().sentence
    other.press()
    at.clock.move(1)
    with pytest.raises(RecordFault, match="another window"):
        live.press()
    before = live.look()
    assert (before.mode, before.sentence) == (Mode.PAUSED, ELSEWHERE)
    at.go(live, 5)
    assert live.look().seconds == before.seconds, "what another window runs is not counted here"


def test_a_bout_in_its_long_rest_is_still_known_to_run_elsewhere(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt", rest_s=5)
    at.start(live)
    at.go(live, 61 + 700)
    with pytest.raises(RunsElsewhere):
        timing.reopen(at.care, row_of(at, live))
    at.clock.move(66)
    assert "program stopped" in timing.reopen(at.care, row_of(at, live)).look().sentence
