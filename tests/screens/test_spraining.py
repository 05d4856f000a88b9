"""A new sprain is typed in one line on the episode, open or closed; it stands in the head, and u takes it back."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input

from store.care.appointments import coming_words
from store.care.people import close_episode
from store.care.resprain import logged
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tui.screens.episode import EpisodeScreen
from tui.widgets import commands
from tui.widgets.mirror import MirrorTable


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_it_is_logged_shown_and_taken_back(app: Ward, size: tuple[int, int]) -> None:
    episode = app.episodes["R.K."]
    async with app.run_test(size=size) as pilot:
        app.open(commands.EPISODE, episode=episode.id)
        await pilot.pause()
        await pilot.press("q")
        await pilot.pause()
        assert "the day first: 12 jan" in text_of(app)
        assert misfits(app) == []
        await write(pilot, "mon on the stairs", "enter")
        await pilot.pause()
        assert "! new sprain right, 23 Nov " in text_of(app).splitlines()[2]
        assert "✓ new sprain logged; screen it for safety (s)   u undo" in text_of(app)
        assert isinstance(app.focused, MirrorTable)
        assert [one.note for one in logged(app.care, episode.id)] == ["on the stairs"]
        assert misfits(app) == []
        await pilot.press("u")
        await pilot.pause()
        assert logged(app.care, episode.id) == ()
        assert "took back" in text_of(app)
        assert "new sprain" not in text_of(app).splitlines()[2]


async def test_it_is_logged_after_discharge(app: Ward) -> None:
    episode = close_episode(app.care, app.episodes["T.M."])
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE, episode=episode.id)
        await pilot.pause()
        await pilot.press("q")
        await write(pilot, "yesterday", "enter")
        await pilot.pause()
        assert "✓ new sprain logged; to treat it: a, a new episode   u undo" in text_of(app)
        assert "q new sprain" in text_of(app)
        assert len(logged(app.care, episode.id)) == 1


async def test_what_cannot_be_read_says_why_and_the_text_stays(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE, episode=app.episodes["R.K."].id)
        await pilot.pause()
        await pilot.press("q")
        await write(pilot, "on the stairs", "enter")
        await pilot.pause()
        assert "no day" in text_of(app)
        assert app.screen.query_one("#sprain", Input).value == "on the stairs"
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, EpisodeScreen)
        assert not app.screen.query_one("#sprain", Input).parent.display  # type: ignore[union-attr]  # it has one
        await pilot.press("q", "enter")  # nothing typed: nothing logged
        await pilot.pause()
        assert logged(app.care, app.episodes["R.K."].id) == ()


@pytest.mark.parametrize("first", ["w", "q"])
async def test_of_a_visit_planned_and_a_sprain_logged_the_last_is_taken_back(app: Ward, first: str) -> None:
    episode = app.episodes["R.K."]
    typed = {"w": "fri 9:00", "q": "mon on the stairs"}
    async with app.run_test(size=(120, 40)) as pilot:
        app.open(commands.EPISODE, episode=episode.id)
        await pilot.pause()
        then = next(key for key in typed if key != first)
        for key in (first, then):
            await pilot.press(key)
            await write(pilot, typed[key], "enter")
            await pilot.pause()
        await pilot.press("u")
        await pilot.pause()
        assert "took back" in text_of(app)
        assert bool(logged(app.care, episode.id)) is (first == "q")
        assert bool(coming_words(app.care, episode.person)) is (first == "w")
        assert isinstance(app.screen, EpisodeScreen)
        assert app.screen.last_act is None  # the other stands: only what was done last is taken back here
