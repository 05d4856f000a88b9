"""A cross of cells for each foot: how many shifts each way were in control. Seen from above, as the feet stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rich.segment import Segment
from textual.reactive import reactive
from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget

from store.knowledge.words import Side
from tui.widgets.look import DONE, FLAG, Role, paint, side_head, side_role

CELL_ROWS = 2
ROWS = 1 + 3 * CELL_ROWS + 2  # the name of the foot, three rows of cells, a blank between them
GAP = 3
WIDEST, ROOMY = 17, 11


@dataclass(frozen=True, slots=True)
class Tally:
    """So many in control of so many."""

    controlled: int
    all: int


@dataclass(frozen=True, slots=True)
class Foot:
    """One foot, and its tallies by direction: "forward", "back", "in" (towards the other leg) and "out"."""

    side: Side
    injured: bool
    ways: Mapping[str, Tally]


Cells = dict[tuple[int, int], str]  # (row, column) of a 3 x 3 grid to the direction that stands there


def cells_of(side: Side) -> Cells:
    """Which way stands where: in is towards the other foot."""
    left, right = ("out", "in") if side is Side.LEFT else ("in", "out")
    return {(0, 1): "forward", (1, 0): left, (1, 2): right, (2, 1): "back"}


class ControlCross(Widget):
    """One cross, or two side by side with the left foot on the left."""

    DEFAULT_CSS = """
    ControlCross { width: 1fr; height: 9; }
    """

    feet: reactive[tuple[Foot, ...]] = reactive(())

    def render_line(self, y: int) -> Strip:
        """One row of the crosses."""
        width, ground = self.content_size.width, paint(self.app, Role.INK)
        if not self.feet or y >= ROWS:
            return Strip([]).adjust_cell_length(width, ground)
        cell = min(WIDEST, (width - GAP * (len(self.feet) - 1)) // (3 * len(self.feet)) - 1)
        segments: list[Segment] = []
        for n, foot in enumerate(self.feet):
            segments += [Segment(" " * GAP, ground)] if n else []
            segments += self._named(foot, cell) if y == 0 else self._crossed(foot, cell, y - 1)
        return Strip(segments).adjust_cell_length(width, ground)

    def _named(self, foot: Foot, cell: int) -> list[Segment]:
        text = f"{foot.side} foot" + (f" {side_head(foot.side)} injured" if foot.injured else "")
        return [Segment(f"{text:^{3 * cell + 2}} ", paint(self.app, side_role(foot.side), bold=True))]

    def _crossed(self, foot: Foot, cell: int, y: int) -> list[Segment]:
        row, line = divmod(y, CELL_ROWS + 1)
        where, ground = cells_of(foot.side), paint(self.app, Role.INK)
        segments: list[Segment] = []
        for column in range(3):
            way = where.get((row, column)) if line < CELL_ROWS else None
            segments.append(
                self._cell(way, foot.ways.get(way), cell, line) if way else Segment(" " * cell, ground)
            )
            segments.append(Segment(" ", ground))
        return segments

    def _cell(self, way: str, tally: Tally | None, cell: int, line: int) -> Segment:
        if line == 0:
            return Segment(f"{way:^{cell}}", paint(self.app, Role.INK, on=Role.SHEET))
        if tally is None or not tally.all:
            return Segment(f"{'·':^{cell}}", paint(self.app, Role.QUIET, on=Role.SHEET))
        whole = tally.controlled == tally.all
        of = " of " if cell >= ROOMY else "/"
        text = f"{DONE if whole else FLAG} {tally.controlled}{of}{tally.all}"
        role = Role.GAIN if whole else Role.LOSS
        return Segment(f"{text:^{cell}}", paint(self.app, role, bold=True, on=Role.SHEET))

    def get_selection(self, selection: Selection) -> tuple[str, str]:
        """The crosses as text, for the clipboard."""
        del selection
        return self.as_text(), "\n"

    def as_text(self) -> str:
        """The crosses in words, a line a foot."""
        return "\n".join(
            f"{foot.side} foot: "
            + ", ".join(f"{way} {tally.controlled} of {tally.all}" for way, tally in foot.ways.items())
            for foot in self.feet
        )
