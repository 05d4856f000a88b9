"""The earlier visits on screen: a list that is walked, the chosen one beside or below it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot

from store.care import visits
from store.care.importing import bring_in
from store.care.timing import begin
from store.knowledge.words import Episode
from tests.helpers.fit import misfits, text_of
from tests.screens.made import opened, orienteer, take, ward
from tests.screens.theatre import Theatre
from tests.screens.visit_stage import staged
from tui.screens.episode import EpisodeScreen
from tui.screens.visit import VisitScreen
from tui.screens.visits import VisitsScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet


class Room(Theatre):
    """R.K. with a bout timed in the last visit."""

    def __init__(self, tmp_path: Path) -> None:
        care, clock = opened(tmp_path)
        self.episode: Episode = orienteer(care, clock)
        visit = visits.start_visit(care, self.episode)
        visits.said(care, visit, "pain 2 worst 4 gaveway 0 home 5/7 consent y")
        live = begin(care, care.knowledge.activities["mobilisation_belt"], care.visit(visit.id))
        live.press()
        for _ in range(80):
            clock.move(1)
            live.tick()
        live.pain(0)
        live.end()
        visits.end_visit(care, care.visit(visit.id))
        super().__init__(care, clock, tmp_path)


@pytest.fixture
def app(tmp_path: Path) -> Room:
    return Room(tmp_path)


async def settled(pilot: Pilot[Any]) -> None:
    for _ in range(3):
        await pilot.pause()


async def on_screen(app: Room, pilot: Pilot[Any]) -> None:
    app.open(commands.EPISODE, episode=app.episode.id)
    await settled(pilot)
    await pilot.press("l")
    await settled(pilot)
    assert isinstance(app.screen, VisitsScreen)


def chosen(app: Room) -> str:
    """The line under the cursor."""
    return next(line for line in text_of(app).splitlines() if line.startswith(" ▸"))


TABLE = """person,injured_side,grade,injured_on,taken_at,measure,side,value,moment,examiner
R.K.,right,,,2026-11-18 18:05,lunge,left,10.2|10.4|10.3,,KV
R.K.,right,,,2026-11-18 18:05,lunge,right,4.2|4.1|4.3,,KV
R.K.,right,,,2026-11-19 18:05,girth,right,52.9,,
R.K.,,,,2026-08-17 18:05,lunge,left,10.8,,KV
"""


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_days_brought_in_from_a_table_stand_among_the_visits_and_say_so(
    app: Room, tmp_path: Path, size: tuple[int, int]
) -> None:
    (tmp_path / "table.csv").write_text(TABLE, encoding="utf-8")
    bring_in(app.care, tmp_path / "table.csv")
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot)
        days = [line.split("│")[0].split()[:4] for line in text_of(app).splitlines() if " 2026 " in line]
        assert ["Thu", "19", "Nov", "2026"] in days or size == (80, 24)
        for _ in range(12):
            if "Thu 19 Nov 2026" in chosen(app):
                break
            await pilot.press("down")
            await settled(pilot)
        assert " ".join(chosen(app).split("│")[0].split()).endswith("2026 week 3 table")
        assert "Thu 19 Nov 2026, week 3, no visit" in text_of(app)
        assert "1 reading brought in from a table; examiner not" in text_of(app)
        await pilot.press("down", "down")  # over the visit of the day before to the table of that day
        await settled(pilot)
        shown = " ".join(text_of(app).split())
        assert "2 readings brought in from a table; examiner KV" in shown
        assert "left 10.3, right 4.2 cm" in shown
        assert misfits(app) == []
        while "▸" in text_of(app) and "17 Aug" not in chosen(app):  # before the injury: no day of this episode
            was = chosen(app)
            await pilot.press("down")
            await settled(pilot)
            if chosen(app) == was:
                break
        assert "17 Aug" not in chosen(app)


async def test_l_opens_the_last_visit_with_what_was_said_and_timed_and_esc_goes_back(app: Room) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await on_screen(app, pilot)
        assert "Wed 25 Nov 2026" in chosen(app)
        assert " ".join(chosen(app).split("│")[0].split()).endswith("week 4, AB 1 min")
        shown = " ".join(text_of(app).split())
        assert "now 2, worst 4" in shown
        assert "5 of 7 days planned" in shown
        assert "right, 1 of 3 sets, 10 reps each, ended early" in shown
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(app.screen, EpisodeScreen)


async def test_the_arrows_walk_to_an_earlier_visit_and_stop_at_the_ends(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot)
        await pilot.press("down")
        await settled(pilot)
        assert "Mon 23 Nov 2026" in chosen(app)
        assert "left 10.2, right 4.8 cm" in text_of(app)
        await pilot.press(*["down"] * 9)
        await settled(pilot)
        assert "Thu 5 Nov 2026" in chosen(app)
        assert "left 10.1, right 2.7 cm" in text_of(app)
        await pilot.press(*["up"] * 9)
        await settled(pilot)
        assert "Wed 25 Nov 2026" in chosen(app)


async def test_page_down_reads_on_and_another_visit_starts_at_its_top(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot)
        scroll = app.screen.query_one(VerticalScroll)
        await pilot.press("pagedown")
        await settled(pilot)
        assert scroll.scroll_offset.y > 0
        assert "mobilisation, belt" in text_of(app)
        await pilot.press("pageup")
        await settled(pilot)
        assert scroll.scroll_offset.y == 0
        await pilot.press("pagedown", "down")
        await settled(pilot)
        assert scroll.scroll_offset.y == 0


async def test_what_another_window_writes_is_there_when_it_is_read_again(app: Room, tmp_path: Path) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await on_screen(app, pilot)
        await pilot.press("down")
        app.care.changed_elsewhere()
        other, _ = opened(tmp_path)
        take(other, visits.start_visit(other, app.episode), "girth l 51 r 52")
        other.close()
        assert isinstance(app.screen, VisitsScreen)
        app.screen.tick()
        await settled(pilot)
        assert "week 4, open" in text_of(app)
        assert "Mon 23 Nov 2026" in chosen(app)


async def test_the_visit_in_hand_leads_there_too_and_shows_the_last_one_beside_it(tmp_path: Path) -> None:
    stage = staged(tmp_path)
    async with stage.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        assert "last visit, 2 days ago" in text_of(stage)
        await pilot.press("l")
        await settled(pilot)
        assert isinstance(stage.screen, VisitsScreen)
        assert "Wed 25 Nov 2026" not in text_of(stage), "a visit that was only opened is none"
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(stage.screen, VisitScreen)


async def test_a_visit_that_was_only_opened_says_that_it_does_not_count(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        episode = ward(care, clock)["R.K."]
        app.open(commands.EPISODE, episode=episode.id)
        await settled(pilot)
        visit = visits.start_visit(care, episode)
        app.push_screen(VisitScreen(visit.id))
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert "it does not count as one until something is" in " ".join(text_of(app).split())
        app.push_screen(VisitScreen(visit.id))
        await settled(pilot)
        await pilot.press("x")
        await settled(pilot)
        assert "nothing was done, so it does not count" in " ".join(text_of(app).split())


async def test_without_any_visit_it_says_what_to_do(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.VISITS, episode=ward(care, clock)["J.V."].id)
        await settled(pilot)
        assert "no visit yet" in text_of(app)
        await pilot.press("down", "up", "pagedown")
        assert misfits(app) == []


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_it_fits(app: Room, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot)
        assert misfits(app) == []


def test_no_key_does_nothing_silently() -> None:
    assert unmet(VisitsScreen) == []
