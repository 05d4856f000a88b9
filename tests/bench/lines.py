"""One line of the table: what was measured, against what, and whether it keeps its bound."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import median


class Against(StrEnum):
    """How a figure is held against its bound."""

    RATIO = "x"  # ours / peer
    MORE = "more"  # ours - peer, in the unit
    ALONE = "alone"  # ours, in the unit


@dataclass(frozen=True, slots=True)
class Line:
    """A measured line. `ours` and `peer` are in `unit`; `peer` is None where there is nothing to stand against."""

    what: str
    unit: str
    ours: float
    at_most: float
    against: Against
    peer_is: str = ""
    peer: float | None = None
    how: str = ""

    @property
    def figure(self) -> float:
        """What is held against the bound."""
        if self.against is Against.ALONE or self.peer is None:
            return self.ours
        return self.ours / self.peer if self.against is Against.RATIO else self.ours - self.peer

    @property
    def met(self) -> bool:
        """Whether the bound is kept."""
        return self.figure <= self.at_most


@dataclass(frozen=True, slots=True)
class Waits:
    """A line that cannot be measured yet, and why."""

    what: str
    why: str


def nearest_rank(values: Sequence[float], share: float) -> float:
    """The percentile by nearest rank: the smallest value with at least that share at or below it."""
    if not values or not 0 < share <= 1:
        raise ValueError("a percentile needs values, and a share above 0 and up to 1")
    return sorted(values)[math.ceil(share * len(values)) - 1]


def alternate(runs: int, *arms: Callable[[], float]) -> list[float]:
    """Run the arms in turn, so that whatever slows the machine slows all of them; the median of each.

    The order turns round from one run to the next.
    """
    taken: list[list[float]] = [[] for _ in arms]
    for run in range(runs):
        order = range(len(arms)) if run % 2 == 0 else reversed(range(len(arms)))
        for arm in order:
            taken[arm].append(arms[arm]())
    return [median(values) for values in taken]


def table(lines: Sequence[Line | Waits]) -> str:
    """The lines as text, ready to print."""
    head = ("what", "ours", "peer", "figure", "at most", "", "against")
    rows = [head, *(_row(line) for line in lines)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(head))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    )


def _row(line: Line | Waits) -> tuple[str, ...]:
    if isinstance(line, Waits):
        return (line.what, "-", "-", "-", "-", "waits", line.why)
    sign = {Against.RATIO: " x", Against.MORE: f" {line.unit} more", Against.ALONE: f" {line.unit}"}[line.against]
    return (
        line.what,
        f"{line.ours:.4g} {line.unit}",
        "-" if line.peer is None else f"{line.peer:.4g} {line.unit}",
        f"{line.figure:.2f}{sign}",
        f"{line.at_most:g}{sign}",
        "met" if line.met else "missed",
        ", ".join(part for part in (line.peer_is, line.how) if part),
    )
