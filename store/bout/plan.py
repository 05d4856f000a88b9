"""What a bout is planned as, before it starts. The record keeps it as plain data, so that it can be replayed."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, NamedTuple

from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind, Side

MOST_A_SECOND = 5  # faster oscillations are no hand's, nor could their tones be told apart (common practice)


MOST_PAIN = 5  # bouts kept before the figure of the knowledge stood in their plans ran under this one


def to_ms(seconds: float) -> int:
    """Whole milliseconds, the unit of the bout's clock."""
    return round(seconds * 1000)


class Turn(NamedTuple):
    """One stretch of work between two rests: set (or trial) `n`, from 1, on one side (None: neither)."""

    side: Side | None
    n: int


@dataclass(frozen=True, slots=True)
class BoutPlan:
    """A bout as planned. `sets` are a side's: in a hold to loss, its trials. Unused parts are zero or empty.

    `reps` 0 in counted reps means as many as can be done; of reaches they are those of one direction, of a
    walk-run how often its phases come round. `hold_s` are the seconds of a hold, of timed work or of a set of
    oscillations. `directions` has the shifts of all turns, turn by turn; reaches in order; of reps one a set.
    `most_pain` is the highest, 0-10, through which it runs on, unless it must be `painless`.
    `own_protocol`: planned just as `measure` demands, so that it may become a reading. Raises ValueError with a
    sentence for a plan that cannot run.
    """

    activity: str
    name: str
    kind: BoutKind
    injured: Side
    sides: tuple[Side | None, ...]
    sets: int = 1
    reps: int = 0
    phases: tuple[Phase, ...] = ()
    hold_s: float = 0.0
    cap_s: float = 0.0
    rest_s: float = 0.0
    countdown_s: int = 3
    auto_next: bool = False
    directions: tuple[str, ...] = ()
    shift_s: float = 0.0
    ask_pain: bool = False
    painless: bool = False
    measure: str = ""
    own_protocol: bool = False
    rate: float = 0.0
    word: str = ""
    most_pain: int = MOST_PAIN

    def __post_init__(self) -> None:
        """Refuse what could not be walked to its end."""
        says = _cannot_run(self)
        if says:
            raise ValueError(f"{self.name}: {says}")

    @property
    def turns(self) -> tuple[Turn, ...]:
        """All sets or trials in the order they are done: every one of the first side, then of the second."""
        return tuple(Turn(side, n) for side in self.sides for n in range(1, self.sets + 1))

    @property
    def last_turn(self) -> int:
        """The index of the last turn."""
        return len(self.sides) * self.sets - 1

    @property
    def trials(self) -> int:
        """Trials a side, 0 where the work is counted in sets."""
        return self.sets if self.unit == "trial" else 0

    @property
    def unit(self) -> str:
        """What one turn is called: a trial in a test, a set in training."""
        return "trial" if self.kind is BoutKind.HOLD_TO_LOSS or self.own_protocol else "set"

    @property
    def holds(self) -> bool:
        """Is one position held, so that the seconds count and control can be graded after?"""
        return self.kind in (BoutKind.HOLD_TO_LOSS, BoutKind.HOLD_FIXED)

    @property
    def by_time(self) -> bool:
        """Does a set last `hold_s`, whatever is done in it?"""
        return self.kind in (BoutKind.HOLD_FIXED, BoutKind.TIMED, BoutKind.OSCILLATIONS)

    @property
    def paced(self) -> bool:
        """Does the clock count the reps?"""
        return self.kind in (BoutKind.PACED, BoutKind.HOP_HOLD)

    @property
    def target(self) -> int:
        """Reps to do in one turn, 0 where none are counted or as many as can be done."""
        if self.kind is BoutKind.REACHES:
            return self.reps * len(self.directions)
        return self.reps if self.paced or self.kind is BoutKind.COUNTED else 0

    @property
    def rep_word(self) -> str:
        """What one rep is called."""
        words = {BoutKind.REACHES: "reach", BoutKind.HOP_HOLD: "hop", BoutKind.OSCILLATIONS: "oscillation"}
        return words.get(self.kind, "rep")

    @property
    def intervals(self) -> int:
        """Intervals of a walk-run, 0 in other kinds."""
        return self.reps * len(self.phases) if self.kind is BoutKind.WALK_RUN else 0

    @property
    def shifts(self) -> int:
        """Direction shifts in one turn."""
        return len(self.directions) // (self.last_turn + 1) if self.kind is BoutKind.SHIFTS else 0

    @property
    def duration_s(self) -> float:
        """Seconds of direction shifts in one turn."""
        return self.shifts * self.shift_s

    def directions_of(self, turn: int) -> tuple[str, ...]:
        """The directions of one turn, by its index."""
        return self.directions[turn * self.shifts : (turn + 1) * self.shifts]

    def way_of(self, n: int, reps: int) -> str:
        """The direction in set `n` after so many reps: the next reach, or that of the set; empty for none."""
        if not self.directions or self.kind is BoutKind.SHIFTS:
            return ""
        at = reps if self.kind is BoutKind.REACHES else n - 1
        return self.directions[at % len(self.directions)]

    def as_data(self) -> dict[str, Any]:
        """The plan as plain JSON data."""
        data = {field.name: getattr(self, field.name) for field in fields(self)}
        data["sides"] = list(self.sides)
        data["phases"] = phases_as_data(self.phases)
        data["directions"] = list(self.directions)
        return data

    @classmethod
    def from_data(cls, data: dict[str, Any]) -> BoutPlan:
        """The plan from its kept data. Raises ValueError with a sentence when it does not fit."""
        try:
            return cls(**_from_plain(data))
        except KeyError as missing:
            raise ValueError(f"This bout's plan cannot be read: {missing} is missing.") from missing
        except (TypeError, AttributeError, ValueError, OverflowError) as wrong:
            raise ValueError(f"This bout's plan cannot be read: {wrong}.") from wrong


