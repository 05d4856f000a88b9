"""The timer on its screen under a set clock: keys pressed, time let go by, and what stands there then."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from textual.pilot import Pilot
from textual.screen import Screen

from store.care.timing import View
from store.knowledge.words import BoutRow
from store.record import bouts
from tests.care.bouts import Ward, ward
from tests.helpers.fit import text_of
from tests.helpers.stage import Bare
from tui.app import BothFeetApp
from tui.clock.sound import Bell
from tui.screens.bout import BoutScreen
from tui.widgets import commands
from tui.widgets.big_word import BigWord
from tui.widgets.key_line import KeyLine
from tui.widgets.message_line import MessageLine


class Room(BothFeetApp):
    """The application with an empty screen under the timer."""

    def __init__(self, at: Ward, folder: Path) -> None:
        super().__init__(at.care, at.clock, theme="dark", log_folder=folder / "logs")
        self.rings: list[float] = []
        self.sounder = Bell(lambda: self.rings.append(at.clock.ticks()))

    def get_default_screen(self) -> Screen[Any]:
        return Bare(MessageLine(), KeyLine())


class Timed:
    """A timer in hand."""

    def __init__(self, app: Room, pilot: Pilot[None], at: Ward) -> None:
        self.app, self.pilot, self.at = app, pilot, at

    @property
    def screen(self) -> BoutScreen:
        screen = self.app.screen
        assert isinstance(screen, BoutScreen)
        return screen

    @property
    def view(self) -> View:
        view = self.screen.view
        assert view is not None
        return view

    @property
    def text(self) -> str:
        return text_of(self.app)

    @property
    def giant(self) -> str:
        return self.screen.query_one("#giant", BigWord).text

    @property
    def seconds(self) -> str:
        return self.screen.query_one("#clock", BigWord).text

    @property
    def side(self) -> str:
        return self.screen.query_one("#side", BigWord).text

    @property
    def pedal(self) -> str:
        """What the key line says of the pedal."""
        return next(each.label for each in self.screen.query_one(KeyLine).commands if each.id == "on")

    @property
    def rows(self) -> list[BoutRow]:
        return bouts.bouts_of_visit(self.at.care.record, self.at.visit.id)

    @property
    def kinds(self) -> list[str]:
        """The events of the last bout, without the seconds."""
        events = bouts.events_of(self.at.care.record, self.rows[-1].id)
        return [event.kind for event in events if event.kind != "beat"]

    async def open(self, **what: str) -> None:
        self.app.open(commands.BOUT, **what)
        await self.settle()

    async def settle(self) -> None:
        """Let everything that was asked for come to its end, and be painted."""
        await self.pilot.pause()
        if isinstance(self.app.screen, BoutScreen):
            await self.app.screen.settled()
            await self.pilot.pause()

    async def press(self, *keys: str) -> None:
        for key in keys:
            await self.pilot.press(key)
            await self.settle()

    async def go(self, seconds: float, step: float = 1.0) -> None:
        """Let time go by, waking as the driver does."""
        while seconds > 1e-9:
            self.at.clock.move(min(step, seconds))
            seconds -= step
            if self.screen.driver is not None:
                self.screen.driver.wake()
                await self.screen.settled()
        await self.settle()

    async def start(self, seconds: float = 0.0) -> None:
        """Press, let the countdown run out, and so much time after it."""
        await self.go(1)
        await self.press("space")
        await self.go(3)
        await self.go(seconds)


@asynccontextmanager
async def timed(
    tmp_path: Path,
    activity: str = "mobilisation_belt",
    *,
    size: tuple[int, int] = (80, 24),
    at: Ward | None = None,
    **form: Any,  # noqa: ANN401 - fields of an episode
) -> AsyncIterator[Timed]:
    """The timer of an activity, ready to start."""
    at = at or ward(tmp_path, **form)
    app = Room(at, tmp_path)
    async with app.run_test(size=size) as pilot:
        found = Timed(app, pilot, at)
        await found.open(visit=at.visit.id, activity=activity)
        yield found
