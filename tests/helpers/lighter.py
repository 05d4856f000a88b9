"""What a headless application does that no test looks at, left out: half the time of a run.

`lighten` changes the framework for the whole process. Programs in a terminal are other processes, and whole.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Collection, Hashable
from typing import Any, Protocol, cast

import textual.app
import textual.pilot
from rich.console import RenderableType
from textual._compositor import Compositor
from textual._context import active_app
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.pilot import Pilot
from textual.screen import Screen

STILL, LOOK_S = 2, 0.003
"""An event loop is idle when it has nothing to do at so many looks on end, this many seconds apart."""
SOON_S = 0.1
"""What is put off for longer is not waited for."""


def lighten() -> None:
    """From now on in this process: no paints, style sheets read once, no waits longer than needed."""
    _paint_nothing()
    _read_style_sheets_once()
    for module in (textual.app, textual.pilot):
        vars(module)["wait_for_idle"] = _wait_for_idle
    Pilot._wait_for_screen = _wait_for_screen  # type: ignore[assignment, method-assign]  # that is what this is for


def _paint_nothing() -> None:
    """What would be painted after each key goes nowhere, and is a third of a test.

    The whole screen is still made where a test looks at it, and every change is painted in tests/terminal.
    """
    whole = Compositor.render_update

    def only_whole(
        self: Compositor, full: bool = False, screen_stack: list[Screen[Any]] | None = None, simplify: bool = False
    ) -> RenderableType | None:
        if full:
            return whole(self, full, screen_stack, simplify)
        self._dirty_regions.clear()
        return None

    Compositor.render_update = only_whole  # type: ignore[method-assign]  # that is what this is for


def _read_style_sheets_once() -> None:
    """Each application would read the same style sheets, a tenth of a test."""
    whole, kept = Stylesheet._parse_rules, dict[Hashable, list[RuleSet]]()

    def parse(
        self: Stylesheet,
        css: str,
        read_from: CSSLocation,
        is_default_rules: bool = False,
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        key = (css, read_from, is_default_rules, tie_breaker, scope, frozenset(self._variables.items()))
        if key not in kept:
            kept[key] = whole(self, css, read_from, is_default_rules, tie_breaker, scope)
        return kept[key]

    Stylesheet._parse_rules = parse  # type: ignore[method-assign]  # that is what this is for


async def _wait_for_idle(min_sleep: float = 0, max_sleep: float = 1) -> None:
    """Wait until the event loop has nothing to do, and the screen has put nothing off.

    The framework waits after each key until the processor has been still for a while, some 60 ms: half of a test,
    and more where the machine is busy with other things.
    """
    loop, still, start = cast("_Loop", asyncio.get_running_loop()), 0, time.monotonic()
    while still < STILL and time.monotonic() - start < max_sleep:
        await asyncio.sleep(LOOK_S)
        still = 0 if loop._ready or _more_is_due() else still + 1
    if (left := start + min_sleep - time.monotonic()) > 0:
        await asyncio.sleep(left)


async def _wait_for_screen(pilot: Pilot[Any], timeout: float = 30.0) -> bool:
    """Nothing: the wait for an idle loop stands beside each of these, by which a message is sent to every part."""
    del timeout
    await asyncio.sleep(0)
    return pilot.app._exception is None


def _more_is_due() -> bool:
    """Whether keys wait for their turn, or the screen is about to repaint or has put something off."""
    app = active_app.get(None)
    if app is None or not app.screen_stack:
        return False
    repaints: Any = app.screen._update_timer  # whose own type of what it waits for mypy cannot make out
    off = (each._task for each in app.screen._timers if each._repeat == 0 and each._interval <= SOON_S)
    due = (
        repaints._active.is_set(),
        getattr(app, "keys_wait", False),
        *(task and not task.done() for task in off),
    )
    return any(due)


class _Loop(Protocol):
    """What is looked at of an event loop: what it is to do next."""

    _ready: Collection[object]