def phases_as_data(phases: tuple[Phase, ...]) -> list[dict[str, Any]]:
    """Phases as plain JSON data."""
    return [{"word": phase.word, "seconds": phase.seconds} for phase in phases]


def phases_from_data(data: list[dict[str, Any]]) -> tuple[Phase, ...]:
    """Phases from plain JSON data. Raises KeyError, TypeError or ValueError when it does not fit."""
    return tuple(Phase(str(phase["word"]), float(phase["seconds"])) for phase in data)


def phases_run(phases: tuple[Phase, ...]) -> bool:
    """Can these phases pace a rep? There is one at least, and each takes time."""
    return bool(phases) and all(to_ms(phase.seconds) > 0 for phase in phases)


def _cannot_run(plan: BoutPlan) -> str:
    """Why a plan cannot run, or nothing."""
    if not plan.sides:
        return "it needs at least one side"
    if plan.sets < 1:
        return "it needs at least one set"
    if min(plan.rest_s, plan.countdown_s, plan.reps) < 0:
        return "a time or a count is below zero"
    if plan.phases and not phases_run(plan.phases):
        return "the phases of a rep must each take time"
    return _kind_cannot_run(plan)


def _kind_cannot_run(plan: BoutPlan) -> str:
    match plan.kind:
        case BoutKind.PACED | BoutKind.HOP_HOLD if plan.reps < 1:
            return "it needs at least one rep"
        case BoutKind.PACED | BoutKind.HOP_HOLD if not plan.phases:
            return "it needs the phases of a rep"
        case BoutKind.WALK_RUN if plan.reps < 1 or not plan.phases:
            return "it needs intervals, and how often they come round"
        case BoutKind.WALK_RUN if plan.last_turn:
            return "intervals are walked and run in one go: one set, no sides"
        case BoutKind.REACHES if plan.target < 1:
            return "it needs directions, and at least one reach in each"
        case BoutKind.HOLD_TO_LOSS if to_ms(plan.cap_s) <= 0:
            return "it needs a cap, in seconds"
        case BoutKind.OSCILLATIONS if not 0 < plan.rate <= MOST_A_SECOND:
            return f"it needs a rate, at most {MOST_A_SECOND} a second"
        case BoutKind.HOLD_FIXED | BoutKind.TIMED | BoutKind.OSCILLATIONS if to_ms(plan.hold_s) <= 0:
            return "it needs the seconds of a hold" if plan.holds else "it needs the seconds of a set"
        case BoutKind.SHIFTS if to_ms(plan.shift_s) <= 0 or plan.shifts < 1:
            return "it needs directions, and time for at least one direction"
    return ""


_LATER: dict[str, Any] = {"rate": 0.0, "word": "", "most_pain": MOST_PAIN}
"""Parts that plans kept by an earlier version do not have."""


def _from_plain(data: dict[str, Any]) -> dict[str, Any]:
    plain = {field.name: (_LATER | data)[field.name] for field in fields(BoutPlan)}
    return plain | {
        "kind": BoutKind(data["kind"]),
        "injured": Side(data["injured"]),
        "sides": tuple(Side(side) if side else None for side in data["sides"]),
        "phases": phases_from_data(data["phases"]),
        "directions": tuple(data["directions"]),
    }
