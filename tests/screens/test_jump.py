"""Jump: a letter on each part of a dense screen, and the letter goes there."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from store.care import visits
from store.care.squads import add_new, make
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.screens.caseload import CaseloadScreen
from tui.screens.episode import EpisodeScreen
from tui.screens.person import PersonScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.jump import Jump, Letter
from tui.widgets.mirror import MirrorTable
from tui.widgets.plan_list import PlanList


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ward:
    monkeypatch.setattr(Ward, "open", BothFeetApp.open)
    return Ward(tmp_path)


async def settled(pilot: Pilot[None]) -> None:
    for _ in range(5):
        await pilot.pause()


def letters(app: Ward) -> dict[str, str]:
    """Each letter with the text of the screen that stands behind it."""
    lines = text_of(app).splitlines()
    return {one.letter: lines[one.region.y][one.region.x :] for one in app.screen.query(Letter)}


async def test_on_the_caseload_a_letter_opens_its_row(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("ctrl+y")
        await settled(pilot)
        shown = letters(app)
        assert len(shown) == 7  # the field and six rows
        assert misfits(app) == []
        assert "letter goes there" in text_of(app).splitlines()[-1]
        assert all(text.startswith(letter) for letter, text in shown.items())
        letter = next(letter for letter, text in shown.items() if "R.K." in text)
        await pilot.press(letter)
        await settled(pilot)
        assert isinstance(app.screen, EpisodeScreen)
        assert app.screen.episode == app.episodes["R.K."].id
        await pilot.press("escape")
        await settled(pilot)
        assert app.screen.query_one(Input).value == ""  # the letter was not typed
        assert not app.screen.query(Letter)


async def test_escape_and_any_other_key_leave_everything_as_it_was(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"s.l", "ctrl+y")
        await settled(pilot)
        for key in ("escape", "9"):
            await pilot.press(key)
            await settled(pilot)
            assert not app.screen.query(Letter)
            assert app.focused is app.screen.query_one(Input)
            assert app.screen.query_one(Input).value == "s.l"
            assert isinstance(app.screen, CaseloadScreen)
            await pilot.press("ctrl+y")
            await settled(pilot)


async def test_on_the_episode_it_goes_to_a_row_of_the_table(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE, episode=app.episodes["R.K."].id)
        await settled(pilot)
        await pilot.press("j")
        await settled(pilot)
        found = letters(app)
        assert len(found) == app.screen.query_one(MirrorTable).scrollable_content_region.height - 1
        await pilot.press("c")
        await settled(pilot)
        assert app.screen.query_one(MirrorTable).cursor == 2
        assert app.focused is app.screen.query_one(MirrorTable)


async def test_on_the_visit_it_goes_to_a_line_of_the_plan_and_does_nothing_there(app: Ward) -> None:
    visit = visits.start_visit(app.care, app.episodes["R.K."])
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.VISIT, visit=visit.id)
        await settled(pilot)
        await pilot.press("j")
        await settled(pilot)
        assert len(letters(app)) == len(app.screen.query_one(PlanList).rows)
        await pilot.press("c")
        await settled(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert app.screen.query_one(PlanList).cursor == 2


async def test_on_the_form_it_goes_to_a_field_and_typed_text_stays(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.PERSON)
        await settled(pilot)
        await pilot.press(*"jan", "ctrl+y")
        await settled(pilot)
        screen = app.screen
        assert isinstance(screen, PersonScreen)
        assert screen.fields.label.value == "jan"
        found = letters(app)
        assert len(found) >= 10
        at = screen.fields.goal_on.query_one(Input).region
        letter = next(
            one.letter for one in screen.query(Letter) if one.region.y == at.y and one.region.right == at.x
        )
        await pilot.press(letter)
        await settled(pilot)
        assert app.focused is screen.fields.goal_on.query_one(Input)


async def test_a_fast_second_key_is_the_letter(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE, episode=app.episodes["R.K."].id)
        await settled(pilot)
        await pilot.press("j", "b")
        await settled(pilot)
        assert app.screen.query_one(MirrorTable).cursor == 1
        assert isinstance(app.screen, EpisodeScreen)


@pytest.mark.parametrize(
    "screen",
    [
        commands.TRIALS,
        commands.LINE,
        commands.PICK,
        commands.VISITS,
        commands.SQUADS,
        commands.SQUAD,
        commands.PAGE,
    ],
)
async def test_every_other_screen_takes_it(app: Ward, screen: str) -> None:
    episode = app.episodes["R.K."]
    visit = visits.start_visit(app.care, episode)
    squad = make(app.care, "hockey")
    person = add_new(app.care, squad, "B.B.").member.person
    arguments: dict[str, dict[str, object]] = {
        commands.TRIALS: {"visit": visit.id, "measure": "lunge"}, commands.VISITS: {"episode": episode.id},
        commands.SQUADS: {}, commands.SQUAD: {"squad": squad.id}, commands.PAGE: {"person": person},
    }  # fmt: skip
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(screen, **arguments.get(screen, {"visit": visit.id}))
        await settled(pilot)
        was = app.screen, app.focused
        await pilot.press("ctrl+y")
        await settled(pilot)
        if screen == commands.PAGE:  # words only
            assert "Nothing is here to go to." in text_of(app)
        else:
            assert app.screen.query(Letter)
            assert misfits(app) == []
            await pilot.press("escape")
            await settled(pilot)
        assert (app.screen, app.focused) == was
        assert not app.screen.query_one(Jump).display
