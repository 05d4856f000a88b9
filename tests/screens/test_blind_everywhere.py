"""From the first value to the last: while the re-test is blind no screen of a visit shows what came before it."""

from __future__ import annotations

from pathlib import Path

from textual.pilot import Pilot

from tests.helpers.fit import text_of
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.visit import VisitScreen
from tui.widgets import commands

BEFORE = ("13.71 13.72 13.73", "6.31 6.32 6.33")
AFTER = ("13.81 13.82 13.83", "8.91 8.92 8.93")
SECRETS = ("13.7", "6.3", "7.4 short", "2.6")  # both values, their gap, the change


async def settled(pilot: Pilot[None]) -> None:
    for _ in range(3):
        await pilot.pause()


async def take(pilot: Pilot[None], *sides: str) -> None:
    for side in sides:
        await pilot.press(*("space" if letter == " " else letter for letter in side), "enter")
        await settled(pilot)


async def look_around(app: VisitStage, pilot: Pilot[None]) -> dict[str, str]:
    """What every screen shows that a visit can lead to."""
    shown = {"visit": text_of(app)}
    episode = {"episode": app.episode.id}
    for name, arguments in (
        (commands.EPISODE, episode),
        (commands.CHART, {**episode, "measure": "lunge"}),
        (commands.SOURCE, {**episode, "measure": "lunge"}),
        (commands.CASELOAD, {}),
        (commands.TRIALS, {"visit": app.visit_id, "measure": "lunge"}),
        (commands.LINE, {"visit": app.visit_id, "text": "lunge l 1 r 1"}),
    ):
        app.open(name, **arguments)
        await settled(pilot)
        await app.workers.wait_for_complete()
        await settled(pilot)
        shown[name] = text_of(app)
        app.pop_screen()
        await settled(pilot)
    return shown


def found(shown: dict[str, str]) -> dict[str, list[str]]:
    """The secrets that each screen tells."""
    told = {name: [secret for secret in SECRETS if secret in text] for name, text in shown.items()}
    return {name: secrets for name, secrets in told.items() if secrets}


async def test_before_then_nothing_anywhere_then_after_then_everything(tmp_path: Path) -> None:
    app = staged(tmp_path, noted=set())
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("down", "down", "space")
        await settled(pilot)
        await take(pilot, BEFORE[0])
        assert "13.71" in text_of(app)  # what was just typed may be seen while it is typed
        await take(pilot, BEFORE[1])
        assert isinstance(app.screen, VisitScreen)
        assert found(await look_around(app, pilot)) == {}

        await pilot.press("u")  # even what is taken back keeps its values to itself
        await settled(pilot)
        assert "took back lunge right" in text_of(app)
        assert found({"visit": text_of(app)}) == {}
        app.open(commands.TRIALS, visit=app.visit_id, measure="lunge")
        await settled(pilot)
        assert "3 in, hidden" in text_of(app)
        await take(pilot, BEFORE[1])

        app.open(commands.TRIALS, visit=app.visit_id, measure="lunge")
        await settled(pilot)
        await take(pilot, AFTER[0])
        assert found({"trials": text_of(app)}) == {}
        assert "13.81  13.82  13.83" in text_of(app)
        await take(pilot, AFTER[1])
        shown = await look_around(app, pilot)
        told = found(shown)
        assert set(told["visit"]) >= {"13.7", "6.3", "2.6"}
        assert "7.4 short" in told[commands.EPISODE]
        assert commands.CHART in told
        assert commands.SOURCE in told
        assert commands.CASELOAD in told
        assert [one.blind for one in app.kept] == [False, False, True, True]
