"""What is heard, and when. Every instant is counted from the start of the set, so that lateness never adds up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum
from itertools import count, takewhile
from typing import NamedTuple

from store.bout.due import turning
from store.bout.events import Event, Kind
from store.bout.fold import advance
from store.bout.plan import BoutPlan, to_ms
from store.bout.state import Mode, SetResult, State, cycle_ms, interval_phase
from store.bout.view import changes_side, look
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind

TOLD_EVERY_S = 10  # in a hold the seconds left are spoken so often, in oscillations those done
TOLD_LAST_S = 5  # and in a hold once more, so long before its end
TOLD_IN_LONG_S = 60  # in timed work, the minutes are
LAST_S = 3  # the last seconds of a countdown, a hold, a rest are ticked


class Tone(StrEnum):
    """The tones: up, stay, down; a tick; the end of a set."""

    RISING = "rising"
    LEVEL = "level"
    FALLING = "falling"
    TICK = "tick"
    END = "end"


class Cue(NamedTuple):
    """A tone due at an instant of the bout's clock, with a short word to be spoken, which may be empty."""

    at_ms: int
    tone: Tone
    say: str = ""


def cues_between(plan: BoutPlan, state: State, from_ms: int, until_ms: int) -> tuple[Cue, ...]:
    """The cues due from `from_ms` to just before `until_ms`, if no key is pressed until then.

    `state` is the state at `from_ms`: take the cues first, then fold in what is due.
    """
    return tuple(takewhile(lambda cue: cue.at_ms < until_ms, _from(plan, state, from_ms)))


def next_cue(plan: BoutPlan, state: State, from_ms: int) -> Cue | None:
    """The first cue due at `from_ms` or later, or None if none comes before a key is pressed."""
    return next(_from(plan, state, from_ms), None)


def cue_of(plan: BoutPlan, state: State, event: Event) -> Cue | None:
    """What answers a press at once, so that it is heard to have been taken. `state` is the one after the event.

    The start and the end of a set have cues of their own.
    """
    at_ms = event.at_ms
    match event.kind:
        case Kind.COUNTED_REP:
            return Cue(at_ms, Tone.TICK, _counted(plan, state.current) if state.current else "")
        case Kind.FAULT | Kind.LOST_CONTROL:
            return Cue(at_ms, Tone.TICK)
        case Kind.STOPPED | Kind.PAUSE | Kind.GAP:
            return Cue(at_ms, Tone.FALLING, "paused")
        case Kind.WENT_ON | Kind.RESUME if state.mode is not Mode.COUNTDOWN:
            return Cue(at_ms, Tone.RISING, look(plan, state, at_ms).word.lower())
    return None


def _from(plan: BoutPlan, state: State, from_ms: int) -> Iterator[Cue]:
    """All cues from an instant on, in order, span by span."""
    while True:
        event = turning(plan, state)
        end_ms = None if event is None else event.at_ms
        for cue in _span(plan, state):
            if cue.at_ms >= from_ms and (end_ms is None or cue.at_ms < end_ms):
                yield cue
        if event is None:
            return
        state = advance(plan, state, event)


def _span(plan: BoutPlan, state: State) -> Iterable[Cue]:
    """The cues of what lies between two turnings: a countdown, one rep, one hold, one shift, one rest."""
    match state.mode:
        case Mode.COUNTDOWN:
            return _last_seconds(state.since_ms, to_ms(plan.countdown_s), plan.countdown_s)
        case Mode.WORKING:
            return _in_work(plan, state)
        case Mode.REST:
            return _rest(plan, state)
        case Mode.DONE if not state.ended:
            return (Cue(state.since_ms, Tone.END, "done"),)
    return ()


def _in_work(plan: BoutPlan, state: State) -> Iterable[Cue]:
    now = state.current
    if now is None:
        return ()
    match plan.kind:
        case BoutKind.PACED | BoutKind.HOP_HOLD if now.reps < plan.target:
            start_ms = state.since_ms + state.rep_from_ms
            return _phases(state.rep_phases, start_ms, str(now.reps + 1))
        case BoutKind.COUNTED:
            return _metronome(state)
        case BoutKind.HOLD_TO_LOSS:
            # A test is not helped along: only its start and its end are heard.
            return (Cue(state.since_ms, Tone.RISING, "hold"),)
        case BoutKind.HOLD_FIXED:
            return _hold(state)
        case BoutKind.TIMED:
            return _timed(state, plan.word.lower())
        case BoutKind.OSCILLATIONS:
            return _beats(plan, state)
        case BoutKind.REACHES:
            return (Cue(state.since_ms, Tone.RISING, plan.way_of(now.n, 0)),)
        case BoutKind.WALK_RUN if len(now.intervals) < plan.intervals:
            return _interval(state, now)
        case BoutKind.SHIFTS if now.shifts:
            start_ms = state.since_ms + (len(now.shifts) - 1) * to_ms(plan.shift_s)
            return (Cue(start_ms, Tone.LEVEL, now.shifts[-1].direction),)
    return ()


