"""What is read once all is done: what each set came to, the dose, the reading it becomes, control by direction."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from textual.content import Content

from store.care.bout_kept import becomes
from store.care.dose_words import rep_words, work_words
from store.care.in_words import many
from store.care.timing import BoutKind, BoutPlan, LiveBout, SetResult, View
from store.knowledge.words import Side
from tui.screens.bout_lines import sets_line
from tui.widgets.control_cross import Foot, Tally
from tui.widgets.look import Role, mark


def done_lines(bout: LiveBout, view: View, width: int) -> tuple[Content, ...]:
    """The result in a few lines."""
    came_of = bout.so_far()
    done, planned = came_of.done, came_of.planned
    amount = [f"{done.sets} of {many(planned.sets, view.unit)}"]
    if done.reps:
        of = f"{done.reps} of " if planned.reps else ""
        amount.append(of + rep_words(planned.reps or done.reps, bout.plan))
    amount.append(work_words(bout.plan, done.seconds))
    measure = bout.care.knowledge.measures.get(came_of.measure)
    ways = [] if crossed(bout.plan) else _by_way(bout.plan, view.done)
    return (
        sets_line(bout.plan, view, width),
        *(Content.styled(row, mark(Role.INK)) for row in wrap("   ".join(ways), width)),
        Content.styled(", ".join(amount), mark(Role.QUIET)),
        *(Content.styled(row, mark(Role.INK)) for says in becomes(came_of, measure) for row in wrap(says, width)),
    )


def crossed(plan: BoutPlan) -> bool:
    """Is control shown as a cross for each foot? Work of both legs together has none."""
    return plan.kind is BoutKind.SHIFTS and None not in plan.sides


def _by_way(plan: BoutPlan, results: Sequence[SetResult]) -> list[str]:
    """Control by direction in words, in control of all: "left 3 of 3"."""
    if plan.kind is not BoutKind.SHIFTS:
        return []
    return [f"{way} {tally.controlled} of {tally.all}" for way, tally in _ways(plan, results).items() if tally.all]


def feet_of(plan: BoutPlan, done: Sequence[SetResult], earlier: Sequence[SetResult] = ()) -> tuple[Foot, ...]:
    """Control by direction of each foot that shifted, the left foot first; none for other kinds of bouts.

    The foot that this bout is not about comes from earlier bouts of the visit, if it was done there.
    """
    if plan.kind is not BoutKind.SHIFTS:
        return ()
    results = [*done, *(result for result in earlier if result.side not in plan.sides)]
    return tuple(
        Foot(side, side is plan.injured, _ways(plan, [result for result in results if result.side is side]))
        for side in Side
        if any(result.side is side for result in results)
    )


def _ways(plan: BoutPlan, results: Sequence[SetResult]) -> dict[str, Tally]:
    shifts = [shift for result in results for shift in result.shifts]
    found = {}
    for way in dict.fromkeys(plan.directions):
        own = [shift.controlled for shift in shifts if shift.direction == way]
        found[way] = Tally(sum(own), len(own))
    return found
