"""Doses and what came of them in a few words: "3 x 10", "2 x 2 min", "5 x walk 4 run 1 min"."""

from __future__ import annotations

from collections.abc import Sequence

from store.bout.plan import BoutPlan
from store.bout.state import SetResult
from store.care.in_words import many
from store.knowledge.kinds import Activity, Phase
from store.knowledge.words import BoutKind, Side


def time_words(seconds: float) -> str:
    """Whole minutes from two on, else seconds: "2 min", "90 s"."""
    return f"{seconds / 60:g} min" if seconds >= 120 and seconds % 60 == 0 else f"{seconds:g} s"


def rep_words(n: int, plan: BoutPlan) -> str:
    """So many reps by the name they have here: "1 hop", "6 reaches"."""
    return many(n, plan.rep_word) if n == 1 or plan.rep_word != "reach" else f"{n} reaches"


def work_words(plan: BoutPlan, seconds: float) -> str:
    """The seconds of all sets together: of timed work in minutes, elsewhere as time under load."""
    if plan.kind in (BoutKind.TIMED, BoutKind.OSCILLATIONS, BoutKind.WALK_RUN):
        return f"{_clock(int(seconds))} in all"
    return f"{seconds:g} s under load"


def intervals_words(phases: Sequence[Phase]) -> str:
    """One round of a walk-run: "walk 4 run 1 min"."""
    whole = all(phase.seconds % 60 == 0 for phase in phases)
    unit, by = ("min", 60) if whole else ("s", 1)
    return f"{' '.join(f'{phase.word.lower()} {phase.seconds / by:g}' for phase in phases)} {unit}"


def dose_words(activity: Activity, injured: Side | None) -> str:
    """A dose in a few words: "3 x 10", "3 x 30 s a side", "60 s, right"."""
    dose = activity.dose
    where = {"both": " a side", "injured": f", {injured}" if injured else ", injured side"}.get(activity.sides, "")
    sets = f"{dose.sets} x " if dose.sets > 1 else ""
    return f"{sets}{_amount(activity)}{where}"


def _amount(activity: Activity) -> str:
    """What one set is."""
    dose = activity.dose
    match activity.kind:
        case BoutKind.SHIFTS:
            return f"{dose.reps * dose.shift_s:g} s"
        case BoutKind.HOLD_FIXED:
            return f"{dose.hold_s:g} s"
        case BoutKind.TIMED | BoutKind.OSCILLATIONS:
            return time_words(dose.hold_s)
        case BoutKind.HOLD_TO_LOSS:
            return f"up to {dose.cap_s:g} s"
        case BoutKind.WALK_RUN:
            return f"{dose.reps} x {intervals_words(dose.phases)}"
        case BoutKind.REACHES:
            return f"{dose.reps} each way"
        case BoutKind.HOP_HOLD:
            return many(dose.reps, "hop")
    return f"{dose.reps}" if dose.reps else "as many as can be"


def came_to(plan: BoutPlan, results: Sequence[SetResult]) -> str:
    """What sets of one side came to: "3 x 10", "2 x 2 min", "2 holds, no fault". Something was done in them."""
    faults = sum(result.faults for result in results)
    told_faults = many(faults, "fault") if faults else "no fault"
    match plan.kind:
        case BoutKind.HOLD_TO_LOSS:
            return many(len(results), plan.unit)
        case BoutKind.HOLD_FIXED:
            return f"{many(len(results), 'trial' if plan.unit == 'trial' else 'hold')}, {told_faults}"
        case BoutKind.SHIFTS:
            shifts = [shift for result in results for shift in result.shifts]
            return f"{sum(shift.controlled for shift in shifts)} of {len(shifts)} in control"
        case BoutKind.TIMED | BoutKind.OSCILLATIONS:
            return _times_text([result.seconds for result in results])
        case BoutKind.WALK_RUN:
            return ", ".join(interval_totals(results))
        case BoutKind.HOP_HOLD:
            hops = sum(result.reps for result in results)
            return f"{sum(result.clean for result in results)} of {many(hops, 'hop')} without a fault"
    return _reps_text([result.reps for result in results])


def interval_totals(results: Sequence[SetResult]) -> list[str]:
    """How long each part of a walk-run lasted, all intervals together: "walk 20 min", "run 4 min 30 s"."""
    totals: dict[str, int] = {}
    for result in results:
        for interval in result.intervals:
            totals[interval.word] = totals.get(interval.word, 0) + interval.worked_ms
    return [f"{word.lower()} {_clock(ms // 1000)}" for word, ms in totals.items()]


def _clock(seconds: int) -> str:
    minutes, rest = divmod(seconds, 60)
    parts = [f"{minutes} min"] * bool(minutes) + [f"{rest} s"] * bool(rest or not minutes)
    return " ".join(parts)


def _times_text(seconds: Sequence[float]) -> str:
    whole = [_clock(int(each)) for each in seconds]
    if len(set(whole)) > 1:
        return ", ".join(whole)
    return whole[0] if len(whole) == 1 else f"{len(whole)} x {whole[0]}"


def _reps_text(reps: Sequence[int]) -> str:
    alike = len(set(reps)) == 1
    return f"{len(reps)} x {reps[0]}" if alike else "reps " + " ".join(map(str, reps))
