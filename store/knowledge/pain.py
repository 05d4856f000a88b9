"""The most pain through which a bout runs on, from its table."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from store.knowledge.fields import Row
from store.knowledge.figures import figure
from store.knowledge.kinds import Figure
from store.knowledge.words import BoutKind

FILE = "pain.toml"
EXERCISE, RUNNING = "exercise", "running"


def most_pains(data: Mapping[str, Any]) -> dict[str, Figure]:
    """The figures, 0 to 10, by what is done. Raises KnowledgeError."""
    row = Row(FILE, "pain", data)
    found = {what: _pain(row.row(what)) for what in (EXERCISE, RUNNING)}
    row.done()
    return found


def what_for(kind: BoutKind) -> str:
    """Which of the figures holds for a kind of bout."""
    return RUNNING if kind is BoutKind.WALK_RUN else EXERCISE


def _pain(row: Row) -> Figure:
    found = figure(row)
    if found.value not in range(11):
        raise row.fault("value", "a whole number from 0 to 10 is wanted")
    return found
