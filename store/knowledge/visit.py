"""The standard visit and that of the first days, from their table: what is done, in which order, and how long."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, NamedTuple

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.figures import figure
from store.knowledge.kinds import Figure
from store.knowledge.words import Step

FILE = "visit.toml"
REF_KINDS = ("measure", "retest", "activity")
KINDS = ("said", "safety", *REF_KINDS, "home", "note")


class Visits(NamedTuple):
    """The slot in minutes, the steps of the standard visit, and those of the first days with the days since the
    injury up to which they hold."""

    slot: Figure
    steps: tuple[Step, ...]
    first_days: Figure
    first_steps: tuple[Step, ...]


def visits(data: Mapping[str, Any]) -> Visits:
    """The slot and the steps of the standard visit, and of one in the first days.

    Raises KnowledgeError, also when the steps do not fit the slot.
    """
    row = Row(FILE, "visit", data)
    slot, first_days = figure(row.row("slot")), figure(row.row("first_days"))
    found = Visits(slot, _steps(row, "step", slot), first_days, _steps(row, "first_step", slot))
    row.done()
    return found


def _steps(row: Row, key: str, slot: Figure) -> tuple[Step, ...]:
    steps: list[Step] = []
    for item in row.rows(key):
        steps.append(step(item, steps))
    total = sum(one.minutes for one in steps)
    if total > slot.value:
        raise KnowledgeError(f"{FILE}: [visit] slot: the steps take {total:g} min and the slot has {slot.value:g}")
    return tuple(steps)


def step(row: Row, before: Collection[Step]) -> Step:
    """The step in a table, which comes after others. Raises KnowledgeError."""
    made = Step(
        id=row.text("id"),
        kind=row.one_of("kind", KINDS),
        ref=row.text("ref", ""),
        minutes=row.number("minutes"),
    )
    row.done()
    if made.kind in REF_KINDS and not made.ref:
        raise row.fault("ref", f"missing: a step of kind {made.kind} names what is done")
    if made.ref and made.kind not in REF_KINDS:
        raise row.fault("ref", f"a step of kind {made.kind} names nothing")
    if made.minutes <= 0:
        raise row.fault("minutes", "more than 0 is wanted")
    if made.id in {other.id for other in before}:
        raise row.fault("id", f"{made.id!r} is used twice")
    if made.kind == "retest" and made.ref not in {other.ref for other in before if other.kind == "measure"}:
        raise row.fault("ref", f"{made.ref!r} is tested again without having been measured before")
    return made
