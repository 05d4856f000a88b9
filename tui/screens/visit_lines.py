"""The lines of the visit screen, from its view: the head with its minutes, and the rows of the plan."""

from __future__ import annotations

import math
from collections.abc import Sequence

from textual.content import Content

from store.care.dates import time_text
from store.care.plan import EDGE_MIN, Slot
from store.care.standing import cautions_in_force
from store.care.visit_view import ShownLine, Unfinished, VisitView
from tui.screens.heads import side_words
from tui.widgets.head_line import Row, parts
from tui.widgets.look import FLAG, Role, mark
from tui.widgets.plan_list import PlanRow, Stand

_QUIET = mark(Role.QUIET)

# the head


def head_rows(shown: VisitView, slot: Slot) -> list[Row]:
    """Whose ankle and how late it is; under it what to mind, where there is anything."""
    ankle = side_words(shown.injured) if shown.injured else Content("")
    who = parts((shown.person.label, mark(Role.INK, bold=True)), ("  ", _QUIET), ankle)
    rows: list[Row] = [(who, minutes(shown, slot))]
    warned = list(shown.referred)
    warned += ["no consent today"] if shown.said.get("consent") == "n" else []
    if shown.episode is not None:
        warned += cautions_in_force(shown.person, shown.episode, shown.visit.started.on)
    if warned:
        flag = parts((f"{FLAG} ", mark(Role.LOSS, bold=True)), (", ".join(warned), mark(Role.INK)))
        rows.append((flag, Content("")))
    return rows


def minutes(shown: VisitView, slot: Slot) -> Content:
    """The visit's time against its slot, and what to drop when it will not hold."""
    if shown.visit.ended is not None:
        return parts((f"visit ended {time_text(shown.visit.ended)}", _QUIET))
    gone = f"{int(slot.gone)}:{int(slot.gone * 60) % 60:02d}"
    pieces = [("visit ", _QUIET), (gone, mark(Role.INK, bold=True)), (f" of {slot.slot}", _QUIET)]
    if slot.over > EDGE_MIN:
        late = math.ceil(slot.over - EDGE_MIN)
        drop = next((line.name for line in shown.lines if slot.drop and line.line.step.id == slot.drop.id), "")
        pieces.append((f"   over by {late} min", mark(Role.LOSS, bold=True)))
        pieces.append((f": drop {drop}" if drop else "", _QUIET))
    return parts(*pieces)


# the plan


def plan_rows(shown: VisitView) -> list[PlanRow]:
    """Bouts that were left first, then the plan."""
    return [*map(_left_row, shown.unfinished), *map(_row, shown.lines)]


def next_open(rows: Sequence[PlanRow], at: int) -> int:
    """The next row that waits, from `at` on and then from the top; `at` when none does."""
    order = [*range(at, len(rows)), *range(at)]
    return next((index for index in order if rows[index].stand is Stand.OPEN), at)


def _row(shown: ShownLine) -> PlanRow:
    line, step = shown.line, shown.line.step
    stand = Stand.OPEN
    if line.later:
        stand = Stand.LATER
    elif line.done:
        stand = Stand.DONE
    elif step.dropped:
        stand = Stand.DROPPED
    return PlanRow(step.id, shown.name, shown.says, stand, step.minutes, shown.drop, shown.minds)


def _left_row(left: Unfinished) -> PlanRow:
    return PlanRow(left.bout.id, left.says, "space goes on", Stand.PAUSED)
