"""What holds for any bout: in any order of events, however time is cut up, whatever is undone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from hypothesis import example, given, settings
from hypothesis import strategies as st

from store.bout import keys
from store.bout.due import due, next_due_ms
from store.bout.events import Event, Kind
from store.bout.fold import advance, replay
from store.bout.plan import BoutPlan
from store.bout.state import Mode, SetResult, State, opening
from store.bout.undo import STILL_STANDING_MS
from store.bout.view import look
from store.bout.watch import gap_noticed, reopened
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind, Side
from tests.bout.player import (
    GLIDES,
    HOLD,
    HOPS,
    OSCILLATIONS,
    RAISES,
    REACHES,
    SHIFTS,
    STANCE,
    TIMED,
    WALK_RUN,
    Player,
)

Act = Callable[[Player], object]

EVERY = settings(deadline=None, max_examples=200)

# Short ones, so that a few acts walk through several sets and both sides.
QUICK = (
    replace(GLIDES, reps=3, phases=(Phase("UP", 0.7), Phase("DOWN", 1.1))),
    replace(RAISES, reps=2, sets=2),
    replace(RAISES, sets=2),
    replace(STANCE, cap_s=5),
    replace(HOLD, hold_s=4.5),
    replace(SHIFTS, shift_s=1.5, sets=2, directions=SHIFTS.directions * 2),
    replace(OSCILLATIONS, hold_s=4, rate=1.5),
    replace(WALK_RUN, phases=(Phase("WALK", 3.5), Phase("RUN", 2))),
    replace(REACHES, reps=1),
    replace(HOPS, phases=(Phase("HOP", 0.7), Phase("HOLD", 1.1)), sets=2),
    replace(TIMED, hold_s=5.5, sides=(Side.LEFT, Side.RIGHT)),
)
plans = st.builds(
    replace,
    st.sampled_from(QUICK),
    rest_s=st.sampled_from([0, 2.5, 10]),
    countdown_s=st.sampled_from([0, 1]),
    auto_next=st.booleans(),
    ask_pain=st.booleans(),
)
phases = st.lists(st.builds(Phase, st.just("UP"), st.floats(0.2, 2)), min_size=1, max_size=3).map(tuple)


def pressed(player: Player) -> None:
    player.press()


def gap(player: Player) -> None:
    event = gap_noticed(player.state, player.at_ms, ran_ms=9000, wall_ms=9000)
    if event is not None:
        player.take(event)
        player.wait(9)


def killed(player: Player) -> None:
    event = reopened(player.plan, player.events)
    if event is not None:
        player.take(event)
        player.at_ms = player.state.known_ms


def by(key: Callable[[BoutPlan, State, int], Event | keys.NotNow]) -> Act:
    return lambda player: player.key(key)


def ended_and_opened_again(player: Player) -> None:
    player.key(keys.end)
    player.key(keys.undo_end)


acts: st.SearchStrategy[Act] = st.one_of(
    *[st.just(pressed)] * 8,
    *[st.just(by(keys.undo))] * 2,
    *[st.just(by(key)) for key in (keys.pause_or_resume, keys.end_set, keys.leave)],
    st.just(ended_and_opened_again),
    st.just(gap),
    st.just(killed),
    st.integers(0, 10).map(lambda n: lambda player: player.key(keys.pain, n)),
    st.integers(0, 3).map(lambda n: lambda player: player.key(keys.control, n)),
    phases.map(lambda new: lambda player: player.key(keys.set_times, phases=new)),
    st.floats(1, 8).map(lambda s: lambda player: player.key(keys.set_times, hold_s=s)),
    st.floats(0, 8).map(lambda s: lambda player: player.key(keys.set_times, rest_s=s)),
)
waits_ms = st.one_of(st.integers(0, 1000), st.integers(700, 4000), st.integers(700, 12_000))
scripts = st.lists(st.tuples(waits_ms, acts), max_size=20)


def play(plan: BoutPlan, script: list[tuple[int, Act]], slice_ms: int | None = None) -> Player:
    player = Player(plan)
    player.start()
    for wait_ms, act in script:
        until = player.at_ms + wait_ms
        while slice_ms is not None and player.at_ms + slice_ms < until:
            player.to(player.at_ms + slice_ms)
        player.to(until)
        act(player)
    return player


def check_result(plan: BoutPlan, result: SetResult) -> None:
    assert 0 <= result.turn <= plan.last_turn
    assert 1 <= result.n <= plan.sets
    assert result.side is plan.turns[result.turn].side
    assert result.worked_ms >= 0
    assert result.faults >= 0
    assert result.reps >= 0
    assert result.paced is plan.paced
    assert plan.target == 0 or result.reps <= plan.target
    assert 0 <= result.clean <= result.reps
    assert len(result.intervals) <= plan.intervals
    assert all(interval.worked_ms >= 0 for interval in result.intervals)
    if plan.kind is BoutKind.WALK_RUN and result.complete:
        assert sum(interval.worked_ms for interval in result.intervals) == result.worked_ms
    assert len(result.shifts) <= plan.shifts
    assert all(0 <= n <= 10 for n in result.pains)
    assert result.control is None or 0 <= result.control <= 3
    if plan.kind is BoutKind.HOLD_TO_LOSS:
        assert result.worked_ms <= 5_000
        assert not (result.lost and result.cap_reached)


def check(plan: BoutPlan, state: State, at_ms: int) -> None:
    """A valid state, and a picture of it that can be painted."""
    assert 0 <= state.turn <= plan.last_turn
    assert len(state.done) <= plan.last_turn + 1
    assert [result.turn for result in state.done] == list(range(len(state.done)))
    assert (state.mode is Mode.PAUSED) is (state.paused_in is not None)
    assert state.paused_in in (None, Mode.COUNTDOWN, Mode.WORKING, Mode.REST)
    assert (state.current is not None) is (state.doing in (Mode.COUNTDOWN, Mode.WORKING))
    assert not state.rest_over or state.doing is Mode.REST
    assert not state.ended or state.mode is Mode.DONE
    assert bool(state.sentence) is (state.mode is Mode.PAUSED)
    assert min(state.beats, state.held_ms, state.rep_from_ms, state.times.rest_ms) >= 0
    for result in (*state.done, *((state.current,) if state.current else ())):
        check_result(plan, result)
    view = look(plan, state, at_ms)
    assert 1 <= view.set_n <= view.sets == plan.sets
    assert view.seconds >= 0
    assert view.left_s is None or view.left_s >= 0
    assert plan.target == 0 or view.rep <= plan.target
    assert view.shift_n <= view.shifts


@EVERY
@given(plans, scripts)
def test_whatever_is_done_the_bout_stays_valid(plan: BoutPlan, script: list[tuple[int, Act]]) -> None:
    player = Player(plan)
    for wait_ms, act in script:
        player.to(player.at_ms + wait_ms)
        check(plan, player.state, player.at_ms)
        act(player)
        check(plan, player.state, player.at_ms)
    assert [event.seq for event in player.events] == list(range(1, len(player.events) + 1))


wild_phases = st.fixed_dictionaries({"word": st.text(), "seconds": st.floats()})
datas = st.one_of(
    st.just({}),
    st.fixed_dictionaries({}, optional={"n": st.integers(-3, 13), "of": st.integers(0, 40), "ms": st.integers()}),
    st.just({"auto": True}),
    st.just({"n": "x", "of": [], "ms": None, "rest_s": "long", "phases": 3}),
    st.fixed_dictionaries({"rest_s": st.floats()}),
    st.fixed_dictionaries({"hold_s": st.floats()}),
    st.fixed_dictionaries(
        {"phases": st.lists(st.fixed_dictionaries({"word": st.text(), "seconds": st.floats()}))}
    ),
)
wild = st.lists(st.tuples(st.sampled_from(list(Kind)), st.integers(0, 60_000), datas), max_size=40)


@EVERY
@given(plans, wild)
def test_any_events_in_any_order_give_a_valid_state(
    plan: BoutPlan, happenings: list[tuple[Kind, int, dict[str, object]]]
) -> None:
    state = opening(plan)
    for seq, (kind, at_ms, data) in enumerate(happenings, start=1):
        state = advance(plan, state, Event(seq, kind, at_ms, data))
        check(plan, state, at_ms)
        assert state.known_ms >= at_ms
        assert state.seq == seq


@EVERY
@given(plans, scripts)
def test_replay_equals_live_and_undone_things_leave_no_trace(
    plan: BoutPlan, script: list[tuple[int, Act]]
) -> None:
    player = play(plan, script)
    again = replay(plan, player.events)
    assert again == player.state
    assert (again.seq, again.known_ms, again.kept) == (
        player.state.seq,
        player.state.known_ms,
        player.state.kept,
    )
    assert replay(plan, player.state.kept) == player.state


@EVERY
@given(plans, scripts, st.integers(150, 5000))
def test_however_time_is_cut_up_the_same_events_fall_due(
    plan: BoutPlan, script: list[tuple[int, Act]], slice_ms: int
) -> None:
    assert play(plan, script, slice_ms).events == play(plan, script).events


@EVERY
@given(plans, scripts, st.integers(0, 30_000))
def test_what_is_due_comes_in_order_and_leaves_nothing_behind(
    plan: BoutPlan, script: list[tuple[int, Act]], wait_ms: int
) -> None:
    player = play(plan, script)
    until = player.at_ms + wait_ms
    events = due(plan, player.state, until)
    assert [event.at_ms for event in events] == sorted(event.at_ms for event in events)
    first = next_due_ms(plan, player.state)
    assert bool(events) is (first is not None and first <= until)
    player.to(until)
    after = next_due_ms(plan, player.state)
    assert after is None or after > until


@EVERY
@given(plans, scripts, st.one_of(st.just(pressed), acts))
def test_undo_undoes(plan: BoutPlan, script: list[tuple[int, Act]], act: Act) -> None:
    player = play(plan, script)
    before = player.state
    seen = len(player.events)
    act(player)
    done = player.events[seen:]
    reopens = {Kind.SET_ENDED, Kind.COUNTED_REP, Kind.TIMES}
    answer = keys.undo(plan, player.state, player.at_ms)
    undone = isinstance(answer, Event) and bool(done) and answer.data["of"] == done[0].seq
    if not undone or (done[0].kind in reopens and len(done) > 1) or done[0].kind is Kind.SET_ENDED:
        return
    player.key(keys.undo)
    assert player.state == before


@EVERY
@given(plans, scripts, st.one_of(st.just(pressed), acts), st.integers(0, STILL_STANDING_MS))
@example(  # a skip taken back after its interval would have ended by itself, in the midst of a second
    replace(QUICK[7], rest_s=0, countdown_s=0), [(700, pressed), (700, by(keys.undo))], pressed, 2600
)
def test_once_undone_the_bout_goes_on_as_though_it_had_not_been(
    plan: BoutPlan, script: list[tuple[int, Act]], act: Act, wait_ms: int
) -> None:
    player = play(plan, script)
    other = play(plan, script)
    seen = len(player.events)
    act(player)
    done = player.events[seen:]
    free = {Kind.SET_STARTED, Kind.FAULT, Kind.SKIPPED, Kind.LOST_CONTROL, Kind.LOST, Kind.PAIN, Kind.CONTROL}
    if not done or done[0].kind not in free:
        return
    player.to(player.at_ms + wait_ms)
    player.take(Event(player.state.seq + 1, Kind.UNDO, player.at_ms, {"of": done[0].seq}))
    player.to(player.at_ms)
    other.to(player.at_ms)
    assert player.state == other.state


@EVERY
@given(plans, scripts)
def test_walking_undo_back_comes_to_an_end_at_nothing_done(plan: BoutPlan, script: list[tuple[int, Act]]) -> None:
    player = play(plan, script)
    for _ in range(len(player.events) + 1):
        if player.key(keys.undo):
            break
    assert player.view.undo == ""
    assert all(result.reps == 0 and result.faults == 0 for result in player.state.done)


@EVERY
@given(plans, scripts, waits_ms)
def test_an_ending_taken_back_leaves_the_bout_paused_where_it_was(
    plan: BoutPlan, script: list[tuple[int, Act]], wait_ms: int
) -> None:
    player = play(plan, script)
    before = player.state
    player.key(keys.end)
    assert player.key(keys.undo) != "", "the key within the bout does not undo its ending"
    assert player.key(keys.undo_end) == ""
    paused = advance(plan, before, Event(before.seq + 1, Kind.PAUSE, player.at_ms))
    assert player.state == (paused if before.running else before)
    player.to(player.at_ms + wait_ms)
    assert not player.state.running
    assert replay(plan, player.events) == player.state
    assert player.key(keys.undo_end) == "This bout has not ended."


@EVERY
@given(plans, scripts, st.lists(st.tuples(waits_ms, acts), max_size=8))
def test_a_bout_opened_again_stays_valid_and_can_be_ended_again(
    plan: BoutPlan, script: list[tuple[int, Act]], more: list[tuple[int, Act]]
) -> None:
    player = play(plan, script)
    player.key(keys.end)
    first = player.state
    player.key(keys.undo_end)
    assert advance(plan, player.state, Event(player.state.seq + 1, Kind.END, player.at_ms)).done == first.done
    for wait_ms, act in more:
        player.to(player.at_ms + wait_ms)
        act(player)
        check(plan, player.state, player.at_ms)
    player.key(keys.end)
    assert player.state.ended
    assert replay(plan, player.events) == player.state
