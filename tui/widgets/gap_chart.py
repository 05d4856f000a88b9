"""The gap chart: both sides over the days since the injury, each with its error, and the lines that matter."""

from __future__ import annotations

from rich.segment import Segment
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.chart_data import ChartData, numbers
from tui.widgets.look import Role, paint

LEAST_WIDTH, LEAST_HEIGHT = 40, 7


class GapChart(Widget):
    """Draws a `ChartData`; writes its numbers instead where the room is too small or `plain` is set."""

    HELP_TEXT = (
        "◀ is the left side, ▶ the right one, the upright line its measurement error. The level line is the "
        "threshold whose value stands at its end. Weeks are counted from the injury."
    )
    DEFAULT_CSS = """
    GapChart { width: 1fr; height: 1fr; padding: 0 1; }
    """

    data: reactive[ChartData | None] = reactive(None)
    plain: reactive[bool] = reactive(False)

    def __init__(self, data: ChartData | None = None, *, plain: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self.set_reactive(GapChart.data, data)
        self.set_reactive(GapChart.plain, plain)

    def show(self, data: ChartData | None) -> None:
        """Show another measure."""
        self.data = data

    @property
    def as_text(self) -> bool:
        """Whether the numbers are written instead of a drawing."""
        size = self.content_size
        return (
            self.plain
            or self.data is None
            or self.data.empty
            or (size.width < LEAST_WIDTH or size.height < LEAST_HEIGHT)
        )

    def render_line(self, y: int) -> Strip:
        """One row of the drawing, or one line of numbers."""
        width, height = self.content_size
        ground = paint(self.app, Role.INK)
        if self.data is None:
            return Strip([]).adjust_cell_length(width, ground)
        if self.as_text:
            lines = numbers(self.data, height)
            told = (
                [Segment(lines[y], paint(self.app, Role.QUIET if y == 0 else Role.INK))] if y < len(lines) else []
            )
            return Strip(told).adjust_cell_length(width, ground)
        from tui.widgets.chart_drawing import draw

        runs = draw(self.data, width, height)[y]
        return Strip([Segment(text, paint(self.app, role)) for text, role in runs]).adjust_cell_length(
            width, ground
        )
