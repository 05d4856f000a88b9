"""What is no plain figure, trial by trial: yes and no, a rating below nought, the sum of a questionnaire."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.knowledge.words import Status
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.screens.visit_stage import VisitStage, staged
from tui.widgets import commands


def stage(tmp_path: Path, measure: str) -> VisitStage:
    app = staged(tmp_path)
    app.then, app.arguments = commands.TRIALS, {"measure": measure, "moment": None}
    return app


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


def kept(app: VisitStage) -> list[tuple[str | None, float | None]]:
    return [(one.side, one.value) for one in app.kept]


@pytest.mark.parametrize(
    "measure", ["balance_errors", "pitting", "faam_adl", "force_ev", "side_hop", "sprain_grade"]
)
@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_longest_protocols_fit(tmp_path: Path, size: tuple[int, int], measure: str) -> None:
    app = stage(tmp_path, measure)
    async with app.run_test(size=size) as pilot:
        await shown(pilot)
        assert misfits(app) == []


async def test_yes_and_no_are_typed_in_words(tmp_path: Path) -> None:
    app = stage(tmp_path, "hop_spot")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "yes or no" in text_of(app)
        await write(pilot, "yes", "enter")
        await shown(pilot)
        await write(pilot, "no", "enter")
        await shown(pilot)
        assert kept(app) == [("left", 1.0), ("right", 0.0)]


async def test_a_minus_begins_a_rating_for_the_worse(tmp_path: Path) -> None:
    app = stage(tmp_path, "change_rating")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("minus", "3", "enter")
        await shown(pilot)
        assert kept(app) == [(None, -3.0)]


async def test_a_stroke_parts_the_sum_of_the_answers_from_their_number(tmp_path: Path) -> None:
    app = stage(tmp_path, "faam_adl")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("6", "4", "slash", "2", "0", "enter")
        await shown(pilot)
        assert kept(app) == [(None, 80.0)]


async def test_a_stroke_alone_says_that_no_form_could_be_filled_in(tmp_path: Path) -> None:
    app = stage(tmp_path, "faam_adl")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("slash")
        await shown(pilot)
        assert [one.status for one in app.kept] == [Status.UNABLE]
