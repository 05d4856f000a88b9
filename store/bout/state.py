"""Where a bout stands: what its events have made of it so far. Nothing here reads a clock."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from store.bout.events import Event
from store.bout.plan import BoutPlan, to_ms
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind, Side

LONG_REST_S = 600  # after that a rest beats once a minute: a forgotten bout must not fill the record


class Mode(StrEnum):
    """What is going on."""

    READY = "ready"
    COUNTDOWN = "countdown"
    WORKING = "working"
    REST = "rest"
    PAUSED = "paused"
    DONE = "done"


class Question(StrEnum):
    """What is asked after a set."""

    PAIN = "pain"
    CONTROL = "control"


class Shift(NamedTuple):
    """One direction shift: in control unless said otherwise."""

    direction: str
    controlled: bool = True


class Interval(NamedTuple):
    """One interval of a walk-run: its word, how long it lasted, and whether it was cut short."""

    word: str
    worked_ms: int
    skipped: bool = False


class SetResult(NamedTuple):
    """What one set or trial came to. `pain` 0-10 and `control` 0-3 are None until answered.

    `reps` were paced by the clock or counted by the pedal, as `paced` says. `worked_ms` is time under load, pauses
    left out. `lost`: a hold ended by loss. `complete`: all that was planned was done. `fault_reps` has, for each
    fault of a hop and hold, the number of its hop.
    """

    turn: int
    side: Side | None
    n: int
    reps: int = 0
    paced: bool = False
    worked_ms: int = 0
    faults: int = 0
    fault_reps: tuple[int, ...] = ()
    shifts: tuple[Shift, ...] = ()
    intervals: tuple[Interval, ...] = ()
    pain_during: tuple[int, ...] = ()
    pain: int | None = None
    control: int | None = None
    lost: bool = False
    cap_reached: bool = False
    complete: bool = False

    @property
    def seconds(self) -> float:
        """Seconds worked, cut to 0.1 as a stopwatch shows them, so that 44.96 s never reads as a cap of 45."""
        return self.worked_ms // 100 / 10

    @property
    def clean(self) -> int:
        """Reps without a fault."""
        return self.reps - len({n for n in self.fault_reps if n <= self.reps})

    @property
    def pains(self) -> tuple[int, ...]:
        """Every pain told, in order: during the set, then after it."""
        return self.pain_during if self.pain is None else (*self.pain_during, self.pain)


class Times(NamedTuple):
    """The times in force, which can be changed in the bout."""

    phases: tuple[Phase, ...]
    hold_ms: int
    rest_ms: int


class Stood(NamedTuple):
    """How far a hold had come that is counted in again before it goes on: its time, and its seconds in events."""

    ran_ms: int
    beats: int


class State(NamedTuple):
    """Where a bout stands. Two states are equal when they stand alike, however they came there.

    `turn` indexes `plan.turns`: the one at hand or, in a rest, the next. `since_ms` is when the stretch at hand
    (countdown, work, rest) began, moved on by its pauses; `held_ms` is how far it had run when paused. `beats`
    counts the whole seconds that stand in events. `rep_from_ms` is where in the work the present rep began.
    Nothing falls due before `floor_ms`. `stood`: the countdown is one before a paused hold goes on. `kept` are the
    events that count, undone ones left out.
    """

    mode: Mode
    times: Times
    paused_in: Mode | None = None
    turn: int = 0
    since_ms: int = 0
    held_ms: int = 0
    beats: int = 0
    rep_from_ms: int = 0
    rep_phases: tuple[Phase, ...] = ()
    floor_ms: int = 0
    current: SetResult | None = None
    done: tuple[SetResult, ...] = ()
    rest_over: bool = False
    waits: bool = False
    sentence: str = ""
    left: bool = False
    ended: bool = False
    stood: Stood | None = None
    seq: int = 0
    known_ms: int = 0
    kept: tuple[Event, ...] = ()

    def __eq__(self, other: object) -> bool:
        """Whether it stands as another does; the last three parts are how it came there."""
        return isinstance(other, State) and self[:-3] == other[:-3]

    def __ne__(self, other: object) -> bool:
        """The opposite, which a tuple would answer by all its parts."""
        return not self == other

    def __hash__(self) -> int:
        """Alike for states that stand alike."""
        return hash(self[:-3])

    @property
    def doing(self) -> Mode:
        """What is going on or, when paused, what was."""
        return self.paused_in or self.mode

    @property
    def running(self) -> bool:
        """Does time count now?"""
        return self.mode in (Mode.COUNTDOWN, Mode.WORKING, Mode.REST)

    @property
    def in_set(self) -> bool:
        """Is a set under way, also while a hold is counted in again?"""
        return self.doing is Mode.WORKING or self.stood is not None

    @property
    def keeps(self) -> bool:
        """Is there something to keep if the bout ends now?"""
        return bool(self.done) or self.worth_keeping is not None

    @property
    def worth_keeping(self) -> SetResult | None:
        """The set under way, once a rep or a whole second of it stands in events."""
        if self.current is None or not self.in_set:
            return None
        beats = self.stood.beats if self.stood is not None else self.beats
        return self.current if self.current.reps or self.current.intervals or beats else None

    def run_ms(self, at_ms: int) -> int:
        """How long the stretch at hand has run, pauses left out; never less than what stands in events."""
        if self.mode is Mode.PAUSED:
            return self.held_ms
        return max(at_ms - self.since_ms, beat_ms(self.doing, self.beats), self.rep_from_ms)

    def worked_ms(self, at_ms: int) -> int:
        """The same of the set under way: of a hold that is counted in again what it had run before."""
        return self.stood.ran_ms if self.stood is not None else self.run_ms(at_ms)

    def enter(self, mode: Mode, at_ms: int, current: SetResult | None) -> State:
        """The state as a new stretch begins: a countdown, work, a rest, the end."""
        return self._replace(
            mode=mode,
            paused_in=None,
            since_ms=at_ms,
            held_ms=0,
            beats=0,
            rep_from_ms=0,
            floor_ms=0,
            current=current,
            rest_over=False,
            waits=False,
            sentence="",
            left=False,
            stood=None,
        )


def opening(plan: BoutPlan) -> State:
    """The state of a bout before anything happened."""
    times = Times(plan.phases, to_ms(plan.hold_s), to_ms(plan.rest_s))
    return State(mode=Mode.READY, times=times, rep_phases=plan.phases)


def beat_ms(mode: Mode, n: int) -> int:
    """When beat `n` falls, counted from the start of its stretch: each second, in a long rest each minute."""
    if mode is Mode.REST and n > LONG_REST_S:
        return (LONG_REST_S + (n - LONG_REST_S) * 60) * 1000
    return n * 1000


def cycle_ms(phases: tuple[Phase, ...]) -> int:
    """How long one paced rep takes."""
    return sum(to_ms(phase.seconds) for phase in phases)


def interval_phase(state: State, now: SetResult) -> Phase:
    """The phase of a walk-run's interval under way."""
    return state.rep_phases[len(now.intervals) % len(state.rep_phases)]


