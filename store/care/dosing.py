"""The parts of a dose that can be changed by a key: before the start all of them, in the bout its times."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from store.bout.plan import BoutPlan
from store.bout.planning import Overrides
from store.bout.state import Times
from store.care.dose_words import time_words
from store.care.in_words import many
from store.care.live_bout import Instant, LiveBout
from store.knowledge.kinds import Activity, Phase
from store.knowledge.words import BoutKind, Side


class Span(NamedTuple):
    """One key's step, and how far the keys go."""

    step: float
    least: float
    most: float


SPANS: Mapping[str, Span] = MappingProxyType(
    {
        "sets": Span(1, 1, 20),
        "reps": Span(1, 1, 100),
        "shifts": Span(1, 1, 60),
        "shift_s": Span(1, 1, 30),
        "phase_s": Span(0.5, 0.5, 60),
        "interval_s": Span(30, 30, 3600),
        "hold_s": Span(5, 5, 600),
        "work_s": Span(30, 30, 7200),
        "cap_s": Span(5, 5, 600),
        "rest_s": Span(5, 0, 600),
    }
)
"""Ours: wide enough for any usual dose."""

_PHASE = "phase "
_REPS = (BoutKind.PACED, BoutKind.COUNTED, BoutKind.REACHES, BoutKind.HOP_HOLD, BoutKind.WALK_RUN)


class Part(NamedTuple):
    """One part of a dose, and how it is written: "3 sets", "hold 2 s"."""

    id: str
    says: str


def parts_before(activity: Activity, plan: BoutPlan) -> tuple[Part, ...]:
    """What can be changed before the start, in the order it is told."""
    found = [Part("sets", many(plan.sets, plan.unit))]
    if plan.kind in _REPS:
        found.append(Part("reps", _reps_says(plan)))
    if plan.kind is BoutKind.SHIFTS:
        found += [Part("shifts", many(plan.shifts, "shift")), Part("shift_s", f"{plan.shift_s:g} s each")]
    if plan.kind is BoutKind.HOLD_TO_LOSS:
        found.append(Part("cap_s", f"at most {plan.cap_s:g} s"))
    found += _times(plan, plan.phases, plan.hold_s, plan.rest_s)
    if activity.sides != "none":
        found.append(Part("sides", " then ".join(str(side) for side in plan.sides)))
    return tuple(found)


def parts_during(plan: BoutPlan, times: Times) -> tuple[Part, ...]:
    """What can be changed in the bout: its times."""
    hold_s = times.hold_ms / 1000 if plan.by_time else 0.0
    return tuple(_times(plan, times.phases, hold_s, times.rest_ms / 1000))


def _reps_says(plan: BoutPlan) -> str:
    if plan.kind is BoutKind.REACHES:
        return f"{plan.reps} each way"
    if plan.kind is BoutKind.WALK_RUN:
        return f"{plan.reps} x"
    return many(plan.reps, plan.rep_word) if plan.reps else "as many reps as can be"


def _lasts(plan: BoutPlan, hold_s: float) -> str:
    return f"{hold_s:g} s" if plan.holds else time_words(hold_s)


def _times(plan: BoutPlan, phases: tuple[Phase, ...], hold_s: float, rest_s: float) -> list[Part]:
    found = [
        Part(f"{_PHASE}{n}", f"{phase.word.lower()} {time_words(phase.seconds)}") for n, phase in enumerate(phases)
    ]
    found += [Part("hold_s", f"{plan.word.lower() or 'hold'} {_lasts(plan, hold_s)}")] if hold_s else []
    return [*found, Part("rest_s", f"rest {rest_s:g} s")] if plan.last_turn or rest_s else found


def changed_before(activity: Activity, plan: BoutPlan, asked: Overrides, part: str, by: int) -> Overrides:
    """What is asked for after one key up (`by` 1) or down (-1) on a part of the dose."""
    if part == "sides":
        return asked._replace(sides=_next_sides(plan, by))
    if part.startswith(_PHASE):
        return asked._replace(phases=_phases(plan.phases, part, by, _phase_span(plan)))
    if part in ("shifts", "shift_s"):
        shifts = stepped(plan.shifts, SPANS["shifts"], by if part == "shifts" else 0)
        shift_s = stepped(plan.shift_s, SPANS["shift_s"], by if part == "shift_s" else 0)
        return asked._replace(shift_s=shift_s, duration_s=shifts * shift_s)
    span = _hold_span(plan) if part == "hold_s" else SPANS[part]
    if part == "reps" and activity.kind is BoutKind.COUNTED:
        span = span._replace(least=0)  # as many as can be done
    value = stepped(getattr(plan, part), span, by)
    new: dict[str, Any] = {part: int(value) if part in ("sets", "reps") else value}
    return asked._replace(**new)


def change_during(bout: LiveBout, part: str, by: int, at: Instant | None = None) -> None:
    """One key up or down on a time while the bout goes on. Raises CareFault and RecordFault."""
    times = bout.state.times
    if part.startswith(_PHASE):
        bout.set_times(phases=_phases(times.phases, part, by, _phase_span(bout.plan)), at=at)
    elif part == "hold_s":
        bout.set_times(hold_s=stepped(times.hold_ms / 1000, _hold_span(bout.plan), by), at=at)
    else:
        bout.set_times(rest_s=stepped(times.rest_ms / 1000, SPANS[part], by), at=at)


def stepped(value: float, span: Span, by: int) -> float:
    """So many whole steps on: 12 in steps of 5 goes up to 15 and down to 10."""
    steps = value / span.step
    whole = round(steps) if abs(steps - round(steps)) < 1e-9 else int(steps) + (by < 0)
    return min(max((whole + by) * span.step, span.least), span.most) if by else value


def _phase_span(plan: BoutPlan) -> Span:
    return SPANS["interval_s" if plan.kind is BoutKind.WALK_RUN else "phase_s"]


def _hold_span(plan: BoutPlan) -> Span:
    return SPANS["hold_s" if plan.holds else "work_s"]


def _phases(phases: tuple[Phase, ...], part: str, by: int, span: Span) -> tuple[Phase, ...]:
    at = int(part.removeprefix(_PHASE))
    changed = phases[at]._replace(seconds=stepped(phases[at].seconds, span, by))
    return (*phases[:at], changed, *phases[at + 1 :])


def _next_sides(plan: BoutPlan, by: int) -> tuple[Side | None, ...]:
    injured = plan.injured
    ring: list[tuple[Side | None, ...]] = [
        (injured,),
        (injured.other, injured),
        (injured, injured.other),
        (injured.other,),
    ]
    at = ring.index(plan.sides) if plan.sides in ring else 0
    return ring[(at + by) % len(ring)]