def _phases(phases: tuple[Phase, ...], start_ms: int, first: str) -> Iterator[Cue]:
    """One rep: up with its number, the middle phases level, back down."""
    for i, phase in enumerate(phases):
        tone = Tone.RISING if i == 0 else Tone.FALLING if i == len(phases) - 1 else Tone.LEVEL
        yield Cue(start_ms, tone, first if i == 0 else phase.word.lower())
        start_ms += to_ms(phase.seconds)


def _metronome(state: State) -> Iterator[Cue]:
    """Counted reps: up and down at the pace of the phases, if there are any; the count is the pedal's."""
    if not state.rep_phases:
        yield Cue(state.since_ms, Tone.RISING, "go")
        return
    for n in count():
        start_ms = state.since_ms + n * cycle_ms(state.rep_phases)
        yield from (cue._replace(say="") for cue in _phases(state.rep_phases, start_ms, ""))


def _counted(plan: BoutPlan, now: SetResult) -> str:
    """What answers a rep that was counted: its number, or the direction of the next reach."""
    if plan.kind is not BoutKind.REACHES:
        return str(now.reps)
    return plan.way_of(now.n, now.reps) if now.reps < plan.target else ""


def _beats(plan: BoutPlan, state: State) -> Iterator[Cue]:
    """Oscillations: a tone each, level, so that the rate is heard; every ten seconds are spoken."""
    yield Cue(state.since_ms, Tone.RISING, plan.word.lower())
    for n in count(1):
        ran_ms = round(n * 1000 / plan.rate)
        if ran_ms >= state.times.hold_ms:
            return
        told = ran_ms % to_ms(TOLD_EVERY_S) == 0
        yield Cue(state.since_ms + ran_ms, Tone.LEVEL, str(ran_ms // 1000) if told else "")


def _interval(state: State, now: SetResult) -> Iterator[Cue]:
    """One interval: level for the first of a round, rising for what follows it; its last seconds ticked."""
    at = len(now.intervals) % len(state.rep_phases)
    phase = interval_phase(state, now)
    start_ms = state.since_ms + state.rep_from_ms
    yield Cue(start_ms, Tone.RISING if at else Tone.LEVEL, phase.word.lower())
    yield from _last_seconds(start_ms, to_ms(phase.seconds), LAST_S)


def _hold(state: State) -> Iterator[Cue]:
    """A hold counts down: the seconds left at each ten, at five, and the last three.

    `rep_from_ms` is where one that was counted in again went on.
    """
    yield Cue(state.since_ms + state.rep_from_ms, Tone.RISING, "hold")
    hold_ms = state.times.hold_ms
    tens = range((hold_ms - 1) // to_ms(TOLD_EVERY_S) * TOLD_EVERY_S, 0, -TOLD_EVERY_S)
    for left_s in (*tens, *([TOLD_LAST_S] if hold_ms > to_ms(TOLD_LAST_S) else [])):
        yield Cue(state.since_ms + hold_ms - to_ms(left_s), Tone.TICK, str(left_s))
    yield from _last_seconds(state.since_ms, hold_ms, LAST_S)


def _timed(state: State, word: str) -> Iterator[Cue]:
    """Timed work tells each minute that was done, and ticks its last three seconds."""
    yield Cue(state.since_ms, Tone.RISING, word)
    for s in range(TOLD_IN_LONG_S, state.times.hold_ms // 1000 - LAST_S, TOLD_IN_LONG_S):
        yield Cue(state.since_ms + to_ms(s), Tone.TICK, f"{s // 60} min")
    yield from _last_seconds(state.since_ms, state.times.hold_ms, LAST_S)


def _rest(plan: BoutPlan, state: State) -> Iterator[Cue]:
    ended = Cue(state.since_ms, Tone.END, "change sides" if changes_side(plan, state) else "rest")
    if not state.rest_over:
        yield ended
        yield from _last_seconds(state.since_ms, state.times.rest_ms, LAST_S)
    elif state.times.rest_ms > 0:
        yield Cue(max(state.since_ms + state.times.rest_ms, state.floor_ms), Tone.LEVEL, "ready")
    else:
        yield ended


def _last_seconds(since_ms: int, length_ms: int, most: int) -> Iterator[Cue]:
    """The last seconds of a span, ticked and counted down."""
    for s in range(most, 0, -1):
        at_ms = since_ms + length_ms - to_ms(s)
        if at_ms >= since_ms:
            yield Cue(at_ms, Tone.TICK, str(s))
