"""From the first value to the last: while the re-test is blind no screen and no `show` tells what came before."""

from __future__ import annotations

import re
from pathlib import Path

from textual.pilot import Pilot

from store.care.as_data import episode_data, json_text
from store.care.past_data import visit_data
from store.care.past_visits import past_visits, visits_that_count
from store.care.shown import episode_text
from store.care.standing import standing
from tests.helpers.burst import write
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
        await write(pilot, side, "enter")
        await settled(pilot)


async def look_around(app: VisitStage, pilot: Pilot[None]) -> dict[str, str]:
    """What every screen shows that a visit can lead to."""
    shown = {"visit": text_of(app)}
    episode = {"episode": app.episode.id}
    for name, arguments in (
        (commands.EPISODE, episode),
        (commands.CHART, {**episode, "measure": "lunge"}),
        (commands.SOURCE, {**episode, "measure": "lunge"}),
        (commands.VISITS, episode),
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
    return shown | printed(app)


def printed(app: VisitStage) -> dict[str, str]:
    """What `show` prints of this visit, as text and as data."""
    held, past = standing(app.care, app.episode.id), past_visits(app.care, app.episode, 1)
    data = episode_data(held, visits=map(visit_data, past))
    # other measures have figures like the secrets
    data["measures"] = [one for one in data["measures"] if one["id"] == "lunge"]
    return {
        "show": episode_text(held, visits_that_count(app.care, app.episode), past),
        "show as data": json_text(data),
    }


def found(shown: dict[str, str]) -> dict[str, list[str]]:
    """The secrets that each screen tells: a figure that only ends like one, as 46.3, is none."""
    told = {
        name: [secret for secret in SECRETS if re.search(rf"(?<!\d){re.escape(secret)}", text)]
        for name, text in shown.items()
    }
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
        assert set(told[commands.VISITS]) >= {"13.7", "6.3", "2.6"}
        assert set(told["show"]) >= {"13.7", "6.3", "2.6"}
        assert "show as data" in told
        assert [one.blind for one in app.kept] == [False, False, True, True]
