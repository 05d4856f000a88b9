"""A key pressed as an answer to a question: a while after it was put, and not as a second tap on the same key."""

from __future__ import annotations

from textual.pilot import Pilot

from store.knowledge.time import SetClock


async def unhurried(pilot: Pilot[None], *keys: str) -> None:
    """Press keys, each a second by the application's set clock after what came before."""
    clock = getattr(pilot.app, "clock", None)
    assert isinstance(clock, SetClock)
    for key in keys:
        clock.move(1)
        await pilot.press(key)
