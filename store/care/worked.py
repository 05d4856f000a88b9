"""What ended bouts mean for the plan: the sides they were done on, and the sides that an activity is asked on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from store.care.bout_kept import sides_worked
from store.care.care import Care
from store.care.faults import CareFault
from store.care.plan import Worked
from store.care.timing import bout_state
from store.knowledge.words import BoutRow, Side


def worked(care: Care, rows: Iterable[BoutRow]) -> tuple[Worked, ...]:
    """The ended ones of some bouts, as a plan sees them."""
    return tuple(Worked(row.activity, _sides(care, row)) for row in rows if row.ended is not None)


def _sides(care: Care, row: BoutRow) -> frozenset[Side | None] | None:
    try:
        plan, state = bout_state(care, row)
    except CareFault:
        return None
    return sides_worked(plan, state.done)


def asked_sides(care: Care, injured: Side | None) -> Mapping[str, frozenset[Side | None]]:
    """The sides that each activity is done on, for this injured side; none where it is not known."""
    own = frozenset[Side | None]({injured} if injured else ())
    sides = {"both": frozenset[Side | None](Side), "injured": own}
    return {one.id: sides.get(one.sides, frozenset()) for one in care.knowledge.activities.values()}
