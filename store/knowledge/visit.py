"""The standard visit from its table: what is done in a slot, in which order, and for how long."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.figures import figure
from store.knowledge.kinds import Figure
from store.knowledge.words import Step

FILE = "visit.toml"
REF_KINDS = ("measure", "retest", "activity")
KINDS = ("said", "safety", *REF_KINDS, "home", "note")


def visit(data: Mapping[str, Any]) -> tuple[Figure, tuple[Step, ...]]:
    """The slot in minutes and the steps of the standard visit.

    Raises KnowledgeError, also when the steps do not fit the slot.
    """
    row = Row(FILE, "visit", data)
    slot = figure(row.row("slot"))
    steps: list[Step] = []
    for item in row.rows("step"):
        step = _step(item)
        if step.id in {other.id for other in steps}:
            raise item.fault("id", f"{step.id!r} is used twice")
        if step.kind == "retest" and step.ref not in {other.ref for other in steps if other.kind == "measure"}:
            raise item.fault("ref", f"{step.ref!r} is tested again without having been measured before")
        steps.append(step)
    row.done()
    total = sum(step.minutes for step in steps)
    if total > slot.value:
        raise KnowledgeError(f"{FILE}: [visit] slot: the steps take {total:g} min and the slot has {slot.value:g}")
    return slot, tuple(steps)


def _step(row: Row) -> Step:
    step = Step(
        id=row.text("id"),
        kind=row.one_of("kind", KINDS),
        ref=row.text("ref", ""),
        minutes=row.number("minutes"),
    )
    row.done()
    if step.kind in REF_KINDS and not step.ref:
        raise row.fault("ref", f"missing: a step of kind {step.kind} names what is done")
    if step.ref and step.kind not in REF_KINDS:
        raise row.fault("ref", f"a step of kind {step.kind} names nothing")
    if step.minutes <= 0:
        raise row.fault("minutes", "more than 0 is wanted")
    return step
