"""A clinician at the program under a set clock: keys alone, and what stands on the screen then. For long walks."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from textual.pilot import Pilot

from tests.helpers.burst import burst, dealt_with
from tests.helpers.fit import text_of
from tests.screens.made import at, opened
from tui.app import BothFeetApp
from tui.screens.bout import BoutScreen
from tui.screens.caseload import FIRST_GAP_S, CaseloadScreen
from tui.widgets.message_line import MessageLine

SIZE = (80, 24)
INJURED = date(2026, 11, 24)  # a Tuesday
STEP_S = 4
"""Seconds let go by at once: no more than would look like a laptop that slept."""


class Clinic:
    """One program on one record, from an empty file on; visits are weeks apart, and only the clock is put on."""

    def __init__(self, folder: Path) -> None:
        care, self.clock = opened(folder, at(INJURED + timedelta(days=1), 9), examiner="")
        self.app = BothFeetApp(care, self.clock, theme="dark", log_folder=folder / "logs")
        self.pilot: Pilot[None]

    @property
    def text(self) -> str:
        """The screen as one line, each run of blanks as one: what a sentence says, however it is broken."""
        return " ".join(text_of(self.app).split())

    @property
    def said(self) -> str:
        """What the line of messages says."""
        return self.app.screen.query_one(MessageLine).said.text

    def line(self, word: str) -> str:
        """The first line of the screen with a word in it, each run of blanks as one."""
        found = next((line for line in text_of(self.app).splitlines() if word in line), "")
        return " ".join(found.split())

    async def press(self, *keys: str) -> Clinic:
        """Press keys as fast as can be, until each had its turn."""
        burst(self.app, *keys)
        await self.settle()
        return self

    async def type(self, text: str, *keys: str) -> None:
        """Type a text, then keys."""
        await self.press(*text, *keys)

    async def settle(self) -> None:
        """Let all that was asked for come to its end."""
        await self.pilot.pause()
        await dealt_with(self.pilot)
        if isinstance(self.app.screen, BoutScreen):
            await self.app.screen.settled()
        await self.pilot.pause()

    async def home(self) -> str:
        """Back to the caseload."""
        for _ in range(6):
            if len(self.app.screen_stack) == 1:
                break
            await self.press("escape")
        return self.text

    async def on_day(self, day: int) -> str:
        """The caseload so many days after the injury, at nine in the morning."""
        await self.home()
        self.clock.put(at(INJURED + timedelta(days=day), 9))
        screen = self.app.screen
        assert isinstance(screen, CaseloadScreen)
        screen.on_screen_resume()  # as if the program was started anew
        await self.settle()
        while screen._unfilled():  # the gaps follow once the rows are painted
            await self.pilot.pause(0.01)
        await self.pilot.pause(FIRST_GAP_S)  # and so do the recalls
        return self.text

    async def go(self, seconds: int) -> None:
        """Let time go by while hands are on the ankle."""
        while seconds > 0:
            self.clock.move(min(seconds, STEP_S))
            seconds -= STEP_S
            if isinstance(self.app.screen, BoutScreen) and self.app.screen.driver is not None:
                self.app.screen.driver.wake()
                await self.app.screen.settled()
        await self.settle()

    async def bout(self, sets: int, seconds: int, after: str) -> None:
        """A bout from its page before the start to its end: the pedal and one figure a set."""
        for _ in range(sets):
            await self.go(1)
            await self.press("space")
            await self.go(seconds)
            await self.press(after)
        await self.go(1)
        await self.press("space")
