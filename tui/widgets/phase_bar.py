"""A bar under the giant word: where in the rep, the hold or the rest one stands, told by place."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from rich.segment import Segment
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.look import RULE, Role, paint

FULL = "▄"  # the lower half: air between the bar and the letters above it


@dataclass(frozen=True, slots=True)
class Bar:
    """Parts of these weights, of which the one numbered `at` is bright, all of it or its first `part` (0 to 1).

    `part` moves with whole seconds only, so that nothing slides. No weights: no bar.
    """

    weights: tuple[float, ...] = ()
    at: int = 0
    part: float = 1.0
    role: Role = Role.NOW


class PhaseBar(Widget):
    """Draws a bar over the whole width: the bright part thick, the others a thin line with a gap between."""

    DEFAULT_CSS = """
    PhaseBar { width: 1fr; height: 1; }
    """

    bar: reactive[Bar] = reactive(Bar())

    def render_line(self, y: int) -> Strip:
        """The bar on the first row."""
        width, ground = self.content_size.width, paint(self.app, Role.INK)
        segments: list[Segment] = []
        if y == 0 and self.bar.weights and width > 2 * len(self.bar.weights):
            thick, thin = paint(self.app, self.bar.role), paint(self.app, Role.FAINT)
            for n, (start, end) in enumerate(pairwise(edges(self.bar.weights, width + 1))):
                cells = end - start - 1  # the last cell of each part is the gap
                bright = min(cells, max(1, round(cells * self.bar.part))) if n == self.bar.at else 0
                segments += [Segment(FULL * bright, thick), Segment(RULE * (cells - bright), thin)]
                segments.append(Segment(" ", ground))
        return Strip(segments).adjust_cell_length(width, ground)


def edges(weights: tuple[float, ...], width: int) -> list[int]:
    """Where the parts begin and end, in cells, each at least two wide."""
    total = sum(weights)
    found, so_far = [0], 0.0
    for n, weight in enumerate(weights, start=1):
        so_far += weight
        least, most = found[-1] + 2, width - 2 * (len(weights) - n)
        found.append(min(max(round(width * so_far / total), least), most))
    return found
