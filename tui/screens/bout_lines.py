"""The few lines under the giant word: rep and set, the pace, what the last sets were, what is asked."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from textual.content import Content

from store.care.dose_words import came_to
from store.care.dosing import Part
from store.care.in_words import many
from store.care.timing import BoutKind, BoutPlan, Mode, Question, SetResult, View
from store.knowledge.kinds import Activity
from store.knowledge.words import Side
from tui.widgets.head_line import parts, spread
from tui.widgets.look import CURSOR, FLAG, NOTHING, Role, mark, side_role

ASKED = {
    Question.PAIN: ("pain 0-9, * is ten", "pain 0-9, * ten"),
    Question.CONTROL: (
        "control 0-3: 0 lost at once, 1 large corrections, 2 small, 3 steady",
        "control 0 lost 1 large 2 small 3 steady",
    ),
}
"""What is asked after a set, in full and where there is little room."""


SLOW = (
    "the disk is slow: what is shown is kept, the rest is counted once it is",
    "the disk is slow: what is shown is kept",
)
"""What is said while something waits for the disk, in full and where there is little room."""


def pace_line(view: View, dose: Sequence[Part], chosen: str, width: int) -> Content:
    """Rep and set on the left, the pace on the right, with the part that the arrows change marked."""
    left = _where(view)
    right = dose_content(dose, chosen, now=view.word.lower() if view.doing is Mode.WORKING else "")
    if left.cell_length + right.cell_length + 2 > width:
        short = [part for part in dose if part.id == chosen] or [part for part in dose if part.id != "rest_s"]
        right = dose_content(short, chosen)
    return left if left.cell_length + right.cell_length + 2 > width else spread(left, right, width)


def dose_content(dose: Sequence[Part], chosen: str, now: str = "", *, quiet: bool = True) -> Content:
    """`lunge 2 s › hold 2 s › back 2 s   rest 60 s`; the part chosen for a change has a glyph and a colour."""
    pieces: list[Content] = []
    before = ""
    for part in dose:
        phase = part.id.startswith("phase")
        gap = "" if not before else " › " if phase and before.startswith("phase") else "   "
        pieces.append(Content.styled(gap, mark(Role.QUIET)))
        if part.id == chosen:
            pieces.append(Content.styled(f"{CURSOR}{part.says}", mark(Role.NOW, bold=True)))
        else:
            bright = not quiet or (bool(now) and phase and part.says.startswith(f"{now} "))
            pieces.append(Content.styled(part.says, mark(Role.INK if bright else Role.QUIET)))
        before = part.id
    return Content("").join(pieces)


def dose_lines(dose: Sequence[Part], chosen: str, width: int) -> list[Content]:
    """The dose before the start, in as many lines as it takes."""
    lines: list[Content] = []
    rest = list(dose)
    while rest:
        fits = len(rest)
        while fits > 1 and dose_content(rest[:fits], chosen, quiet=False).cell_length > width:
            fits -= 1
        lines.append(dose_content(rest[:fits], chosen, quiet=False))
        rest = rest[fits:]
    return lines


def _where(view: View) -> Content:
    at_set = f"{view.unit} {view.set_n} of {view.sets}"
    if view.doing is Mode.REST:
        if view.rest_over:
            over = view.seconds - view.times.rest_ms // 1000
            return _bold(f"over by {over} s, space starts {view.unit} {view.set_n}", Role.NOW)
        side = f"{view.side}, " if view.side and view.set_n == 1 else ""
        return parts(_ink(f"rest {view.left_s} s"), _quiet(f", then {side}{at_set}"))
    if view.doing is Mode.WORKING:
        at_rep = _at_rep(view)
        if view.kind is BoutKind.SHIFTS and view.current and view.current.shifts:
            lost = not view.current.shifts[-1].controlled
            return parts(_ink(f"{at_rep}    {at_set}"), _bold("    control lost", Role.LOSS) if lost else "")
        if view.kind is BoutKind.WALK_RUN:
            return _bold(at_rep)  # there is but one set
        return _bold(f"{at_rep}    {at_set}" if at_rep else at_set)
    return _bold(at_set)


def _at_rep(view: View) -> str:
    match view.kind:
        case BoutKind.HOP_HOLD:
            return f"hop {view.rep} of {view.reps}    {many(view.faults, 'fault')}"
        case BoutKind.REACHES:
            return f"reach {min(view.reps_done + 1, view.reps)} of {view.reps}"
        case BoutKind.WALK_RUN:
            return f"interval {view.shift_n} of {view.shifts}"
        case BoutKind.OSCILLATIONS:
            return f"{view.rate:g} a second"
        case BoutKind.PACED:
            return f"rep {view.rep} of {view.reps}"
        case BoutKind.COUNTED:
            return f"rep {view.reps_done} of {view.reps}" if view.reps else f"{view.reps_done} counted"
        case BoutKind.SHIFTS:
            return f"shift {view.shift_n} of {view.shifts}"
        case BoutKind.HOLD_FIXED:
            return many(view.faults, "fault")
    return ""


def cue_line(activity: Activity, width: int) -> Content:
    """The one line of cues: as many as there is room for, and what ends a hold where it fits too."""
    words = list(activity.cue_words)
    while len(words) > 1 and len(" · ".join(words)) > width:
        words.pop()
    cues = " · ".join(words)
    ends = f"   {activity.ends}" if activity.ends else ""
    return _quiet(cues + ends) if len(cues + ends) <= width else _quiet(cues)


def sets_line(plan: BoutPlan, view: View, width: int) -> Content:
    """What each set came to, which is under way, which are still to come; of two sides the left on the left."""
    for rest in (True, False) if len(plan.sides) == 1 and not plan.holds else ():
        line = _one_by_one(plan, view, rest=rest)
        if line.cell_length <= width:
            return line
    sides = sorted(plan.sides, key=lambda side: side is Side.RIGHT)
    lines = [
        Content(gap).join([_head(plan), *(_of_side(plan, view, side, between, graded=graded) for side in sides)])
        for gap, between, graded in (("   ", "  ", True), ("  ", " ", True), ("  ", " ", False))
    ]
    return next((line for line in lines if line.cell_length <= width), lines[-1])


def _one_by_one(plan: BoutPlan, view: View, *, rest: bool) -> Content:
    pieces: list[Content] = []
    if view.kind is BoutKind.WALK_RUN and view.current is not None:
        so_far = came_to(plan, (view.current,))
        return _quiet(f"so far {so_far}") if so_far else _quiet("the first interval")
    for n, result in enumerate(_turns(view, plan.sides[0], plan.sets), start=1):
        name = _quiet(f"{view.unit} {n} ")
        if isinstance(result, SetResult):
            pieces.append(parts(name, _ink(_told(plan, result), bold=False)))
        else:
            pieces.append(parts(name, _quiet(result)))
    if rest and view.doing is not Mode.DONE and plan.sets > 1:
        then = "goes on" if plan.auto_next else "waits"
        pieces.append(_quiet(f"rest {view.times.rest_ms / 1000:g} s, then {then}"))
    return Content("    ").join(pieces)


def _told(plan: BoutPlan, result: SetResult) -> str:
    if plan.kind not in (BoutKind.PACED, BoutKind.COUNTED):
        words = came_to(plan, (result,))
    else:
        words = f"{result.reps} {'paced' if result.paced else 'counted'}"
    return words + (f", pain {' '.join(map(str, result.pains))}" if result.pains else "")


def _head(plan: BoutPlan) -> Content:
    words = {BoutKind.HOLD_FIXED: "faults", BoutKind.HOLD_TO_LOSS: "seconds", BoutKind.SHIFTS: "in control"}
    words |= {BoutKind.REACHES: "reaches", BoutKind.HOP_HOLD: "without a fault", BoutKind.TIMED: "seconds"}
    words |= {BoutKind.OSCILLATIONS: "seconds"}
    return _quiet(words.get(plan.kind, "reps"))


def _of_side(plan: BoutPlan, view: View, side: Side | None, between: str, *, graded: bool) -> Content:
    """The sets of one side in a row, and behind them its pains; of holds of a fixed time also how control was
    `graded`, where there is room."""
    role = side_role(side) if side else Role.INK
    cells = [
        _cell(result, view.kind) if isinstance(result, SetResult) else result
        for result in _turns(view, side, plan.sets)
    ]
    own = [result for result in view.done if result.side is side]
    pains = " ".join(str(n) for result in own for n in result.pains)
    grades = [result.control for result in own if result.control is not None]
    control = " ".join(map(str, grades)) if graded and plan.kind is BoutKind.HOLD_FIXED else ""
    also = "".join(f"  {name} {figures}" for name, figures in (("control", control), ("pain", pains)) if figures)
    told = parts(
        _quiet(f"{side}{between}") if side else "", Content.styled(between.join(cells), mark(role, bold=True))
    )
    return parts(told, _quiet(also)) if also else told


def _cell(result: SetResult, kind: BoutKind) -> str:
    match kind:
        case BoutKind.HOLD_FIXED:
            return str(result.faults) if result.complete else f"{result.faults} in {result.seconds:g} s"
        case BoutKind.HOLD_TO_LOSS:
            return f"{result.seconds:.1f}"
        case BoutKind.SHIFTS:
            return f"{sum(shift.controlled for shift in result.shifts)} of {len(result.shifts)}"
        case BoutKind.HOP_HOLD:
            return f"{result.clean} of {result.reps}"
        case BoutKind.TIMED | BoutKind.OSCILLATIONS:
            return f"{result.seconds:g}"
    return str(result.reps)


def _turns(view: View, side: Side | None, sets: int) -> list[SetResult | str]:
    """What each set of a side came to, "now" for the one under way, a dot for those to come."""
    done = [result for result in view.done if result.side is side]
    found: list[SetResult | str] = list(done)
    now = view.current
    if now is not None and now.side is side and len(found) < sets:
        found.append("now")
    return found + [NOTHING] * (sets - len(found))


def ask_lines(view: View, width: int, *, slow: bool = False) -> list[Content]:
    """What is bright under all: why it stands still, what pain asks for, what is to be answered; on one line if it
    fits, and none when there is nothing."""
    pieces: list[tuple[str, Role]] = []
    if slow:
        full, short = SLOW
        pieces.append((f"{FLAG} {full if len(full) + 2 <= width else short}", Role.INK))
    if view.advice:
        pieces.append((f"{FLAG} {view.advice}", Role.LOSS))
    if view.mode is Mode.PAUSED:
        pieces.append((view.sentence, Role.NOW))
    elif view.questions:
        full, short = ASKED[view.questions[0]]
        pieces.append((full if len(full) <= width else short, Role.NOW))
    line = Content("   ").join([_bold(text, role) for text, role in pieces])
    if line.cell_length <= width:
        return [line] if pieces else []
    return [_bold(row, role) for text, role in pieces for row in wrap(text, width)]


def _bold(text: str, role: Role = Role.INK) -> Content:
    return Content.styled(text, mark(role, bold=True))


def _ink(text: str, *, bold: bool = True) -> Content:
    return Content.styled(text, mark(Role.INK, bold=bold))


def _quiet(text: str) -> Content:
    return Content.styled(text, mark(Role.QUIET))
