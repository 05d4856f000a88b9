"""The squad's list at the sideline: columns that stand in line whatever a label is made of, cursor beside flag."""

from __future__ import annotations

import pytest
from rich.cells import cell_len
from textual.app import App, ComposeResult

from tui.widgets import look
from tui.widgets.bench_list import BenchLine, BenchList
from tui.widgets.look import CURSOR, FLAG


class Shown(App[None]):
    """The list alone."""

    def __init__(self, *rows: BenchLine) -> None:
        super().__init__()
        for theme in look.themes():
            self.register_theme(theme)
        self.theme = look.themes()[0].name
        self.given = rows

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return look.variable_defaults()

    def compose(self) -> ComposeResult:
        yield BenchList()

    def on_mount(self) -> None:
        self.query_one(BenchList).rows = self.given

    def line(self, at: int) -> str:
        return "".join(segment.text for segment in self.query_one(BenchList).render_line(at + 1))


FIGURES = ("11.0", "10.8", "≥45.0", "unable")


@pytest.mark.parametrize("label", ["A.B.", "王小明選手名前", "🦶 foot", "a very long label"])
async def test_figures_stand_in_one_column_whatever_the_label(label: str) -> None:
    app = Shown(BenchLine("1", "X", FIGURES), BenchLine("2", label, FIGURES))
    async with app.run_test(size=(80, 24)):
        first, second = app.line(0), app.line(1)
        assert cell_len(first[: first.index("11.0")]) == cell_len(second[: second.index("11.0")])
        assert cell_len(first) == cell_len(second)


async def test_the_cursor_is_seen_on_a_row_with_a_flag() -> None:
    app = Shown(BenchLine("1", "X", FIGURES, worse=True), BenchLine("2", "Y", FIGURES))
    async with app.run_test(size=(80, 24)):
        assert app.line(0).split()[:2] == [f"{CURSOR}{FLAG}", "X"]
        app.query_one(BenchList).cursor = 1
        assert app.line(0).split()[:2] == [FLAG, "X"]
        assert app.line(1).split()[:2] == [CURSOR, "Y"]


async def test_a_clear_loss_is_whole_at_80_columns() -> None:
    says = "right -2.6 clear loss"
    app = Shown(BenchLine("1", "X", FIGURES, says=says, looked="re-check 14:25"))
    async with app.run_test(size=(80, 24)):
        assert says in app.line(0)
        assert app.line(0).rstrip().endswith("re-check 14:25")
