"""Squads by keys: make one, fill it with people who have no episode, measure them, take one out."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care.care import open_care
from store.care.squads import add, add_new, every_squad, make, people_of
from store.record.readings import readings_of_person
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.screens.line import LineScreen
from tui.screens.person import PersonScreen
from tui.screens.person_page import PersonPage
from tui.screens.squad import SquadScreen
from tui.screens.squads import SquadsScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet
from tui.widgets.notices import Notices


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ward:
    monkeypatch.setattr(Ward, "open", BothFeetApp.open)
    return Ward(tmp_path)


def the_screen(app: Ward, kind: type[Notices]) -> Notices:
    assert isinstance(app.screen, kind)
    return app.screen


async def settled(pilot: Pilot[None]) -> None:
    for _ in range(6):
        await pilot.pause()


async def test_a_squad_is_made_filled_measured_and_thinned_out_by_keys(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f3")
        await settled(pilot)
        assert "No squad is here yet" in text_of(app)
        await write(pilot, "hockey", "f2")
        await settled(pilot)
        assert "squad hockey" in text_of(app).splitlines()[0]
        await write(pilot, "B.B.", "f2")
        await settled(pilot)
        assert "✓ B.B. belongs to hockey   F9 undo" in text_of(app)
        await write(pilot, "a.o")
        await settled(pilot)
        assert "enter takes in: left ankle" in text_of(app)
        await pilot.press("enter")
        await settled(pilot)
        (squad,) = every_squad(app.care)
        assert [row.label for row in people_of(app.care, squad.squad.id)] == ["A.O.", "B.B."]

        await pilot.press("down")
        await settled(pilot)
        assert "▸ B.B." in text_of(app)
        await pilot.press("enter")
        await settled(pilot)
        assert isinstance(app.screen, PersonPage)
        assert "hockey" in text_of(app)
        await pilot.press("m")
        await settled(pilot)
        assert isinstance(app.screen, LineScreen)
        await write(pilot, "lunge 10.1 9.8", "enter")
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(app.screen, PersonPage)
        assert "left 10.1, right 9.8 cm" in text_of(app)
        bare = people_of(app.care, squad.squad.id)[1].person
        assert [one.episode for one in readings_of_person(app.care.record, bare)] == [None, None]
        await pilot.press("u")
        await settled(pilot)
        assert "took back lunge" in text_of(app)
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(app.screen, SquadScreen)
        await pilot.press("minus")
        await settled(pilot)
        assert "B.B. no longer belongs to hockey" in text_of(app)
        await pilot.press("f9")
        await settled(pilot)
        assert "took back" in text_of(app)
        assert len(people_of(app.care, squad.squad.id)) == 2
        await pilot.press("q")
        await settled(pilot)
        assert "0 of 2 people" in text_of(app)  # found, and how many they are
        await pilot.press("backspace")
        await settled(pilot)
        await pilot.press("up", "enter")
        await settled(pilot)
        assert "◀ left ankle" in text_of(app)  # whoever is cared for opens at the ankle
        await pilot.press("escape", "escape")
        await settled(pilot)
        assert isinstance(app.screen, SquadsScreen)
        assert "2 people" in text_of(app)


async def test_a_new_episode_begins_on_the_page(app: Ward) -> None:
    squad = make(app.care, "hockey")
    add_new(app.care, squad, "B.B.")
    person = people_of(app.care, squad.id)[0].person
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.PAGE, person=person)
        await settled(pilot)
        await pilot.press("a")
        await settled(pilot)
        assert isinstance(app.screen, PersonScreen)
        await pilot.press("right", "ctrl+o")
        await settled(pilot)
        assert "saved B.B., right ankle" in text_of(app)
        assert [row.injured_side for row in people_of(app.care, squad.id)] == ["right"]


async def test_a_minus_within_a_label_is_text(app: Ward) -> None:
    squad = make(app.care, "hockey")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.SQUAD, squad=squad.id)
        await settled(pilot)
        await write(pilot, "U-17", "f2")
        await settled(pilot)
        assert [row.label for row in people_of(app.care, squad.id)] == ["U-17"]


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_they_fit(app: Ward, size: tuple[int, int]) -> None:
    squad = make(app.care, "hockey")
    for n in range(30):
        add_new(app.care, squad, f"P.{n:02}")
    person = people_of(app.care, squad.id)[0].person
    async with app.run_test(size=size) as pilot:
        for name, arguments in (
            (commands.SQUADS, {}), (commands.SQUAD, {"squad": squad.id}), (commands.PAGE, {"person": person}),
        ):  # fmt: skip
            app.open(name, **arguments)
            await settled(pilot)
            assert misfits(app) == []


@pytest.mark.parametrize("screen", [SquadsScreen, SquadScreen, PersonPage])
def test_no_key_does_nothing_silently(screen: type[SquadsScreen]) -> None:
    assert unmet(screen) == []


async def test_what_another_window_writes_is_seen_on_both_screens(app: Ward, tmp_path: Path) -> None:
    squad = make(app.care, "hockey")
    other = open_care(tmp_path / "ward.sqlite", app.set_clock, examiner="CD")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f3")
        await settled(pilot)
        make(other, "judo")
        the_screen(app, SquadsScreen).tick()
        await settled(pilot)
        assert "judo" in text_of(app)
        assert "Another window changed the record" in text_of(app)
        await pilot.press("enter")
        await settled(pilot)
        add_new(other, squad, "B.B.")
        the_screen(app, SquadScreen).tick()
        await settled(pilot)
        assert "1 person" in text_of(app)
        assert "▸ B.B." in text_of(app)
        await pilot.press("enter")
        await settled(pilot)
        add(other, make(other, "rugby"), other.person(people_of(other, squad.id)[0].person))
        the_screen(app, PersonPage).tick()
        await settled(pilot)
        assert "rugby" in text_of(app)
    other.close()
