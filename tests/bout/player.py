"""A bout driven as the screen drives it: first what is due, then a key. And the plans that the tests use."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Concatenate, ParamSpec

from store.bout.due import due
from store.bout.events import Event, Kind
from store.bout.fold import advance
from store.bout.keys import NotNow
from store.bout.plan import BoutPlan
from store.bout.press import Guard, guarded
from store.bout.state import State, opening
from store.bout.view import View, look
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind, Side

P = ParamSpec("P")

GLIDES = BoutPlan(
    activity="glides",
    name="glides with a belt",
    kind=BoutKind.PACED,
    injured=Side.RIGHT,
    sides=(Side.RIGHT,),
    sets=3,
    reps=10,
    phases=(Phase("LUNGE", 3), Phase("HOLD", 2), Phase("BACK", 3)),
    rest_s=60,
    ask_pain=True,
    painless=True,
)
RAISES = BoutPlan(
    activity="raises",
    name="heel raises",
    kind=BoutKind.COUNTED,
    injured=Side.RIGHT,
    sides=(Side.LEFT, Side.RIGHT),
    phases=(Phase("UP", 1), Phase("DOWN", 1)),
    rest_s=120,
    measure="heel_raise",
    own_protocol=True,
)
STANCE = BoutPlan(
    activity="stance",
    name="stance, eyes open",
    kind=BoutKind.HOLD_TO_LOSS,
    injured=Side.RIGHT,
    sides=(Side.LEFT, Side.RIGHT),
    sets=3,
    cap_s=45,
    rest_s=30,
    measure="stance_open",
    own_protocol=True,
)
HOLD = BoutPlan(
    activity="hold",
    name="single-leg hold",
    kind=BoutKind.HOLD_FIXED,
    injured=Side.RIGHT,
    sides=(Side.LEFT, Side.RIGHT),
    sets=3,
    hold_s=30,
    rest_s=30,
)
SHIFTS = BoutPlan(
    activity="shifts",
    name="direction shifts",
    kind=BoutKind.SHIFTS,
    injured=Side.RIGHT,
    sides=(Side.RIGHT,),
    rest_s=30,
    shift_s=5,
    directions=("forward", "in", "back", "out"),
)
OSCILLATIONS = BoutPlan(
    activity="oscillations",
    name="glide, grade III",
    kind=BoutKind.OSCILLATIONS,
    injured=Side.RIGHT,
    sides=(Side.RIGHT,),
    sets=2,
    hold_s=120,
    rest_s=60,
    rate=2,
    word="GLIDE",
)
WALK_RUN = BoutPlan(
    activity="walk_run",
    name="walk-run",
    kind=BoutKind.WALK_RUN,
    injured=Side.RIGHT,
    sides=(None,),
    reps=2,
    phases=(Phase("WALK", 120), Phase("RUN", 60)),
)
REACHES = BoutPlan(
    activity="reaches",
    name="reaches",
    kind=BoutKind.REACHES,
    injured=Side.RIGHT,
    sides=(Side.LEFT, Side.RIGHT),
    reps=2,
    rest_s=30,
    directions=("front", "back in", "back out"),
)
HOPS = BoutPlan(
    activity="hops",
    name="hop and hold",
    kind=BoutKind.HOP_HOLD,
    injured=Side.RIGHT,
    sides=(Side.RIGHT,),
    reps=3,
    phases=(Phase("HOP", 2), Phase("HOLD", 3), Phase("BACK", 2)),
    rest_s=30,
)
TIMED = BoutPlan(
    activity="walk",
    name="brisk walk",
    kind=BoutKind.TIMED,
    injured=Side.RIGHT,
    sides=(None,),
    hold_s=150,
    word="WALK",
)
PLANS = (
    GLIDES, replace(RAISES, reps=5), RAISES, STANCE, HOLD, SHIFTS, OSCILLATIONS, WALK_RUN, REACHES, HOPS, TIMED,
)  # fmt: skip
REP_MS = 8000  # one of GLIDES' reps
FIRST_MS = 3000  # work begins so long after the start


class Player:
    """Plays a bout at a clock that stands where it is put."""

    def __init__(self, plan: BoutPlan) -> None:
        self.plan = plan
        self.state: State = opening(plan)
        self.events: list[Event] = []
        self.at_ms = 0
        self.guard = Guard()

    @property
    def view(self) -> View:
        """What the screen shows now."""
        return look(self.plan, self.state, self.at_ms)

    def take(self, event: Event) -> None:
        """Commit an event and fold it."""
        self.events.append(event)
        self.state = advance(self.plan, self.state, event)

    def to(self, at_ms: int) -> None:
        """Let time go on to an instant."""
        self.at_ms = at_ms
        for event in due(self.plan, self.state, at_ms):
            self.take(event)

    def wait(self, seconds: float) -> None:
        """Let time go on."""
        self.to(self.at_ms + round(seconds * 1000))

    def press(self) -> Kind | None:
        """Press the pedal now; the kind of the event it made."""
        self.guard, event = guarded(self.plan, self.state, self.guard, self.at_ms)
        if event is not None:
            self.take(event)
            self.to(self.at_ms)
        return None if event is None else event.kind

    def key(
        self,
        does: Callable[Concatenate[BoutPlan, State, int, P], Event | NotNow],
        *args: P.args,
        **kwargs: P.kwargs,
    ) -> str:
        """Press a key now; the sentence why not, or nothing."""
        answer = does(self.plan, self.state, self.at_ms, *args, **kwargs)
        if isinstance(answer, NotNow):
            return answer.says
        self.take(answer)
        self.to(self.at_ms)
        return ""

    def start(self) -> None:
        """Press, and let the countdown run out."""
        self.wait(1)
        self.press()
        self.wait(self.plan.countdown_s)

    def kinds(self, *leave_out: Kind) -> list[Kind]:
        """The kinds of all events, without the beats and those named."""
        return [event.kind for event in self.events if event.kind not in (Kind.BEAT, *leave_out)]
