"""Keys that come before a screen stands, or after it was left: none of them ends the program."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual import events

import tui.app
from store.knowledge.time import SetClock
from tests.helpers.stage import NOON, Ward
from tui.app import SCREENS_BY_NAME, BothFeetApp
from tui.widgets import commands


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BothFeetApp:
    screens = {**SCREENS_BY_NAME, commands.EPISODE: "tests.helpers.stage:Ward"}
    monkeypatch.setattr(tui.app, "SCREENS_BY_NAME", screens)
    care: Any = None
    return BothFeetApp(care, SetClock(NOON), first=commands.EPISODE, log_folder=tmp_path / "logs")


@pytest.mark.parametrize(
    "keys",
    [
        ("f1", "escape"),
        ("f1", "escape", "f1", "escape", "f1", "escape"),
        ("ctrl+p", "pageup"),
        ("ctrl+p", "pagedown", "pageup", "escape"),
        ("ctrl+p", "enter", "enter", "escape"),
        ("ctrl+p", *["enter"] * 20),
    ],
    ids=" ".join,
)
async def test_keys_in_one_burst_do_no_harm(app: BothFeetApp, keys: tuple[str, ...]) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for key in keys:
            app.post_message(events.Key(key, None))
        for _ in range(8):
            await pilot.pause()
        assert app.is_running
        assert isinstance(app.screen_stack[0], Ward)


async def test_escape_pressed_with_the_key_that_opens_a_screen_leaves_that_screen(app: BothFeetApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.screen.set_focus(None)
        for key in ("f1", "escape"):
            app.post_message(events.Key(key, None))
        for _ in range(4):
            await pilot.pause()
        assert [type(screen) for screen in app.screen_stack] == [Ward]


@pytest.mark.parametrize("keys", [("ctrl+p", "ctrl+q"), ("ctrl+p", "m", "ctrl+q"), ("ctrl+p", "ctrl+p", "ctrl+q")])
async def test_closing_right_after_the_palette_was_asked_for_is_no_fault(
    app: BothFeetApp, keys: tuple[str, ...]
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for key in keys:
            app.post_message(events.Key(key, None))
    assert app.log_folder is not None
    assert not app.log_folder.exists()  # no fault was met


async def test_a_screen_asked_for_while_the_program_closes_does_not_open(app: BothFeetApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for key in ("f1", "ctrl+q"):
            app.post_message(events.Key(key, None))
        for _ in range(20):  # closing waits for its turn behind the key before it
            if app.return_code is None:
                await pilot.pause()
    assert app.return_code == 0
