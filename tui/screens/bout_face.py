"""The face of a running bout: which word is giant and in which colour, what stands beside it, where the bar is."""

from __future__ import annotations

from dataclasses import dataclass, replace

from store.care.in_words import many
from store.care.timing import BoutKind, BoutPlan, Mode, Times, View
from store.knowledge.words import Side
from tui.widgets.big_word import Aside
from tui.widgets.look import Role, side_head, side_role
from tui.widgets.phase_bar import Bar

# A rep grows bright to where it is held and quiet on the way back, so that each phase differs from the one before.
_PHASE_ROLES = {1: (Role.NOW,), 2: (Role.NOW, Role.INK), 3: (Role.INK, Role.NOW, Role.QUIET)}

_NO_CLOCK = (BoutKind.COUNTED, BoutKind.HOLD_TO_LOSS, BoutKind.HOLD_FIXED, BoutKind.REACHES)
"""The seconds of these are the giant word themselves, or are of no use."""


@dataclass(frozen=True, slots=True)
class Giant:
    """A word in giant letters. `company`: the words it takes turns with, so that the letters keep their size."""

    text: str
    role: Role
    aside: Aside = ()
    company: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Face:
    """What is read from across the room. `clock` are the seconds that go with the giant word, at the top right."""

    side: Giant
    clock: Giant
    giant: Giant
    bar: Bar


def face(plan: BoutPlan, view: View) -> Face:
    """The face of a bout at this moment."""
    clock, bar = Giant(_clock(view), Role.INK), _bar(plan, view)
    if view.mode is Mode.PAUSED:
        clock, bar = replace(clock, role=Role.QUIET), replace(bar, role=Role.QUIET)
    return Face(_side(plan, view), clock, _giant(plan, view), bar)


def _side(plan: BoutPlan, view: View) -> Giant:
    side = view.side
    if side is None:
        return _no_side(plan, view)
    beside: Aside = ((f"{side_head(side)} {'injured' if view.injured else 'uninjured'}", side_role(side)),)
    if view.doing is Mode.REST and len(plan.sides) > 1 and view.set_n == 1:
        beside = (("next", Role.NOW), *beside)  # the feet change here
    company = tuple(str(each).upper() for each in Side)
    return Giant(str(side).upper(), side_role(side), beside, company)


def _no_side(plan: BoutPlan, view: View) -> Giant:
    """Work of both legs: which of the intervals or sets, where there are several."""
    if view.kind is BoutKind.WALK_RUN and view.shift_n:
        return _numbered(view.shift_n, "interval", view.shifts)
    return _numbered(view.set_n, view.unit, view.sets) if plan.sets > 1 else Giant("", Role.INK)


def _numbered(n: int, what: str, of: int) -> Giant:
    return Giant(str(n), Role.INK, ((what, Role.QUIET), (f"of {of}", Role.QUIET)), ("RIGHT",))


def _giant(plan: BoutPlan, view: View) -> Giant:
    if view.mode is Mode.PAUSED:
        return Giant("PAUSED", Role.INK)
    match view.doing:
        case Mode.COUNTDOWN:
            return Giant(str(view.left_s), Role.INK, (("seconds", Role.QUIET), ("to the start", Role.QUIET)))
        case Mode.WORKING:
            return _in_work(plan, view)
        case Mode.REST:
            over = view.rest_over
            word, beside = ("CHANGE", (("sides", Role.QUIET),)) if view.changes else ("REST", ())
            return Giant(word, Role.NOW if over else Role.QUIET, beside, _words(view.times))
    return Giant(view.word, Role.INK)


