"""The screen of papers: the note drafted, edited, signed with two keys, added to; the letter; files and copies."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import noting
from tests.helpers.fit import text_of
from tests.screens.visit_stage import VisitStage, late
from tui.screens.papers import PapersScreen


async def shown(pilot: Pilot[None]) -> None:
    for _ in range(3):
        await pilot.pause()


@pytest.fixture
def app() -> VisitStage:
    return late()


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_n_shows_the_draft_and_x_twice_signs_it(app: VisitStage, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await shown(pilot)
        await pilot.press("n")
        await shown(pilot)
        text = text_of(app)
        assert isinstance(app.screen, PapersScreen)
        for words in ("R.K.", "note, draft", "▸ subjective", "now 2, worst 4"):
            assert words in text
        await pilot.press("x")
        assert "x again signs" in " ".join(text_of(app).split())
        assert not noting.note_of(app.care, app.visit_id).signed
        await pilot.press("x")
        await shown(pilot)
        assert "note signed by AB" in text_of(app)
        assert "note, signed" in text_of(app)
        assert app.care.visit(app.visit_id).ended is not None


async def test_another_key_takes_the_question_back(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n", "x", "down", "pagedown", "x")
        await shown(pilot)
        assert not noting.note_of(app.care, app.visit_id).signed


async def test_a_section_is_edited_kept_and_drafted_again(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n", "e")
        await shown(pilot)
        await pilot.press(*"said so ", "ctrl+o")
        await shown(pilot)
        assert noting.note_of(app.care, app.visit_id).sections["subjective"].startswith("said so pain")
        assert "subjective, edited" in text_of(app)
        await pilot.press("e", *"no", "escape")
        await shown(pilot)
        assert not noting.note_of(app.care, app.visit_id).sections["subjective"].startswith("no")
        assert isinstance(app.screen, PapersScreen)


async def test_additions_and_a_countersign_come_after(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n", "z", "x", "x")
        await shown(pilot)
        await pilot.press("e")
        assert "signed and locked" in text_of(app)
        await pilot.press("a", *"called", "ctrl+o")
        await shown(pilot)
        await pilot.press("z", *"CD", "enter")
        await shown(pilot)
        view = noting.note_of(app.care, app.visit_id)
        assert [one.sections["addition"] for one in view.additions] == ["called"]
        assert view.kept is not None
        assert view.kept.countersigned_by == "CD"


async def test_note_and_letter_are_saved_and_copied(app: VisitStage, tmp_path: Path) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("n", "y")
        await shown(pilot)
        assert "SUBJECTIVE" in app.clipboard
        await pilot.press("right")
        await shown(pilot)
        assert "progress letter" in text_of(app)
        await pilot.press("ctrl+o")
        app.screen.query_one("#answer").value = str(tmp_path / "none" / "letter.html")  # type: ignore[attr-defined]  # of the screen on show
        await pilot.press("enter")
        await shown(pilot)
        assert "cannot be written" in " ".join(text_of(app).split())
        app.screen.query_one("#answer").value = str(tmp_path / "letter.html")  # type: ignore[attr-defined]  # of the screen on show
        await pilot.press("enter")
        await shown(pilot)
        assert "<svg" in (tmp_path / "letter.html").read_text("utf-8")
