"""When a person comes next, typed in one line on the episode and on their page."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input

from store.care.appointments import coming_words
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tui.screens.episode import EpisodeScreen
from tui.widgets import commands
from tui.widgets.mirror import MirrorTable


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_it_is_planned_moved_called_off_and_taken_back(app: Ward, size: tuple[int, int]) -> None:
    episode = app.episodes["R.K."]
    async with app.run_test(size=size) as pilot:
        app.open(commands.EPISODE, episode=episode.id)
        await pilot.pause()
        assert "no next visit planned" in text_of(app)
        await pilot.press("w")
        await pilot.pause()
        assert "thu 10:40, 3 dec" in text_of(app)
        assert misfits(app) == []
        await write(pilot, "thu 10:40", "enter")
        await pilot.pause()
        assert "✓ next visit Thu 10:40   u undo" in text_of(app)
        assert coming_words(app.care, episode.person) == "Thu 10:40"
        assert isinstance(app.focused, MirrorTable)
        await pilot.press("w")
        await write(pilot, "3 dec 14:00", "enter")
        await pilot.pause()
        assert "next visit 3 Dec 14:00" in text_of(app).splitlines()[2]
        await pilot.press("u")
        await pilot.pause()
        assert coming_words(app.care, episode.person) == "Thu 10:40"
        assert "took back" in text_of(app)
        await pilot.press("w")
        await pilot.pause()
        assert "now Thu 10:40" in text_of(app)
        await write(pilot, "off", "enter")
        await pilot.pause()
        assert coming_words(app.care, episode.person) == ""


async def test_what_cannot_be_read_says_why_and_the_text_stays(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE, episode=app.episodes["R.K."].id)
        await pilot.pause()
        await pilot.press("w")
        await write(pilot, "today 9:00", "enter")
        await pilot.pause()
        assert "in the past" in text_of(app)
        assert app.screen.query_one("#when", Input).value == "today 9:00"
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, EpisodeScreen)
        assert not app.screen.query_one("#when", Input).parent.display  # type: ignore[union-attr]  # it has one
        await pilot.press("w", "enter")  # nothing typed: nothing planned
        await pilot.pause()
        assert coming_words(app.care, app.episodes["R.K."].person) == ""
        await pilot.press("u")
        await pilot.pause()
        assert "Nothing to undo" in text_of(app)