def questions(plan: BoutPlan, state: State) -> tuple[Question, ...]:
    """What is still to be answered about the set just done, in the order it is asked: what was seen, then felt."""
    if not state.done or state.ended or state.in_set:
        return ()
    last = state.done[-1]
    pain = plan.ask_pain and last.pain is None
    control = plan.holds and last.control is None
    return (Question.CONTROL,) * control + (Question.PAIN,) * pain


def most_pain(plan: BoutPlan) -> int:
    """The highest pain through which a bout runs on: none in a technique that must be painless."""
    return 0 if plan.painless else plan.most_pain


def advice(plan: BoutPlan, state: State) -> str:
    """What pain says about a technique that must be painless: change it the first time, then stop it.

    The rule of mobilisation with movement: no pain at any time (common practice). Pain told in a set and again
    after it is that set's, and counts once.
    """
    if not plan.painless:
        return ""
    results = state.done if state.current is None else (*state.done, state.current)
    told = [result for result in results if result.pains]
    painful = sum(max(result.pains) >= 1 for result in told)
    if painful >= 2:
        return "stop this technique"
    return "change the glide" if painful and told[-1].pains[-1] >= 1 else ""


def open_ended(plan: BoutPlan) -> bool:
    """Counted reps without a number to reach: they end when no more can be done."""
    return plan.kind is BoutKind.COUNTED and plan.target == 0
