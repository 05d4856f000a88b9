"""The keys of the standard visit beyond its figures, with screens and timers as they are, under a set clock."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import home
from store.care.home_items import new_item
from store.knowledge.words import Moment
from tests.helpers.burst import write
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.bout import BoutScreen
from tui.screens.visit import VisitScreen

FIGURES = frozenset("0123456789.,")
MOST = 46  # 40 for what was walked before there was a safety screen and a note; two and four keys for these


class Hands:
    """Presses keys and counts those that are no figure; a space between the values of a side is not counted."""

    def __init__(self, app: VisitStage, pilot: Pilot[None]) -> None:
        self.app, self.pilot = app, pilot
        self.keys = 0
        self.parts: dict[str, int] = {}

    async def press(self, *keys: str) -> None:
        for key in keys:
            self.keys += key not in FIGURES
            await self.pilot.press(key)
            await self.settle()

    async def values(self, text: str) -> None:
        """The values of a side, and enter."""
        await write(self.pilot, text)
        await self.press("enter")

    async def settle(self) -> None:
        await self.pilot.pause()
        if isinstance(self.app.screen, BoutScreen):
            await self.app.screen.settled()
            await self.pilot.pause()

    async def go(self, seconds: int) -> None:
        """Let time go by in the timer."""
        for _ in range(seconds):
            self.app.set_clock.move(1)
            screen = self.app.screen
            if isinstance(screen, BoutScreen) and screen.driver is not None:
                screen.driver.wake()
                await screen.settled()
        await self.settle()

    def part(self, name: str) -> None:
        """What was pressed since the last part."""
        self.parts[name] = self.keys - sum(self.parts.values())


async def measure(hands: Hands, left: str, right: str) -> None:
    await hands.press("space")
    await hands.values(left)
    await hands.values(right)


async def bout(hands: Hands, turns: int, seconds: int, answer: str = "") -> None:
    """Open it, and one press a set; the pedal does all of that. An answer is a figure."""
    await hands.press("space")
    await hands.go(1)
    for _ in range(turns):
        await hands.press("space")
        await hands.go(seconds)
        if answer:
            await hands.press(answer)
        await hands.go(2)
    await hands.press("x")


def hand_out_last_week(app: VisitStage) -> None:
    """A home programme to carry over, invented."""
    now = app.set_clock.now().local.replace(tzinfo=app.set_clock.zone)
    app.set_clock.put(now - timedelta(days=7))
    held = home.home_standing(app.care, app.view.visit.episode or "")
    known = app.care.knowledge.activities
    items = [new_item(app.care, known[each], held.episode) for each in ("heel_raises", "hold_firm")]
    home.issue(app.care, held, items, held.on)
    app.set_clock.put(now)


async def test_the_standard_visit_wants_few_keys(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    app = staged(tmp_path, noted=set())
    hand_out_last_week(app)
    async with app.run_test(size=(80, 24)) as pilot:
        hands = Hands(app, pilot)
        await hands.settle()
        await hands.press("space", *"2", "space", *"4", "space", *"1", "space", "space", *"0", "space")
        await hands.press(*"5", "space", *"7", "space", "space", "y")
        hands.part("what has changed")
        await hands.press("space", "space")
        hands.part("safety, asked again")
        await measure(hands, "10.2 10.4 10.3", "4.8 5.0 4.9")
        hands.part("lunge")
        await bout(hands, turns=3, seconds=70, answer="0")
        hands.part("mobilisation")
        await measure(hands, "10.3 10.4 10.2", "6.8 6.9 7.0")
        hands.part("lunge again")
        await bout(hands, turns=6, seconds=35)
        hands.part("holds")
        await bout(hands, turns=1, seconds=70)
        hands.part("shifts")
        await hands.press("space", "enter", "up", "space")
        await hands.settle()
        hands.part("home, one change")
        assert isinstance(app.screen, VisitScreen)
        await hands.press("space", "x")
        await hands.go(1)
        await hands.press("x", "escape")
        hands.part("note, signed")
        await hands.settle()
        view = app.view
        assert [line.line.step.id for line in view.lines if line.line.open] == []
        assert app.care.visit(app.visit_id).ended is not None
    says = {line.line.step.id: line.says for line in view.lines}
    assert (says["safety"], says["note"]) == ("no change reported", "signed")
    assert says["home"] == "2 exercises, carried over from 18 Nov; heel raises 4 sets instead of 3 sets"
    assert says["mobilisation"] == "right 3 x 10, pain 0 0 0"
    assert says["lunge_retest"] == "right +2.0, clear gain"
    assert [one.moment for one in app.kept if one.measure == "lunge"] == [
        Moment.BEFORE, Moment.BEFORE, Moment.AFTER, Moment.AFTER,
    ]  # fmt: skip
    with capsys.disabled():
        parts = ", ".join(f"{name} {keys}" for name, keys in hands.parts.items())
        print(f"\nstandard visit, {hands.keys} keys beyond the figures ({parts})")
    assert hands.keys < MOST
