from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot

from store.care import visits
from tests.helpers.fit import misfits, text_of
from tests.screens.made import opened, orienteer, take
from tests.screens.theatre import Theatre
from tui.screens.source import SourceScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet
from tui.widgets.page_of_words import wrapped


class Room(Theatre):
    """R.K. alone."""

    def __init__(self, tmp_path: Path) -> None:
        care, clock = opened(tmp_path)
        self.episode = orienteer(care, clock)
        super().__init__(care, clock, tmp_path)


@pytest.fixture
def app(tmp_path: Path) -> Room:
    return Room(tmp_path)


async def on_screen(app: Room, pilot: Pilot[Any], measure: str = "lunge") -> None:
    app.open(commands.SOURCE, episode=app.episode.id, measure=measure)
    await pilot.pause()
    await pilot.pause()


async def all_of_it(app: Room, pilot: Pilot[Any]) -> str:
    """The page read from top to bottom, each line once."""
    lines: list[str] = []
    for _ in range(40):
        lines += [line for line in text_of(app).splitlines() if line not in lines]
        await pilot.press("pagedown")
        await pilot.pause()
    return " ".join(" ".join(lines).split())


async def test_the_page_says_value_rule_error_source_and_the_honest_sentences(app: Room) -> None:
    async with app.run_test(size=(100, 24)) as pilot:
        await on_screen(app, pilot)
        assert "lunge weight-bearing lunge, toe to wall" in " ".join(text_of(app).split())
        assert "4.8 cm, mean of 4.9 4.8 4.7; 23 Nov 2026 10:01" in " ".join(text_of(app).split())
        page = await all_of_it(app, pilot)
        for words in (
            "the right less its reference, the uninjured side",
            "Powden and others 2015",
            "common practice; no source",
            "six verdicts at 95 % are not six proofs",
            "no clean yardstick after a sprain",
            "1.96 x SEM between visits",
            "licensed clinician's judgement",
        ):
            assert words in page


async def test_while_a_blind_re_test_waits_no_value_gap_or_change_is_on_the_page(app: Room) -> None:
    async with app.run_test(size=(100, 40)) as pilot:
        visit = visits.start_visit(app.care, app.episode)
        take(app.care, visit, "lunge l 10.7 10.7 10.7 r 5.7 5.7 5.7 before")
        await on_screen(app, pilot)
        page = await all_of_it(app, pilot)
        assert "hidden until the re-test is in" in page
        for value in ("10.7", "5.7", "4.8", "5.4 short", "clear gain,"):
            assert value not in page


async def test_an_unknown_measure_is_said_and_escape_goes_back(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot, "toe_grip")
        assert "does not know the measure toe_grip" in " ".join(text_of(app).split())
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, SourceScreen)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
@pytest.mark.parametrize("measure", ["lunge", "pain_walk", "stance_closed"])
async def test_it_fits(app: Room, size: tuple[int, int], measure: str) -> None:
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot, measure)
        assert misfits(app) == []


@pytest.mark.parametrize("cells", [10, 23, 60])
@pytest.mark.parametrize("text", ["a few words that wrap", "x" * 70, "漢字 " * 20, "", "漢" * 50])
def test_words_wrap_within_their_cells_and_none_is_lost(text: str, cells: int) -> None:
    lines = wrapped(text, cells)
    assert all(cell_len(line) <= cells for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_no_key_does_nothing_silently() -> None:
    assert unmet(SourceScreen) == []
