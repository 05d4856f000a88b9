"""An episode put right, closed and opened again, and each taken back, by keys alone."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care import visits
from store.care.appointments import coming_words, plan
from store.care.care import open_care
from store.care.correcting import correct, form_of
from store.care.people import EpisodeForm, close_episode, new_episode
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Side
from tests.helpers.fit import misfits, text_of
from tests.screens.made import opened, ward
from tests.screens.theatre import Theatre
from tui.screens.episode import EpisodeScreen
from tui.screens.person import PersonScreen
from tui.widgets import commands

SIZE = (80, 24)


class Room(Theatre):
    """The program, with an episode of an invented person."""

    def __init__(self, folder: Path, label: str = "R.K.") -> None:
        care, clock = opened(folder)
        super().__init__(care, clock, folder)
        self.set_clock: SetClock = clock
        self.about = ward(care, clock)[label].id

    @property
    def kept(self) -> Episode:
        return self.care.episode(self.about)

    def closed(self) -> bool:
        return self.kept.closed is not None

    @property
    def words(self) -> str:
        return " ".join(text_of(self).split())

    async def show(self, pilot: Pilot[Any]) -> None:
        self.open(commands.EPISODE, episode=self.about)
        await pilot.pause()


@pytest.fixture
def app(tmp_path: Path) -> Room:
    return Room(tmp_path)


async def test_e_opens_the_form_filled_and_a_grade_is_given_later(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        before = app.kept
        await pilot.press("e")
        await pilot.pause()
        form = app.screen
        assert isinstance(form, PersonScreen)
        assert "R.K. put right what was asked" in app.words
        assert form.fields.form() == form_of(before)
        form.set_focus(form.fields.grade)
        await pilot.press("right", "ctrl+o")
        await pilot.pause()
        assert isinstance(app.screen, EpisodeScreen)
        assert "corrected R.K.; what stood before is kept" in app.words
        assert app.kept.grade is not before.grade
        grade = f"grade {app.kept.grade}" if app.kept.grade else "not yet graded"
        assert grade in app.words
        await pilot.press("u")
        await pilot.pause()
        assert "took back the correction of grade" in app.words
        assert app.kept.grade is before.grade


async def test_a_label_and_a_year_are_put_right(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        await pilot.press("e")
        await pilot.pause()
        await pilot.press("end", "X", "enter", "ctrl+o")
        await pilot.pause()
        assert app.care.person(app.kept.person).label == "R.K.X"
        assert "R.K.X" in app.words


async def test_saving_without_a_change_keeps_nothing(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        before = app.kept
        await pilot.press("e")
        await pilot.pause()
        await pilot.press("ctrl+o")
        await pilot.pause()
        assert "nothing was changed" in app.words
        assert app.kept == before


async def test_another_windows_change_meanwhile_is_said_and_the_text_stays(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        await pilot.press("e")
        await pilot.pause()
        form = app.screen
        assert isinstance(form, PersonScreen)
        form.fields.goal.value = "mine"
        with closing(open_care(app.care.record.path, app.set_clock)) as other:
            person = other.person(app.kept.person)
            correct(
                other, person, app.kept, person.label, person.born or "", replace(form_of(app.kept), goal="theirs")
            )
        await pilot.press("ctrl+o")
        await pilot.pause()
        assert app.screen_stack.index(form) == len(app.screen_stack) - 1
        assert "changed in another window meanwhile" in app.words
        assert form.fields.goal.value == "mine"
        assert app.kept.goal == "theirs"


async def test_the_side_of_a_measured_ankle_stays(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        await pilot.press("e")
        await pilot.pause()
        form = app.screen
        assert isinstance(form, PersonScreen)
        form.set_focus(form.fields.side)
        await pilot.press("l", "ctrl+o")
        await pilot.pause()
        assert "the side stays right: something was measured" in app.words
        assert app.kept.side is Side.RIGHT


async def test_x_closes_the_keys_say_so_and_x_opens_again(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        await pilot.press("x")
        await pilot.pause()
        assert app.closed()
        assert "episode closed" in app.words
        assert "closed 25 Nov 2026" in app.words  # the head
        assert "x open again" in app.words
        for key in ("v", "m", "t"):
            await pilot.press(key)
            await pilot.pause()
            assert "closed on 25 Nov 2026: open it again first" in app.words
        await pilot.press("x")
        await pilot.pause()
        assert "episode opened again" in app.words
        assert not app.closed()
        await pilot.press("u")
        await pilot.pause()
        assert app.closed()
        await pilot.press("u")
        await pilot.pause()
        assert "took back the closing" in app.words
        assert not app.closed()
        assert misfits(app) == []


async def test_a_visit_in_hand_keeps_it_open_and_the_newest_act_is_taken_back_first(app: Room) -> None:
    visit = visits.start_visit(app.care, app.kept)
    visits.said(app.care, visit, "pain 2")
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        await pilot.press("x")
        await pilot.pause()
        assert "A visit of this episode is still open" in app.words
        assert not app.closed()
        person, before = app.care.person(app.kept.person), app.kept
        other = Grade.I if before.grade is not Grade.I else Grade.II
        correct(app.care, person, before, person.label, person.born or "", replace(form_of(before), grade=other))
        app.screen_stack[-1].query_one("MirrorTable").focus()
        screen = app.screen
        assert isinstance(screen, EpisodeScreen)
        screen.read_again()
        await pilot.press("u")
        await pilot.pause()
        assert "took back the correction of grade" in app.words
        await pilot.press("u")
        await pilot.pause()
        assert "took back what was said: pain 2" in app.words
        assert app.kept.grade is before.grade


async def test_it_is_not_opened_again_beside_a_later_one(app: Room) -> None:
    close_episode(app.care, app.kept)
    app.set_clock.move(60)
    new_episode(app.care, app.care.person(app.kept.person), EpisodeForm(Side.RIGHT))
    async with app.run_test(size=SIZE) as pilot:
        await app.show(pilot)
        await pilot.press("x")
        await pilot.pause()
        assert "another episode of the right ankle was opened on 25 Nov 2026: open that one" in app.words
        assert app.closed()


async def test_the_head_of_the_form_tells_what_is_still_needed(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.open(commands.PERSON)
        await pilot.pause()
        assert "label and injured side are needed" in app.words
        await pilot.press("A", "enter", "enter")
        await pilot.pause()
        assert "injured side is needed" in app.words
        await pilot.press("l")
        await pilot.pause()
        assert "the rest may stay empty" in app.words
        assert "needed" not in app.words


@pytest.mark.parametrize("right", range(4))
async def test_every_grade_stands_on_one_line(app: Room, right: int) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.open(commands.PERSON)
        await pilot.pause()
        form = app.screen
        assert isinstance(form, PersonScreen)
        form.set_focus(form.fields.grade)
        await pilot.press(*["right"] * right)
        await pilot.pause()
        assert form.fields.grade.size.height == 1
        assert misfits(app) == []


async def test_closing_says_that_a_planned_visit_stands_and_w_calls_it_off(app: Room) -> None:
    person = app.care.person(app.kept.person)
    async with app.run_test(size=(120, 40)) as pilot:
        await app.show(pilot)
        plan(app.care, person, "fri 9:00", app.about)
        await pilot.press("x")
        await pilot.pause()
        assert app.closed()
        assert "the visit planned for Fri" in app.words
        assert "stands: w moves it or calls it off" in app.words
        await pilot.press("w", *"off", "enter")
        await pilot.pause()
        assert coming_words(app.care, person.id) == ""
        await pilot.press("x", "x")
        await pilot.pause()
        assert "stands" not in app.words.split("episode closed")[1]
