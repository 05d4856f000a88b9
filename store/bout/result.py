"""What becomes of a bout: trials that may be readings, and the dose planned and done."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from store.bout.plan import BoutPlan, to_ms
from store.bout.state import SetResult, State, cycle_ms, most_pain
from store.knowledge.words import BoutKind, Side, Status


class SideTrials(NamedTuple):
    """What one side did. `trials` are the seconds of holds, cut to 0.1, or counted reps: of whole trials alone.

    `status` is "cap reached" as soon as one trial reached the cap: best and mean are then lower bounds. `controls`
    and `pains` are those given, in order. `missing` is a sentence if trials were left out, else empty.
    """

    side: Side | None
    trials: tuple[float, ...]
    status: Status
    controls: tuple[int, ...]
    pains: tuple[int, ...]
    missing: str


class Dose(NamedTuple):
    """How much work: sets, reps (reaches, hops, oscillations), holds, and seconds under load."""

    sets: int
    reps: int
    holds: int
    seconds: float


class Outcome(NamedTuple):
    """What becomes of a bout. It may make readings of `measure` only when `why_not` is empty.

    `why_not` says, as sentences, what keeps all of it from the measure's own protocol; what a side lacks stands in
    its `missing`.
    """

    measure: str
    why_not: tuple[str, ...]
    sides: tuple[SideTrials, ...]
    planned: Dose
    done: Dose

    @property
    def to_protocol(self) -> bool:
        """Was it done to the measure's own protocol, so that readings may be made of it?"""
        return not self.why_not


def cut_short(plan: BoutPlan, done: Sequence[SetResult]) -> bool:
    """Whether an ended bout did not come to the end of its plan."""
    return len(done) < len(plan.turns) or not all(result.complete for result in done)


def pain_that_ends(plan: BoutPlan, done: Sequence[SetResult]) -> int | None:
    """The pain, 0-10, for which an ended bout was not to be gone on with, or None.

    It was cut short, and the last pain told was more than it runs on through; or it must be painless, and pain was
    told of two sets: then whether it was cut short or not, and the worst of them.
    """
    told = [result.pains for result in done if result.pains]
    if told and plan.painless and sum(max(pains) >= 1 for pains in told) >= 2:
        return max(map(max, told))
    last = told[-1][-1] if told and cut_short(plan, done) else 0
    return last if last > most_pain(plan) else None


def outcome(plan: BoutPlan, state: State) -> Outcome:
    """What becomes of a bout, by the state it has come to; ended early it is what was done until then."""
    sides = tuple(_side(plan, state, side) for side in plan.sides)
    return Outcome(plan.measure, _why_not(plan, state), sides, _planned(plan), _done(plan, state))


def _side(plan: BoutPlan, state: State, side: Side | None) -> SideTrials:
    results = [result for result in state.done if result.side is side]
    whole = [result for result in results if result.complete]
    capped = any(result.cap_reached for result in whole)
    return SideTrials(
        side=side,
        trials=tuple(_trial(plan, result) for result in whole),
        status=Status.CAP if capped else Status.MEASURED,
        controls=tuple(result.control for result in results if result.control is not None),
        pains=tuple(n for result in results for n in result.pains),
        missing=_missing(plan, side, len(whole)),
    )


def _trial(plan: BoutPlan, result: SetResult) -> float:
    counts = plan.target or plan.kind is BoutKind.COUNTED
    return float(result.reps) if counts else result.seconds


def _why_not(plan: BoutPlan, state: State) -> tuple[str, ...]:
    if not plan.measure:
        return ("This activity is training, and measures nothing.",)
    says = []
    if not plan.own_protocol:
        says.append("It was planned otherwise than the measure's own protocol.")
    if not plan.holds and plan.kind is not BoutKind.COUNTED:
        says.append("Only holds and counted reps become readings.")
    if (state.times.phases, state.times.hold_ms) != (plan.phases, to_ms(plan.hold_s)):
        says.append("Its times were changed while it ran.")
    return tuple(says)


def _missing(plan: BoutPlan, side: Side | None, whole: int) -> str:
    where = f" on the {side}" if side else ""
    of = f"{plan.sets} {plan.unit}{'' if plan.sets == 1 else 's'}"
    return "" if whole == plan.sets else f"{whole} of {of} {'was' if whole == 1 else 'were'} done{where}."


def _planned(plan: BoutPlan) -> Dose:
    """The dose of the plan; a count or a time to loss that only its end can tell is 0."""
    turns = len(plan.turns)
    seconds = _planned_s(plan)
    reps = plan.target or int(seconds * plan.rate)
    return Dose(turns, turns * reps, turns if plan.holds else 0, turns * seconds)


def _planned_s(plan: BoutPlan) -> float:
    """Seconds of one turn as planned."""
    if plan.by_time:
        return plan.hold_s
    if plan.kind is BoutKind.SHIFTS:
        return plan.duration_s
    return plan.reps * cycle_ms(plan.phases) / 1000


def _done(plan: BoutPlan, state: State) -> Dose:
    done = state.done
    worked_ms = sum(result.worked_ms for result in done)
    return Dose(
        sets=len(done),
        reps=sum(result.reps or int(result.worked_ms * plan.rate) // 1000 for result in done),
        holds=len(done) if plan.holds else 0,
        seconds=worked_ms // 100 / 10,
    )
