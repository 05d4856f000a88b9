"""The sideline by its keys: figures typed one after the other, another measure, a look, its next one, undo."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import sideline, squads
from store.care.care import open_care
from store.record.rechecks import rechecks_of
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.screens.sideline import SidelineScreen
from tui.screens.sideline_check import CheckScreen
from tui.screens.squad import SquadScreen
from tui.widgets import commands

SIZES = [(80, 24), (120, 40)]


class Pitch(Ward):
    """A squad of three, with its screens real."""

    def __init__(self, tmp_path: Path) -> None:
        super().__init__(tmp_path)
        self.squad = squads.make(self.care, "Field hockey")
        self.people = [
            squads.add_new(self.care, self.squad, label, "2010").member.person
            for label in ("A.B.", "C.D.", "E.F.")
        ]

    def open(self, name: str, **arguments: object) -> None:
        BothFeetApp.open(self, name, **arguments)


@pytest.fixture
def app(tmp_path: Path) -> Pitch:
    return Pitch(tmp_path)


def on_top(app: Pitch) -> type[object]:
    return type(app.screen)


async def bench(app: Pitch, pilot: Pilot[None]) -> None:
    app.open(commands.SIDELINE, squad=app.squad.id)
    await pilot.pause()


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_squad_is_measured_without_a_key_but_enter_between(app: Pitch, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        app.open(commands.SQUAD, squad=app.squad.id)
        await pilot.pause()
        await pilot.press("f6")
        await pilot.pause()
        assert on_top(app) is SidelineScreen
        for line in ("10.2 9.8", "11 10", "9.5 9.4"):
            await pilot.press(*line, "enter")
        await pilot.pause()
        shown = text_of(app)
        assert "E.F.: saved lunge left 9.5, right 9.4 cm" in shown
        assert [line.split()[-5:-3] for line in shown.splitlines() if "none before" in line] == [
            ["10.2", "9.8"],
            ["11.0", "10.0"],
            ["9.5", "9.4"],
        ]
        assert misfits(app) == []
        await pilot.press("escape")
        await pilot.pause()
        assert on_top(app) is SquadScreen


async def test_a_day_later_a_clear_loss_stands_out(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        await pilot.press(*"11 10.8", "enter")
        await pilot.pause()
        app.set_clock.move(24 * 3600)
        await pilot.press("up", *"10.9 8.2", "enter")
        await pilot.pause()
        row = next(line for line in text_of(app).splitlines() if "A.B." in line and "clear loss" in line)
        assert row.split()[0] == "!"
        assert "right -2.6 clear loss" in row


async def test_another_measure_by_its_name_and_undo(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        await write(pilot, "girth")
        await pilot.press("enter", *"50.1 52", "enter")
        await pilot.pause()
        assert "A.B.: saved girth left 50.1, right 52.0 cm" in text_of(app)
        await pilot.press("f9")
        await pilot.pause()
        assert "took back: saved girth" in text_of(app)
        await pilot.press("f9")
        await pilot.pause()
        assert "Nothing to undo" in text_of(app)


async def test_what_cannot_be_read_stays_in_the_field(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        screen = app.screen
        assert isinstance(screen, SidelineScreen)
        await pilot.press(*"99 98", "enter")
        await pilot.pause()
        assert screen.field.value == "99 98"
        assert "0 to 30" in text_of(app)
        screen.field.value = ""
        await pilot.press(*"25 10", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert "Enter again keeps it" in text_of(app), "a second tap is no answer"
        app.set_clock.move(1)
        await pilot.press("enter")
        await pilot.pause()
        assert "A.B.: saved lunge left 25.0, right 10.0 cm" in text_of(app)


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_look_says_one_large_thing_and_why(app: Pitch, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await bench(app, pilot)
        await pilot.press("f8")
        await pilot.pause()
        assert on_top(app) is CheckScreen
        assert "left or right?" in text_of(app)
        assert "growth plates" in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "left or right ankle?" in text_of(app)
        await pilot.press("right")
        await unhurried(pilot, *"nnnnnn", "y")
        await pilot.pause()
        assert "Off the field, no weight" in text_of(app)
        assert misfits(app) == []
        await pilot.press("escape")
        await pilot.pause()
        assert "Not kept yet" in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "kept: refer today" in text_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert "refer today" in text_of(app)
        (kept,) = rechecks_of(app.care.record, app.people[0])
        assert kept.answers["bone_sore"] is True
        assert kept.answers["not_awake"] is False
        assert "no_weight" not in kept.answers


async def test_after_a_yes_the_ladder_says_not_now(app: Pitch) -> None:
    async with app.run_test(size=(120, 50)) as pilot:
        app.open(commands.CHECK, person=app.people[0])
        await pilot.pause()
        assert "not now" not in text_of(app)
        await pilot.press("y")
        await pilot.pause()
        rows = [line for line in text_of(app).splitlines() if line.rstrip().endswith("not now")]
        assert [row.split()[1] for row in rows] == ["No", "Limp,"]
        assert "Not looked at" in text_of(app)


async def test_who_is_due_stands_at_the_top(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        await pilot.press("down", "f8")
        await pilot.pause()
        await pilot.press("left", "n", "enter", "escape")
        await pilot.pause()
        assert "look again now" not in text_of(app)
        app.set_clock.move(11 * 60)
        screen = app.screen
        assert isinstance(screen, SidelineScreen)
        screen._show()
        await pilot.pause()
        assert "look again now: C.D." in text_of(app)
        assert "re-check now" in text_of(app)


async def test_a_slip_and_a_look_are_taken_back(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        await pilot.press("f8")
        await pilot.pause()
        await pilot.press("right", "y", "u", "n", "space", "enter", "u")
        await pilot.pause()
        assert "took back: re-check, right" in text_of(app)
        assert rechecks_of(app.care.record, app.people[0]) == []
        await pilot.press("escape")
        await pilot.pause()
        assert on_top(app) is SidelineScreen


async def test_an_empty_squad_says_what_to_do(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        empty = squads.make(app.care, "Nobody's")
        app.open(commands.SIDELINE, squad=empty.id)
        await pilot.pause()
        for key in ("f8", "enter"):
            await pilot.press(key)
            await pilot.pause()
            assert "Nobody is in this squad yet" in text_of(app)


async def test_a_second_enter_keeps_no_second_look(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        app.open(commands.CHECK, person=app.people[0])
        await pilot.pause()
        await pilot.press("right", "y", "enter", "enter")
        await pilot.pause()
        assert len(rechecks_of(app.care.record, app.people[0])) == 1
        assert "Kept already" in text_of(app)
        await pilot.press("u", "enter")
        await pilot.pause()
        assert len(rechecks_of(app.care.record, app.people[0])) == 1, "what was taken back can be kept again"


async def test_another_ankle_after_it_was_kept_is_not_kept_yet(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        await pilot.press("f8")
        await pilot.pause()
        await pilot.press("left", "y", "enter", "right", "escape")
        await pilot.pause()
        assert on_top(app) is CheckScreen
        assert "Not kept yet" in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        (kept,) = rechecks_of(app.care.record, app.people[0])
        assert kept.side == "right", "the look of the wrong ankle is put right, and is no second one"
        await pilot.press("u")
        await pilot.pause()
        (kept,) = rechecks_of(app.care.record, app.people[0])
        assert kept.side == "left"


async def test_figures_half_typed_go_to_nobody_else_when_another_window_writes(app: Pitch, tmp_path: Path) -> None:
    other = open_care(tmp_path / "ward.sqlite", app.set_clock, examiner="CD")
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        screen = app.screen
        assert isinstance(screen, SidelineScreen)
        await pilot.press("down", *"10.2 ")
        squads.add_new(other, app.squad, "A.A.")
        screen.tick()
        await pilot.press(*"9.8", "enter")
        await pilot.pause()
        assert "C.D.: saved lunge left 10.2, right 9.8 cm" in text_of(app)
        assert "▸  E.F." in text_of(app)
        await pilot.press(*"11 1")
        squads.remove(other, app.squad, other.person(app.people[2]))
        screen.tick()
        await pilot.pause()
        assert screen.field.value == ""
        assert "E.F. is not in this squad any more" in text_of(app)
        assert "▸  C.D." in text_of(app)
    other.close()


async def test_whoever_left_meanwhile_is_measured_and_nobody_is_skipped(app: Pitch, tmp_path: Path) -> None:
    other = open_care(tmp_path / "ward.sqlite", app.set_clock, examiner="CD")
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        squads.remove(other, app.squad, other.person(app.people[0]))
        await pilot.press(*"10 9", "enter")
        await pilot.pause()
        assert "A.B.: saved lunge left 10.0, right 9.0 cm" in text_of(app)
        assert "▸  C.D." in text_of(app)
    other.close()


async def test_what_is_typed_is_told_for_a_measure_of_one_value_too(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await bench(app, pilot)
        await write(pilot, "stance_open")
        await pilot.press("enter", *"45 cap", "enter")
        await pilot.pause()
        assert " ≥45.0  ≥45.0  none before today" in text_of(app)
        await write(pilot, "confidence")
        await pilot.press("enter")
        await pilot.pause()
        assert "one value; or another measure" in text_of(app)
        assert "left right, as" not in text_of(app)


async def test_what_is_done_and_what_is_not_known_is_whole_on_the_smallest_usual_screen(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        app.open(commands.CHECK, person=app.people[0])
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, CheckScreen)
        for sign in screen.signs:
            for there in (True, False):
                screen.answers = {sign.id: there}
                screen._show()
                await pilot.pause()
                shown = " ".join(text_of(app).split())
                says = sideline.reasons(app.care, sideline.looked_at(app.care, screen.answers))
                assert len(says) == 2 + there
                assert " ".join(says) in shown


async def test_what_is_typed_ahead_of_a_refused_answer_lands_on_no_other_sign(app: Pitch) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        app.open(commands.CHECK, person=app.people[0])
        await pilot.pause()
        await write(pilot, "nny")
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, CheckScreen)
        assert screen.answers == {"not_awake": False}
        assert "Held keys are not answers" in text_of(app)


async def test_which_ankle_it_is_stands_in_sight_however_long_the_label(app: Pitch) -> None:
    long = squads.add_new(app.care, app.squad, "The tall one with the blue boots, 2026", "2010").member
    async with app.run_test(size=SIZES[0]) as pilot:
        app.open(commands.CHECK, person=long.person)
        await pilot.pause()
        assert "left or right?" in text_of(app)
        await pilot.press("left")
        await pilot.pause()
        assert "left  ankle" in text_of(app)
        assert "The tall" in text_of(app)
