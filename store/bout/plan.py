"""What a bout is planned as, before it starts. The record keeps it as plain data, so that it can be replayed."""

from __future__ import annotations

from dataclasses import asdict, dataclass, fields
from typing import Any, TypeVar

from store.bout.directions import balanced
from store.knowledge.kinds import Activity, Phase
from store.knowledge.words import BoutKind, Side

T = TypeVar("T")


def to_ms(seconds: float) -> int:
    """Whole milliseconds, the unit of the bout's clock."""
    return round(seconds * 1000)


@dataclass(frozen=True, slots=True)
class Turn:
    """One stretch of work between two rests: set (or trial) `n`, from 1, on one side (None: neither)."""

    side: Side | None
    n: int


@dataclass(frozen=True, slots=True)
class Overrides:
    """What is asked for this time instead of the activity's usual dose. None leaves the usual."""

    sides: tuple[Side | None, ...] | None = None
    sets: int | None = None
    reps: int | None = None
    phases: tuple[Phase, ...] | None = None
    hold_s: float | None = None
    cap_s: float | None = None
    rest_s: float | None = None
    shift_s: float | None = None
    duration_s: float | None = None
    countdown_s: int | None = None
    auto_next: bool | None = None


@dataclass(frozen=True, slots=True)
class BoutPlan:
    """A bout as planned. `sets` are a side's: in a hold to loss, its trials. Unused parts are zero or empty.

    `reps` 0 in counted reps means as many as can be done. `directions` has the shifts of all turns, turn by turn.
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
    def shifts(self) -> int:
        """Direction shifts in one turn."""
        return len(self.directions) // (self.last_turn + 1)

    @property
    def duration_s(self) -> float:
        """Seconds of direction shifts in one turn."""
        return self.shifts * self.shift_s

    def directions_of(self, turn: int) -> tuple[str, ...]:
        """The directions of one turn, by its index."""
        return self.directions[turn * self.shifts : (turn + 1) * self.shifts]

    def as_data(self) -> dict[str, Any]:
        """The plan as plain JSON data."""
        data = asdict(self)
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


def plan_for(activity: Activity, injured: Side, *, seed: int, overrides: Overrides | None = None) -> BoutPlan:
    """The plan of an activity for an ankle injured on one side; `seed` fixes the order of directions.

    Both sides: the uninjured one first, all its sets or trials, then the injured one. Raises ValueError with a
    sentence when the dose cannot run.
    """
    asked = overrides or Overrides()
    dose = activity.dose
    sides = _or(asked.sides, _sides(activity, injured))
    sets = _or(asked.sets, dose.sets)
    shift_s = _or(asked.shift_s, dose.shift_s)
    duration_s = _or(asked.duration_s, dose.hold_s or dose.reps * shift_s)
    turns = len(sides) * max(sets, 0)
    return BoutPlan(
        activity=activity.id,
        name=activity.name,
        kind=activity.kind,
        injured=injured,
        sides=sides,
        sets=sets,
        reps=_or(asked.reps, dose.reps),
        phases=_or(asked.phases, dose.phases),
        hold_s=_or(asked.hold_s, dose.hold_s),
        cap_s=_or(asked.cap_s, dose.cap_s),
        rest_s=_or(asked.rest_s, dose.rest_s),
        countdown_s=_or(asked.countdown_s, 3),
        auto_next=_or(asked.auto_next, False),
        directions=_directions(activity, turns, duration_s, shift_s, seed),
        shift_s=shift_s,
        ask_pain=activity.ask_pain,
        painless=activity.painless,
        measure=activity.measure,
        own_protocol=bool(activity.measure) and _as_the_measure_says(activity, asked),
    )


def _or(asked: T | None, usual: T) -> T:
    return usual if asked is None else asked


def _sides(activity: Activity, injured: Side) -> tuple[Side | None, ...]:
    if activity.sides == "both":
        return (injured.other, injured)
    return (None,) if activity.sides == "none" else (injured,)


def _directions(activity: Activity, turns: int, duration_s: float, shift_s: float, seed: int) -> tuple[str, ...]:
    if activity.kind is not BoutKind.SHIFTS or shift_s <= 0 or not activity.directions:
        return ()
    shifts = int(duration_s // shift_s)
    # Each turn is balanced by itself, since the two feet are compared by direction.
    return tuple(way for turn in range(turns) for way in balanced(activity.directions, shifts, seed + turn))


def _as_the_measure_says(activity: Activity, asked: Overrides) -> bool:
    fixed = ("sets", "reps", "phases", "hold_s", "cap_s")
    return all(getattr(asked, name) in (None, getattr(activity.dose, name)) for name in fixed)


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
        case BoutKind.PACED if plan.reps < 1:
            return "it needs at least one rep"
        case BoutKind.PACED if not plan.phases:
            return "it needs the phases of a rep"
        case BoutKind.HOLD_TO_LOSS if to_ms(plan.cap_s) <= 0:
            return "it needs a cap, in seconds"
        case BoutKind.HOLD_FIXED if to_ms(plan.hold_s) <= 0:
            return "it needs the seconds of a hold"
        case BoutKind.SHIFTS if to_ms(plan.shift_s) <= 0 or plan.shifts < 1:
            return "it needs directions, and time for at least one direction"
    return ""


def _from_plain(data: dict[str, Any]) -> dict[str, Any]:
    plain = {field.name: data[field.name] for field in fields(BoutPlan)}
    return plain | {
        "kind": BoutKind(data["kind"]),
        "injured": Side(data["injured"]),
        "sides": tuple(Side(side) if side else None for side in data["sides"]),
        "phases": phases_from_data(data["phases"]),
        "directions": tuple(data["directions"]),
    }
