"""Every screen that reads the record sees what another window wrote, and keeps what is in hand on it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import TextArea

from store.care import safety, visits
from store.care.care import Care, open_care
from store.care.home import home_standing, issue, review_day
from store.care.home_items import choices, new_item
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.made import take
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.home_list import HomeList
from tui.screens.safety import SafetyPage
from tui.widgets import commands
from tui.widgets.notices import CHANGED, Notices

SAID = " ".join(CHANGED.split())


async def on_screen(app: VisitStage, pilot: Pilot[Any], name: str, **more: str) -> Notices:
    await pilot.pause()
    asked: dict[str, str] = {"visit": app.visit_id} if name == commands.VISIT else {"episode": app.episode.id}
    app.open(name, **asked, **more)
    for _ in range(3):
        await pilot.pause()
    screen = app.screen
    assert isinstance(screen, Notices)
    app.care.changed_elsewhere()
    return screen


def elsewhere(app: VisitStage, folder: Path) -> Care:
    return open_care(folder / "ward.sqlite", app.set_clock, examiner="CD")


def staged_here(folder: Path) -> VisitStage:
    return staged(folder, noted=set())


@pytest.mark.parametrize(
    ("name", "more", "news"),
    [
        (commands.CHART, {"measure": "pain_now"}, "25 Nov 2026"),
        (commands.CRITERIA, {"stage": "walk"}, "✗ short"),
        (commands.PAPERS, {}, "pain: now 7"),
        (commands.VISITS, {}, "week 4, open"),
        (commands.VISIT, {}, "pain now 7"),
    ],
)
async def test_a_screen_shows_what_another_window_saved(
    tmp_path: Path, name: str, more: dict[str, str], news: str
) -> None:
    app = staged_here(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await on_screen(app, pilot, name, **more)
        was = text_of(app)
        assert news not in was
        assert SAID not in " ".join(was.split())
        other = elsewhere(app, tmp_path)
        visits.said(other, other.visit(app.visit_id), "pain 7")
        other.close()
        screen.tick()
        await pilot.pause()
        assert news in text_of(app)
        assert SAID in " ".join(text_of(app).split())
        assert misfits(app) == []


async def test_what_is_typed_in_a_note_stays_while_another_window_writes(tmp_path: Path) -> None:
    app = staged_here(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_screen(app, pilot, commands.PAPERS)
        await pilot.press("e", *"walks")
        other = elsewhere(app, tmp_path)
        take(other, other.visit(app.visit_id), "pain_now 7")
        other.close()
        screen.tick()
        await pilot.pause()
        area = screen.query_one(TextArea)
        assert area.has_focus
        assert area.text.startswith("walks")


async def test_a_programme_handed_out_elsewhere_is_seen_and_a_draft_in_hand_stays(tmp_path: Path) -> None:
    app = staged_here(tmp_path)

    def hand_out(at: int) -> str:
        other = elsewhere(app, tmp_path)
        held = home_standing(other, app.episode.id)
        item = new_item(other, choices(other, app.episode, None, ())[at].activity, app.episode)
        issue(other, held, [item], review_day(other, held), other.visit(app.visit_id))
        other.close()
        return item.name

    async with app.run_test(size=(120, 40)) as pilot:
        screen = await on_screen(app, pilot, commands.HOME)
        assert isinstance(screen, HomeList)
        name = hand_out(0)
        screen.tick()
        await pilot.pause()
        assert screen.draft is not None
        assert [item.name for item in screen.draft.items] == [name]
        await pilot.press("minus")
        assert screen.draft.items == ()
        hand_out(1)
        screen.tick()
        await pilot.pause()
        assert screen.draft.items == ()


async def test_answers_in_hand_are_laid_over_the_screen_that_another_window_kept(tmp_path: Path) -> None:
    app = staged_here(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_screen(app, pilot, commands.SAFETY)
        await unhurried(pilot, "n", "n")
        other = elsewhere(app, tmp_path)
        draft = safety.answer(safety.begin(other, app.episode.id), "hot_joint", "yes")
        first = safety.keep(other, draft)
        other.close()
        await pilot.press("enter")
        assert "another window has kept a screen of today" in text_of(app)
        screen.tick()
        await pilot.pause()
        assert isinstance(screen, SafetyPage)
        assert "EMERGENCY" in text_of(app)
        await pilot.press("enter")
        kept = safety.screens(app.care, app.episode.id)
        assert [one.id for one in kept] == [first.id]
        assert kept[0].answers["cold_foot"] == "no"
        assert kept[0].answers["hot_joint"] == "yes"
