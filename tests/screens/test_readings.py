"""The readings of a measure on screen: chosen, typed anew, taken out, undone; from the chart of that measure."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care.bare_person import start_visit
from store.care.importing import bring_in
from store.care.people import new_person
from store.care.putting_right import of_measure
from store.knowledge.words import Side
from store.record.faults import FaultKind, RecordFault
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.made import opened, orienteer, take
from tests.screens.theatre import Theatre
from tui.screens.readings import NONE, NOTHING, ReadingsScreen
from tui.widgets import commands


class Room(Theatre):
    """R.K. with five visits, the last three days ago; the examiner of today is CD."""

    def __init__(self, tmp_path: Path) -> None:
        care, clock = opened(tmp_path)
        self.episode = orienteer(care, clock)
        super().__init__(care, clock, tmp_path)

    def values(self, measure: str = "lunge") -> list[tuple[Side | None, tuple[float, ...]]]:
        known = self.care.knowledge.measures[measure]
        return [(one.side, one.trials) for one in of_measure(self.care, self.episode.person, known)]


@pytest.fixture
def app(tmp_path: Path) -> Room:
    return Room(tmp_path)


async def settled(pilot: Pilot[Any]) -> None:
    for _ in range(3):
        await pilot.pause()


async def on_screen(app: Room, pilot: Pilot[Any], measure: str = "lunge") -> ReadingsScreen:
    app.open(commands.CHART, episode=app.episode.id, measure=measure)
    await settled(pilot)
    await pilot.press("e")
    await settled(pilot)
    screen = app.screen
    assert isinstance(screen, ReadingsScreen)
    return screen


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_slip_of_an_earlier_visit_is_put_right_from_the_chart(app: Room, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot)
        shown = text_of(app)
        assert "23 Nov 2026" in shown
        left, right = (
            next(line for line in shown.splitlines() if f" {side}" in line) for side in ("left 10", "right 4.8")
        )
        assert "right 4.8 from 4.9 4.8 4.7" in right
        assert left.index("left") < right.index("right")  # the ankles stand where they stand
        assert misfits(app) == []
        await pilot.press("down", "enter")
        await settled(pilot)
        await pilot.press(*["backspace"] * 3, *"5.7", "enter")
        await settled(pilot)
        assert "lunge right: was 4.8, now 5.1" in text_of(app)
        assert app.values()[1] == (Side.RIGHT, (4.9, 4.8, 5.7))
        assert misfits(app) == []
        await pilot.press("u")
        await settled(pilot)
        assert "lunge right is 4.8 again" in text_of(app)
        assert app.values()[1] == (Side.RIGHT, (4.9, 4.8, 4.7))
        await pilot.press("escape")
        await settled(pilot)
        assert app.screen.WHERE == commands.CHART  # type: ignore[attr-defined]  # every screen of ours has it


async def test_the_minus_takes_one_out_and_the_cursor_stays_in_its_place(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_screen(app, pilot)
        first, second, third = app.values()[:3]
        await pilot.press("down", "minus")
        await settled(pilot)
        assert "took out lunge right 4.8" in text_of(app)
        assert app.values()[:2] == [first, third]
        assert screen.chosen is not None
        assert (screen.chosen.side, screen.chosen.trials) == third
        await pilot.press("u", "u")
        await settled(pilot)
        assert app.values()[:2] == [first, second]
        assert "Nothing to undo" in text_of(app)


async def test_an_undo_that_could_not_be_written_can_be_tried_again(
    app: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot)
        before = app.values()
        await pilot.press("down", "minus")
        await settled(pilot)
        with monkeypatch.context() as held:
            held.setattr("store.record.readings.revise_reading", _locked)
            await pilot.press("u")
            await settled(pilot)
        assert "another program holds the file" in text_of(app)
        assert app.values() != before
        await pilot.press("u")
        await settled(pilot)
        assert app.values() == before


def _locked(*_: object, **__: object) -> None:
    raise RecordFault(FaultKind.LOCKED, "another program holds the file")


async def test_nonsense_is_refused_and_stays_and_the_unusual_is_asked_about(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_screen(app, pilot)
        before = app.values()
        await pilot.press("enter", *" x", "enter")
        await settled(pilot)
        assert "lunge is in cm or mm, not in x" in text_of(app)
        assert app.values() == before
        await pilot.press(*["backspace"] * 20, *"24", "enter")
        await settled(pilot)
        assert "Is it right? Enter again keeps it." in " ".join(text_of(app).split())
        await pilot.press("enter")
        await settled(pilot)
        assert app.values() == before, "a second tap is no answer"
        await unhurried(pilot, "enter")
        await settled(pilot)
        assert app.values()[0] == (Side.LEFT, (24.0,))
        await pilot.press("enter", *"9", "escape")
        await settled(pilot)
        assert app.screen is screen
        assert app.values()[0] == (Side.LEFT, (24.0,))


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_baseline_of_a_person_without_an_episode_is_put_right_from_their_page(
    app: Room, size: tuple[int, int]
) -> None:
    care = app.care
    person, _ = new_person(care, "B.B.")
    visit = start_visit(care, person)
    take(care, visit, "lunge l 9.1 9.2 9.3 r 9.0 9.1 9.2")
    take(care, visit, "girth l 51.0 r 51.2")
    async with app.run_test(size=size) as pilot:
        app.open(commands.PAGE, person=person.id)
        await settled(pilot)
        assert "e put right" in text_of(app)
        await pilot.press("e")
        await settled(pilot)
        assert isinstance(app.screen, ReadingsScreen)
        shown = text_of(app)
        assert "B.B." in shown
        for words in ("lunge", "girth", "25 Nov 2026: left 9.2", "25 Nov 2026: right 51.2"):
            assert words in shown
        assert misfits(app) == []
        while app.screen.chosen is None or (app.screen.chosen.measure, app.screen.chosen.side) != (
            "girth", Side.RIGHT,
        ):  # fmt: skip
            await pilot.press("down")
        await pilot.press("enter", *["backspace"] * 4, *"52.2", "enter")
        await settled(pilot)
        assert "girth right: was 51.2, now 52.2" in text_of(app)
        await pilot.press("u", "minus")
        await settled(pilot)
        assert "took out girth right 51.2" in text_of(app)
        await pilot.press("u", "escape")
        await settled(pilot)
        assert "girth" in text_of(app)
        assert [one.value for one in of_measure(care, person.id, care.knowledge.measures["girth"])] == [51.0, 51.2]


async def test_a_reading_that_was_brought_in_says_where_from(app: Room, tmp_path: Path) -> None:
    table = tmp_path / "table.csv"
    table.write_text("person,taken_at,measure,side,value,examiner\nR.K.,2026-08-17 18:05,lunge,left,10.8,KV\n")
    bring_in(app.care, table)
    async with app.run_test(size=(80, 24)) as pilot:
        await on_screen(app, pilot)
        found = [line for line in text_of(app).splitlines() if "from a table" in line]
        assert [" ".join(line.split()) for line in found] == ["17 Aug 2026 left 10.8, from a table, KV"]


async def test_of_a_person_of_whom_nothing_was_measured_it_says_so(app: Room) -> None:
    person, _ = new_person(app.care, "B.B.")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.READINGS, person=person.id)
        await settled(pilot)
        assert " ".join(NOTHING.split()) in " ".join(text_of(app).split())


async def test_where_nothing_was_measured_it_says_so(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.READINGS, episode=app.episode.id, measure="limp")
        await settled(pilot)
        assert " ".join(NONE.split()) in " ".join(text_of(app).split())
        await pilot.press("enter", "minus")
        assert " ".join(NONE.split()) in " ".join(text_of(app).split())
        assert misfits(app) == []
