"""Only one person: no other label is painted on any screen until everybody is shown again."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import visits
from store.care.appointments import plan
from store.care.people import new_person
from store.care.squads import add, make
from tests.helpers.fit import text_of
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.screens.caseload import CaseloadScreen
from tui.widgets import commands

OTHERS = ("A.O.", "J.V.", "T.M.", "S.L.", "P.D.", "N.N.")


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ward:
    monkeypatch.setattr(Ward, "open", BothFeetApp.open)  # every screen is real here
    app = Ward(tmp_path)
    new_person(app.care, "N.N.")
    squad = make(app.care, "hockey")
    for label in ("A.O.", "R.K."):
        add(app.care, squad, app.care.person(app.episodes[label].person))
    for label in ("A.O.", "R.K.", "T.M."):
        plan(app.care, app.care.person(app.episodes[label].person), "today 16:00")
    return app


async def settled(pilot: Pilot[None]) -> None:
    for _ in range(4):
        await pilot.pause()


def others_in(app: Ward) -> list[str]:
    text = text_of(app)
    return [label for label in OTHERS if label in text]


async def test_no_other_label_is_painted_on_any_screen(app: Ward) -> None:
    episode = app.episodes["R.K."]
    visit = visits.start_visit(app.care, episode)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("f5")
        await settled(pilot)
        assert len(others_in(app)) == len(OTHERS)
        app.open(commands.EPISODE, episode=episode.id)
        await settled(pilot)
        await pilot.press("o")
        await settled(pilot)
        assert "Only R.K. is shown: o shows everybody again." in text_of(app)
        about = {"episode": episode.id}
        for name, arguments in (
            (commands.EPISODE, about),
            (commands.CHART, {**about, "measure": "lunge"}),
            (commands.SOURCE, {**about, "measure": "lunge"}),
            (commands.VISITS, about),
            (commands.VISIT, {"visit": visit.id}),
            (commands.TRIALS, {"visit": visit.id, "measure": "lunge"}),
            (commands.LINE, {"visit": visit.id}),
            (commands.PICK, {"visit": visit.id}),
            (commands.BOUT, {"visit": visit.id, "activity": "single_leg_hold"}),
            (commands.PAGE, {"person": episode.person}),
            (commands.CASELOAD, {}),
        ):
            app.open(name, **arguments)
            await settled(pilot)
            await app.workers.wait_for_complete()
            assert others_in(app) == [], name
            await pilot.press("ctrl+p")
            await settled(pilot)
            assert others_in(app) == [], f"palette on {name}"
            app.pop_screen()
            await settled(pilot)
            app.pop_screen()
            await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(app.screen, CaseloadScreen)
        assert others_in(app) == []


async def test_the_caseload_shows_one_row_no_count_and_finds_nobody_else(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press(*"r.k")
        await pilot.press("ctrl+r")
        await settled(pilot)
        text = text_of(app)
        assert "only R.K. is shown" in text.splitlines()[0]
        assert "seen today" not in text
        assert "today 16:00" in text
        assert others_in(app) == []
        for keys in (("f5",), tuple("a.o")):
            await pilot.press(*keys)
            await settled(pilot)
            assert others_in(app) == []
        assert "Only R.K. is shown: ctrl+r shows everybody again." in text_of(app)
        for key in ("f2", "f3", "f4", "enter", "f8"):
            await pilot.press(key)
            await settled(pilot)
            assert isinstance(app.screen, CaseloadScreen), key
            assert others_in(app) == []
        await pilot.press("ctrl+r")
        await settled(pilot)
        assert "6 open" in text_of(app)
        assert "A.O." in text_of(app)


@pytest.mark.parametrize(
    "screen", [commands.VISIT, commands.CHART, commands.VISITS, commands.SOURCE, commands.PAGE]
)
async def test_the_same_key_on_each_screen_of_a_person_hides_and_shows(app: Ward, screen: str) -> None:
    episode = app.episodes["R.K."]
    arguments: dict[str, dict[str, object]] = {
        commands.VISIT: {"visit": visits.start_visit(app.care, episode).id},
        commands.PAGE: {"person": episode.person},
        commands.VISITS: {"episode": episode.id},
    }
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        app.open(screen, **arguments.get(screen, {"episode": episode.id, "measure": "lunge"}))
        await settled(pilot)
        await pilot.press("o")
        assert app.only is not None
        assert app.only.label == "R.K."
        await pilot.press("escape")
        await settled(pilot)
        assert others_in(app) == []
        await pilot.press("ctrl+r")
        await settled(pilot)
        assert "A.O." in text_of(app)


async def test_it_does_not_outlive_the_program(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("ctrl+r")
        await settled(pilot)
        assert app.only is not None
    again = BothFeetApp(app.care, app.set_clock, theme="dark")
    assert again.only is None
