"""Walk a scene to where it is looked at: its own keys pressed, and all that follows a paint read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual.app import App
from textual.pilot import Pilot

from store.knowledge.time import SetClock
from tests.helpers.burst import burst, dealt_with
from tui.screens.caseload import CaseloadScreen
from tui.widgets.in_turn import KeysInTurn

LATER = "later"
"""Among the keys of a scene: a second goes by, as before an answer to what was asked."""


async def arrive(app: App[Any], pilot: Pilot[Any], theme: str, press: Sequence[str] = ()) -> None:
    """Set the theme, press the keys of the scene and then these, and let everything come to its end."""
    app.theme = theme
    await pilot.pause()
    keys = (*getattr(app, "walk", ()), *press)
    if isinstance(app, KeysInTurn):
        await _walk(app, pilot, keys)
    else:
        await pilot.press(*keys)
    await app.workers.wait_for_complete()
    await come_to_rest(app, pilot)


async def _walk(app: KeysInTurn, pilot: Pilot[Any], keys: Sequence[str]) -> None:
    """Press keys as fast as can be, but for what comes LATER."""
    clock = getattr(app, "clock", None)
    while keys:
        now = keys[: keys.index(LATER)] if LATER in keys else keys
        burst(app, *now)
        await pilot.pause()
        await dealt_with(pilot)
        keys = keys[len(now) + 1 :]
        if isinstance(clock, SetClock) and keys:
            clock.move(1)


async def come_to_rest(app: App[Any], pilot: Pilot[Any]) -> None:
    """Wait until what is shown is all that will be: the caseload reads its gaps and recalls after its rows."""
    await pilot.pause()
    if isinstance(app.screen, CaseloadScreen):
        app.screen._read_recalls()
        while app.screen._unfilled():
            await pilot.pause(0.01)
    await pilot.pause()
