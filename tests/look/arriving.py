"""Walk a scene to where it is looked at: its own keys pressed, and all that follows a paint read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual.app import App
from textual.pilot import Pilot

from tests.helpers.burst import burst, dealt_with
from tui.screens.caseload import CaseloadScreen
from tui.widgets.in_turn import KeysInTurn


async def arrive(app: App[Any], pilot: Pilot[Any], theme: str, press: Sequence[str] = ()) -> None:
    """Set the theme, press the keys of the scene and then these, and let everything come to its end."""
    app.theme = theme
    await pilot.pause()
    keys = (*getattr(app, "walk", ()), *press)
    if isinstance(app, KeysInTurn):
        burst(app, *keys)
        await pilot.pause()
        await dealt_with(pilot)
    else:
        await pilot.press(*keys)
    await app.workers.wait_for_complete()
    await come_to_rest(app, pilot)


async def come_to_rest(app: App[Any], pilot: Pilot[Any]) -> None:
    """Wait until what is shown is all that will be: the caseload reads its gaps and recalls after its rows."""
    await pilot.pause()
    if isinstance(app.screen, CaseloadScreen):
        app.screen._read_recalls()
        while app.screen._unfilled():
            await pilot.pause(0.01)
    await pilot.pause()