def _in_work(plan: BoutPlan, view: View) -> Giant:
    if view.kind is BoutKind.COUNTED:
        of = f"of {view.reps}" if view.reps else "counted"
        return Giant(str(view.reps_done), Role.NOW, (("reps", Role.QUIET), (of, Role.QUIET)))
    if plan.holds:
        most = f"of at most {plan.cap_s:g}" if plan.cap_s else f"of {view.times.hold_ms / 1000:g}"
        faults: Aside = ((many(view.faults, "fault"), Role.LOSS),) if view.faults else ()
        return Giant(str(view.seconds), Role.NOW, (*faults, ("seconds", Role.QUIET), (most, Role.QUIET)))
    if view.kind is BoutKind.SHIFTS:
        lost = view.current is not None and view.current.shifts and not view.current.shifts[-1].controlled
        role = Role.LOSS if lost else Role.NOW if view.shift_n % 2 else Role.INK
        return Giant(view.word, role, company=_ways(plan))
    if view.kind is BoutKind.REACHES:
        role = Role.INK if view.reps_done % 2 else Role.NOW
        return Giant(view.direction.upper(), role, (("reach", Role.QUIET),), _ways(plan))
    return Giant(view.word, _role(view), _beside(view), _words(view.times))


def _role(view: View) -> Role:
    """The colour of a phase; of a walk-run the walk is quiet beside the run."""
    if view.kind is not BoutKind.WALK_RUN:
        return phase_role(view.times, view.word)
    return Role.INK if view.word == view.times.phases[0].word else Role.NOW


def _ways(plan: BoutPlan) -> tuple[str, ...]:
    return tuple(way.upper() for way in dict.fromkeys(plan.directions))


def _beside(view: View) -> Aside:
    """Beside a phase: the faults of hops, or which way this set goes."""
    faults: Aside = ((many(view.faults, "fault"), Role.LOSS),) if view.faults else ()
    return faults or (((view.direction, Role.INK),) if view.direction else ())


def phase_role(times: Times, word: str) -> Role:
    """The colour of a phase: never that of the phase before it."""
    words = [phase.word for phase in times.phases]
    roles = _PHASE_ROLES.get(len(words), (Role.NOW, Role.INK))
    return roles[words.index(word) % len(roles)] if word in words else Role.NOW


def _words(times: Times) -> tuple[str, ...]:
    return tuple(phase.word for phase in times.phases)


def _clock(view: View) -> str:
    """The seconds of the giant word, where they are not it; past the end of a rest with a plus."""
    if view.mode is Mode.DONE and view.kind is BoutKind.SHIFTS and view.side is not None:
        return view.word  # the crosses take the room of the giant word
    if view.doing is Mode.REST:
        over_s = view.seconds - view.times.rest_ms // 1000
        return f"+{max(over_s, 0)}" if view.rest_over else str(view.left_s)
    shown = view.doing is Mode.WORKING and view.kind not in _NO_CLOCK
    return _minutes(view.left_s) if shown and view.left_s is not None else ""


def _minutes(seconds: int) -> str:
    """Seconds, from two minutes on as minutes and seconds: "90", "29:05"."""
    return f"{seconds // 60}:{seconds % 60:02}" if seconds >= 120 else str(seconds)


def _bar(plan: BoutPlan, view: View) -> Bar:
    match view.doing:
        case Mode.COUNTDOWN:
            return Bar((1.0,) * plan.countdown_s, plan.countdown_s - (view.left_s or 0), role=Role.INK)
        case Mode.WORKING:
            return _bar_in_work(plan, view)
        case Mode.REST if view.times.rest_ms:
            return Bar((1.0,), part=min(1.0, view.seconds * 1000 / view.times.rest_ms), role=Role.QUIET)
    return Bar()


def _bar_in_work(plan: BoutPlan, view: View) -> Bar:
    words = _words(view.times)
    if view.kind is BoutKind.SHIFTS:
        return Bar((1.0,) * view.shifts, max(view.shift_n - 1, 0))
    if plan.holds:
        whole_s = plan.cap_s or view.times.hold_ms / 1000
        return Bar((1.0,), part=min(1.0, view.seconds / whole_s))
    if view.kind is BoutKind.WALK_RUN:
        lengths = [phase.seconds for phase in plan.phases] * plan.reps
        return Bar(tuple(lengths), max(view.shift_n - 1, 0), role=_role(view))
    if view.kind is BoutKind.REACHES:
        return Bar((1.0,) * view.reps, view.reps_done)
    if plan.by_time:
        return Bar((1.0,), part=min(1.0, view.seconds * 1000 / view.times.hold_ms))
    if view.word not in words:
        return Bar()
    weights = tuple(phase.seconds for phase in view.times.phases)
    return Bar(weights, words.index(view.word), role=phase_role(view.times, view.word))
