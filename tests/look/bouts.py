"""Bouts to look at: the real screen, walked to a moment under a set clock. R.K., an orienteer, is invented."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from typing import Any

from textual.app import App
from textual.screen import Screen

from tests.care.bouts import Ward, ward
from tests.helpers.passing import passing_folder
from tests.helpers.stage import Bare
from tui.app import BothFeetApp
from tui.screens.bout import BoutScreen
from tui.widgets import commands


class Played(BothFeetApp):
    """Opens a bout and plays it to a moment."""

    def __init__(
        self, activity: str, play: Callable[[Played], Awaitable[None]], form: dict[str, Any] | None = None
    ) -> None:
        self.at: Ward = ward(passing_folder(), **(form or {}))
        super().__init__(self.at.care, self.at.clock)
        self.activity, self.play = activity, play

    def get_default_screen(self) -> Screen[Any]:
        return Bare()

    def on_mount(self) -> None:
        super().on_mount()
        self.at.clock.move(12 * 60)
        self.open(commands.BOUT, visit=self.at.visit.id, activity=self.activity)
        self.call_after_refresh(self.run_worker, self._played())

    async def _played(self) -> None:
        while self.bout.found is None:
            await self.bout.settled()
            await asyncio.sleep(0)
        await self.play(self)
        self.bout.paint()

    @property
    def bout(self) -> BoutScreen:
        assert isinstance(self.screen, BoutScreen)
        return self.screen

    async def key(self, *names: str) -> None:
        for name in names:
            command = next(each for each in commands.on(commands.BOUT) if name in each.keys)
            self.bout.action_do(command.id, name)
            await self.bout.settled()

    async def go(self, seconds: float) -> None:
        while seconds > 1e-9:
            self.at.clock.move(min(seconds, 1.0))
            if self.bout.driver is not None:
                self.bout.driver.wake()
            await self.bout.settled()
            seconds -= 1.0

    async def work(self, seconds: float, *keys: str) -> None:
        """Start, let the countdown run out and so much time after it pass, then press keys."""
        await self.go(1)
        await self.key("space")
        await self.go(3 + seconds)
        await self.key(*keys)


def played(
    activity: str, *steps: tuple[float | str, ...], form: dict[str, Any] | None = None
) -> Callable[[], App[Any]]:
    """A scene: each step is the seconds of a set and the keys after it; a step of keys only starts with one."""

    async def play(app: Played) -> None:
        for step in steps:
            if isinstance(step[0], str):
                await app.key(*map(str, step))
            else:
                await app.work(step[0], *map(str, step[1:]))

    return lambda: Played(activity, play, form)


class Choosing(BothFeetApp):
    """The list of timers, over nothing."""

    def __init__(self) -> None:
        self.at: Ward = ward(passing_folder(), anticoagulant=True)
        super().__init__(self.at.care, self.at.clock)

    def get_default_screen(self) -> Screen[Any]:
        return Bare()

    def on_mount(self) -> None:
        super().on_mount()
        self.open(commands.PICK, visit=self.at.visit.id)


BELT_SET = (60.5, "0")
BOUTS: dict[str, Callable[[], App[Any]]] = {
    "timers": Choosing,
    "bout-ready": played("mobilisation_belt"),
    "bout-ready-caution": played("mobilisation_belt", ("right", "right", "up"), form={"anticoagulant": True}),
    "bout-countdown": played("mobilisation_belt", (-1.5,)),
    "bout-lunge": played("mobilisation_belt", BELT_SET, (37.2,)),
    "bout": played("mobilisation_belt", BELT_SET, (38.5,)),
    "bout-back": played("mobilisation_belt", BELT_SET, (40.5, "right", "up")),
    "bout-rest": played("mobilisation_belt", (78.0,)),
    "bout-over": played("mobilisation_belt", BELT_SET, (132.5, "1")),
    "bout-paused": played("mobilisation_belt", BELT_SET, (38.5, "p")),
    "bout-stop": played("mobilisation_belt", (61.0, "1"), (61.0, "2")),
    "bout-done": played("mobilisation_belt", BELT_SET, BELT_SET, (61.0,)),
    "hold": played("stance_open_test", (46.0, "3"), (46.0, "3"), (44.1, "space"), (12.5, "space", "1"), (17.3,)),
    "hold-done": played(
        "stance_open_test", (46.0, "3"), (46.0, "3"), (44.1, "space", "3"), (12.5, "space", "1"),
        (15.2, "space", "1"), (9.0, "space"),
    ),
    "balance": played("hold_firm", (31.0, "3"), (31.0, "3"), (31.0, "2"), (12.0, "space")),
    "balance-rest": played("hold_firm", (31.0, "3"), (31.0, "3"), (33.0,)),
    "shifts": played("direction_shifts", (22.5,)),
    "shifts-lost": played("direction_shifts", (17.5, "space")),
    "shifts-done": played("direction_shifts", ("left", "up"), (62.0,), (62.0,)),
    "glide": played("glide_3", (35.5,)),
    "walk-run": played("walk_run", (240 + 12.5,)),
    "walk-run-skipped": played("walk_run", (200.5, "space")),
    "reaches": played("reaches", (2.5, "space")),
    "hops": played("hop_hold_short", (17.5, "space")),
    "brisk-walk": played("brisk_walk", (95.5,)),
    "compression": played("compression", (3.5,)),
    "isometrics": played("isometrics", (3.5,)),
    "change-sides": played("hold_firm", (31.0, "3"), (31.0, "3"), (33.0, "2")),
    "cutting": played("cutting", (12.5,)),
    "raises": played("heel_raise_test", (2.5, "space")),
}  # fmt: skip
