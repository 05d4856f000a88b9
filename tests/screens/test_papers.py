"""The screen of papers: the note drafted, edited, signed with two keys, added to; the letter; files and copies."""

from __future__ import annotations

from pathlib import Path

import icalendar
import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from store.care import appointments, noting, run_acts
from store.care.home import home_standing, issue
from store.care.home_items import new_item
from tests.helpers.fit import text_of
from tests.helpers.unhurried import unhurried
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
        assert "← → letter" in text.splitlines()[-1]  # whoever does not know of the other papers is shown the way
        await pilot.press("x")
        await pilot.press("x")
        await shown(pilot)
        assert "x again signs" in " ".join(text_of(app).split())
        assert not noting.note_of(app.care, app.visit_id).signed, "a second tap is no answer"
        await unhurried(pilot, "x")
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
        await pilot.press("n", "z", "x")
        await unhurried(pilot, "x")
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
        app.screen.query_one("#answer", Input).value = "~nobody-of-this-name/letter.html"
        await pilot.press("enter")
        await shown(pilot)
        assert "there is no folder ~nobody-of-this-name here" in " ".join(text_of(app).split())
        app.screen.query_one("#answer", Input).value = f"{tmp_path}/{'x' * 300}.html"
        await pilot.press("enter")
        await shown(pilot)
        assert "File name too long" in " ".join(text_of(app).split())
        app.screen.query_one("#answer").value = str(tmp_path / "letter.html")  # type: ignore[attr-defined]  # of the screen on show
        await pilot.press("enter")
        await shown(pilot)
        assert "<svg" in (tmp_path / "letter.html").read_text("utf-8")


async def answer(app: VisitStage, pilot: Pilot[None], words: str) -> None:
    """Type into the line that asks, in place of what stands there."""
    app.screen.query_one("#answer", Input).value = words
    await pilot.press("enter")
    await shown(pilot)


async def test_e_says_to_whom_the_letter_goes_and_nothing_leaves_it_out(app: VisitStage, tmp_path: Path) -> None:
    app.care.settings = app.care.settings._replace(letter_to="Dr N. N.")
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("n", "right")
        await shown(pilot)
        assert "To: Dr N. N." in text_of(app)
        await pilot.press("e")
        await answer(app, pilot, "the club's coach")
        assert "To: the club's coach" in text_of(app)
        await pilot.press("ctrl+o")
        await answer(app, pilot, str(tmp_path / "letter.txt"))
        assert "To: the club's coach" in (tmp_path / "letter.txt").read_text("utf-8")
        await pilot.press("e")
        await answer(app, pilot, "x" * 121)
        assert "at most 120 characters" in text_of(app)
        await answer(app, pilot, "")
        assert "To:" not in text_of(app)
        assert "the letter names nobody" in text_of(app)


async def test_whom_a_letter_goes_to_is_kept(app: VisitStage) -> None:
    app.care.settings = app.care.settings._replace(letter_to="Dr N. N.")
    async with app.run_test(size=(80, 24)) as pilot:
        for was, now in (("Dr N. N.", "the club's coach"), ("the club's coach", ""), ("", "Dr N. N.")):
            await pilot.press("n", "right", "e")
            await shown(pilot)
            assert app.screen.query_one("#answer", Input).value == was
            await answer(app, pilot, now)
            await pilot.press("escape", "n", "right")
            await shown(pilot)
            assert (f"To: {now}" in text_of(app)) if now else ("To:" not in text_of(app))
            await pilot.press("escape")


async def test_left_of_the_note_is_the_home_sheet(app: VisitStage, tmp_path: Path) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("n", "left")
        await shown(pilot)
        told = " ".join(text_of(app).split())
        assert "no home sheet yet No home programme was handed out yet: h opens it in the visit." in told
        await pilot.press("ctrl+o", "y")
        assert "No home programme was handed out yet" in text_of(app)
        care, episode = app.care, app.episode
        held = home_standing(care, episode.id)
        items = [new_item(care, care.knowledge.activities["hold_firm"], episode)]
        issue(care, held, items, held.on, care.visit(app.visit_id))
        await pilot.press("right", "left")
        await shown(pilot)
        assert "Your ankle at home: R.K." in text_of(app)
        assert "Right foot (the sore one)" in text_of(app)
        await pilot.press("x")
        assert "This key is for the note" in text_of(app)
        await pilot.press("y")
        assert app.clipboard.startswith("YOUR ANKLE AT HOME: R.K.")
        await pilot.press("ctrl+o")
        await answer(app, pilot, str(tmp_path / "sheet.html"))
        assert "<svg" in (tmp_path / "sheet.html").read_text("utf-8")


async def test_between_letter_and_home_sheet_is_the_calendar(app: VisitStage, tmp_path: Path) -> None:
    care, old = app.care, tmp_path / "plan.ics"
    old.write_text("the old one", "utf-8")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n", "right", "right")
        await shown(pilot)
        assert "no calendar yet" in text_of(app)
        await pilot.press("ctrl+o")
        assert "No appointment and no run is planned" in text_of(app)
        appointments.plan(care, care.person(app.episode.person), "thu 10:40")
        run_acts.plan(care, app.episode.id, "wed sat", all_the_same=True)
        await pilot.press("left", "right")
        await shown(pilot)
        for words in ("Thu 26 Nov 2026 10:40, 30 min", "Sat 28 Nov 2026: 1:4x5", "names the person so"):
            assert words in text_of(app)
        await pilot.press("y", "ctrl+o")
        assert app.clipboard.startswith("CALENDAR\nR.K.\n")
        assert "save to, ending in .ics" in text_of(app)
        await answer(app, pilot, str(tmp_path / "plan.txt"))
        assert "ends in none of .ics" in " ".join(text_of(app).split())
        await answer(app, pilot, str(old))
        assert "plan.ics is there already: enter again replaces it, or name another" in text_of(app)
        await pilot.press("enter")
        await shown(pilot)
        assert old.read_text("utf-8") == "the old one", "a second tap is no answer"
        await unhurried(pilot, "enter")
        await shown(pilot)
    told = icalendar.Calendar.from_ical(old.read_bytes()).walk("VEVENT")
    assert {str(one["SUMMARY"]) for one in told} >= {"R.K.", "R.K.: run 1:4x5"}


async def test_a_file_that_is_there_is_replaced_only_by_a_second_enter(app: VisitStage, tmp_path: Path) -> None:
    old = tmp_path / "note.txt"
    old.write_text("the old one", "utf-8")
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("n", "ctrl+o")
        await shown(pilot)
        await answer(app, pilot, str(old))
        assert "note.txt is there already: enter again replaces it, or name another" in text_of(app)
        assert old.read_text("utf-8") == "the old one"
        await answer(app, pilot, str(tmp_path / "other.txt"))
        assert (tmp_path / "other.txt").exists()
        await pilot.press("ctrl+o")
        await answer(app, pilot, str(old))
        await pilot.press("enter")
        await shown(pilot)
        assert old.read_text("utf-8") == "the old one", "a second tap is no answer"
        await unhurried(pilot, "enter")
        await shown(pilot)
        assert old.read_text("utf-8").startswith("VISIT NOTE")
