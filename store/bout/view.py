"""What the bout screen shows at an instant: all counts come from events, and only the seconds from the instant."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from store.bout.events import Event, Kind
from store.bout.fold import replay
from store.bout.plan import BoutPlan, to_ms
from store.bout.press import meaning
from store.bout.state import (
    Mode,
    Question,
    SetResult,
    State,
    Times,
    advice,
    cycle_ms,
    interval_phase,
    questions,
)
from store.bout.undo import in_words, last_undoable
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind, Side


class View(NamedTuple):
    """One picture of a bout.

    `word` is the giant word: READY, a phase, HOLD, REACH, a direction, REST, CHANGE SIDES, DONE; when paused,
    where it stands still. `left_s` are the whole seconds left in what `word` names, None where it has no end.
    `seconds` are the whole seconds of the countdown, work or rest so far; a rest counts on past its end. `side`
    and `set_n` are those of the set at hand or, in a rest, of the next; `changes`: it is a rest in which the
    sides change. `rep` is the rep under way, `reps_done` those counted, `reps` those of a set. `shift_n` of
    `shifts` is the direction shift, or the interval of a walk-run, under way; `rate` is that of oscillations, a
    second. `direction` is that of the shift, of the next reach or of the set. `pedal` and `undo` say what a
    press and an undo would do, and are empty for nothing.
    """

    mode: Mode
    doing: Mode
    kind: BoutKind
    word: str
    left_s: int | None
    seconds: int
    side: Side | None
    injured: bool
    unit: str
    set_n: int
    sets: int
    rep: int
    reps_done: int
    reps: int
    faults: int
    direction: str
    shift_n: int
    shifts: int
    rate: float
    changes: bool
    rest_over: bool
    times: Times
    current: SetResult | None
    done: tuple[SetResult, ...]
    questions: tuple[Question, ...]
    advice: str
    sentence: str
    pedal: str
    undo: str
    keeps: bool
    left: bool
    ended: bool


def fold(plan: BoutPlan, events: Iterable[Event], at_ms: int) -> View:
    """The picture of a bout after these events, at an instant of its clock."""
    return look(plan, replay(plan, events), at_ms)


def look(plan: BoutPlan, state: State, at_ms: int) -> View:
    """The picture of a state at an instant of the bout's clock, once all that is due has been folded in."""
    turn = plan.turns[state.turn]
    now = state.current
    word, left_ms = _word(plan, state, at_ms)
    means = meaning(plan, state)
    working = now is not None and state.doing is Mode.WORKING
    reps_done = now.reps if now is not None else 0
    shifts = now.shifts if now is not None else ()
    at_interval = min(len(now.intervals) + 1, plan.intervals) if now is not None else 0
    return View(
        mode=state.mode,
        doing=state.doing,
        kind=plan.kind,
        word=word,
        left_s=None if left_ms is None else -(-max(left_ms, 0) // 1000),
        seconds=_run_ms(state, at_ms) // 1000,
        side=turn.side,
        injured=turn.side is plan.injured,
        unit=plan.unit,
        set_n=turn.n,
        sets=plan.sets,
        rep=min(reps_done + 1, plan.target) if working and plan.paced else reps_done,
        reps_done=reps_done,
        reps=plan.target,
        faults=now.faults if now is not None else 0,
        direction=shifts[-1].direction if shifts else plan.way_of(turn.n, reps_done),
        shift_n=at_interval or len(shifts),
        shifts=plan.intervals or plan.shifts,
        rate=plan.rate,
        changes=changes_side(plan, state),
        rest_over=state.rest_over,
        times=state.times,
        current=now,
        done=state.done,
        questions=questions(plan, state),
        advice=advice(plan, state),
        sentence=state.sentence,
        pedal=means.says if means else "",
        undo=_undo(plan, state),
        keeps=state.keeps,
        left=state.left,
        ended=state.ended,
    )


def changes_side(plan: BoutPlan, state: State) -> bool:
    """Is this the rest before the other side?"""
    resting = state.doing is Mode.REST and state.turn > 0
    return resting and plan.turns[state.turn].side is not plan.turns[state.turn - 1].side


def phase_at(phases: tuple[Phase, ...], into_ms: int) -> tuple[str, int]:
    """The phase of a rep that has run so long, and the milliseconds left in it; the last once the rep is over."""
    end_ms = 0
    for phase in phases:
        end_ms += to_ms(phase.seconds)
        if into_ms < end_ms:
            return phase.word, end_ms - into_ms
    return phases[-1].word, 0


def _run_ms(state: State, at_ms: int) -> int:
    return 0 if state.doing in (Mode.READY, Mode.DONE) else state.run_ms(at_ms)


def _word(plan: BoutPlan, state: State, at_ms: int) -> tuple[str, int | None]:
    ran_ms = _run_ms(state, at_ms)
    match state.doing:
        case Mode.COUNTDOWN:
            return "READY", to_ms(plan.countdown_s) - ran_ms
        case Mode.WORKING:
            return _word_in_work(plan, state, ran_ms)
        case Mode.REST:
            word = "CHANGE SIDES" if changes_side(plan, state) else "REST"
            return word, state.times.rest_ms - ran_ms
        case Mode.DONE:
            return "DONE", None
    return "READY", None


def _word_in_work(plan: BoutPlan, state: State, ran_ms: int) -> tuple[str, int | None]:
    match plan.kind:
        case BoutKind.PACED | BoutKind.HOP_HOLD:
            return phase_at(state.rep_phases, ran_ms - state.rep_from_ms)
        case BoutKind.COUNTED:
            phases = state.rep_phases
            return phase_at(phases, ran_ms % cycle_ms(phases)) if phases else ("", None)
        case BoutKind.HOLD_TO_LOSS:
            return "HOLD", to_ms(plan.cap_s) - ran_ms
        case BoutKind.HOLD_FIXED:
            return "HOLD", state.times.hold_ms - ran_ms
        case BoutKind.TIMED | BoutKind.OSCILLATIONS:
            return plan.word, state.times.hold_ms - ran_ms
        case BoutKind.REACHES:
            return "REACH", None
        case BoutKind.WALK_RUN:
            return _interval(plan, state, ran_ms)
        case BoutKind.SHIFTS:
            shifts = state.current.shifts if state.current else ()
            word = shifts[-1].direction.upper() if shifts else ""
            return word, len(shifts) * to_ms(plan.shift_s) - ran_ms


def _interval(plan: BoutPlan, state: State, ran_ms: int) -> tuple[str, int]:
    """The word of the interval under way; of the last one still while its end is not on disk."""
    now = state.current
    if now is None or len(now.intervals) >= plan.intervals:
        return (now.intervals[-1].word if now is not None and now.intervals else ""), 0
    phase = interval_phase(state, now)
    return phase.word, state.rep_from_ms + to_ms(phase.seconds) - ran_ms


def _undo(plan: BoutPlan, state: State) -> str:
    last = None if state.ended else last_undoable(state.kept)
    if last is None:
        return ""
    if last.kind not in (Kind.PACED_REP, Kind.COUNTED_REP):
        return in_words(last)
    of = state.current or (state.done[-1] if state.done else None)
    return f"{plan.rep_word} {of.reps}" if of else plan.rep_word
