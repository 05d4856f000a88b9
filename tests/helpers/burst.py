"""Keys in one burst: all of them at once, as a terminal hands on what was typed fast.

Pressing key by key lays out and paints the screen after each of them, which is most of the time of a test.
"""

from __future__ import annotations

from typing import Any

from textual import events
from textual.app import App
from textual.keys import _character_to_key
from textual.pilot import Pilot


def burst(app: App[Any], *keys: str) -> None:
    """Queue all keys at once: a single character is typed, anything longer is the name of a key."""
    for key in keys:
        if len(key) == 1:
            app.post_message(events.Key(_character_to_key(key), key))
        else:
            app.post_message(events.Key(key, None))


async def write(pilot: Pilot[Any], text: str, *keys: str) -> None:
    """Type a text into the field that has the focus, then press keys one by one."""
    burst(pilot.app, *text)
    await pilot.press(*keys)
    if not keys:
        await pilot.pause()
    await dealt_with(pilot)


async def dealt_with(pilot: Pilot[Any]) -> None:
    """Wait until every key that was typed has had its turn."""
    while getattr(pilot.app, "keys_wait", False):
        await pilot.pause()
