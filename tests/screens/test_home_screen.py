"""The home programme on screen: carried over by one key, one change on top, the days in a line, each undone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care import ending, safety, visits
from store.care.home import HomeStanding
from store.record import episodes
from tests.care.home_made import AtHome, at_home
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.theatre import Theatre
from tui.app import BothFeetApp
from tui.screens.home import HomeScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet

SIZE = (80, 24)


class Room(Theatre):
    """A programme of three things of last week, and today's visit in hand."""

    def __init__(self, folder: Path, *, filled: bool = True) -> None:
        self.ward: AtHome = at_home(folder)
        if filled:
            self.ward.hand_out()
            self.ward.days_later(7)
        super().__init__(self.ward.now.care, self.ward.now.clock, folder)

    def open(self, name: str, **arguments: object) -> None:
        BothFeetApp.open(self, name, **arguments)

    @property
    def held(self) -> HomeStanding:
        return self.ward.held

    @property
    def count(self) -> int:
        """How many programmes stand."""
        return len(self.held.handed)

    @property
    def words(self) -> str:
        assert self.held.in_force is not None
        return self.held.in_force.programme.words


@pytest.fixture
def app(tmp_path: Path) -> Room:
    return Room(tmp_path)


async def settled(pilot: Pilot[Any]) -> None:
    for _ in range(3):
        await pilot.pause()


async def begun(app: Room, pilot: Pilot[Any], *, visit: bool = True) -> None:
    if visit:
        app.open(commands.VISIT, visit=app.ward.now.visit_id)
        await settled(pilot)
        app.open(commands.HOME, episode=app.ward.now.episode.id, visit=app.ward.now.visit_id)
    else:
        app.open(commands.HOME, episode=app.ward.now.episode.id)
    await settled(pilot)


def top(app: Room) -> type[object]:
    """What stands on top."""
    return type(app.screen)


async def press(pilot: Pilot[Any], *keys: str) -> None:
    for key in keys:
        await pilot.press(key)
        await settled(pilot)


async def test_one_key_carries_it_over_and_goes_back_to_the_visit(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot)
        assert "not handed out yet   carried over from 25 Nov, unchanged" in text_of(app)
        assert "2 x 10, right, once a day" in text_of(app)
        await press(pilot, "space")
        assert top(app) is VisitScreen
        assert any("✓ home programme" in line and "carried" in line for line in text_of(app).splitlines())
        assert app.count == 2
        assert app.words == "carried over from 25 Nov, unchanged"


async def test_a_dose_is_changed_by_the_arrows(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot, visit=False)
        await press(pilot, "down", "down", "enter", "right", "up", "up", "left", "down", "enter", "space")
        assert (
            app.words
            == "carried over from 25 Nov; heel raises 2 sets instead of 3 sets, 14 reps instead of 12 reps"
        )
        assert "handed out 2 Dec 2026" in text_of(app)
        assert "2 x 14, right" in text_of(app)
        await press(pilot, "space")
        assert "Handed out already" in text_of(app)
        assert app.count == 2


async def test_one_is_added_and_one_taken_out(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot, visit=False)
        await press(pilot, "minus", "plus")
        await write(pilot, "step down")
        await settled(pilot)
        assert "Keep your hips level." in " ".join(text_of(app).split())
        await press(pilot, "enter")
        assert "step-down added, not handed out yet" in text_of(app)
        await press(pilot, "space")
        assert "step-down added, 3 x 10, left and right" in app.words
        assert "self-mobilisation, band dropped" in app.words


async def test_from_five_on_a_gentle_word_is_said_and_nothing_is_barred(app: Room) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await begun(app, pilot, visit=False)
        await press(pilot, "plus", *"reaches", "enter", "plus", *"stretch", "enter")
        text = " ".join(text_of(app).split())
        assert "5 exercises: more than the usual 4 (common practice)." in text
        assert "was no different" in text
        await press(pilot, "space")
        assert app.held.in_force is not None
        assert len(app.held.in_force.items) == 5


async def test_u_takes_back_what_was_handed_out_here_and_in_the_visit(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot, visit=False)
        await press(pilot, "space", "u")
        assert "took back the home programme" in text_of(app)
        assert app.count == 1
        await press(pilot, "escape")
        await begun(app, pilot)
        await press(pilot, "space")
        assert app.count == 2
        await press(pilot, "u")
        assert top(app) is VisitScreen
        assert "took back the home programme" in text_of(app)
        assert app.count == 1


async def test_what_was_taken_back_in_the_visit_is_there_as_it_was_put_together(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot)
        before = len(app.ward.held.handed[-1].items)
        await press(pilot, "minus", "space")
        assert app.count == 2
        await press(pilot, "u", "h")
        assert "not handed out yet" in text_of(app)
        await press(pilot, "space")
        assert app.count == 2
        assert len(app.ward.held.handed[-1].items) == before - 1
        await press(pilot, "h", "plus", "enter", "space")
        assert len(app.ward.held.handed[-1].items) == before, "what was handed out since is what it opens with"


async def test_the_days_are_told_in_a_line_and_taken_back(app: Room) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await begun(app, pilot)
        await press(pilot, "f")
        await write(pilot, "mon 3 pain 1, tue 2, sun 0")
        await press(pilot, "enter")
        text = " ".join(text_of(app).split())
        assert "saved 29 Nov 0 done, 30 Nov 3 done, pain 1 next morning, 1 Dec 2 done" in text
        assert "since 25 Nov 2 of 7 planned days done, 1 not done, 4 days not told" in text
        await press(pilot, "f", *"7/7", "enter")
        assert "said: 7 of 7 days; by the days: 2 done, 1 not" in text_of(app)
        await press(pilot, "u", "u")
        assert "since 25 Nov no day told, of 7 planned days" in text_of(app)
        assert app.ward.now.view.said == {}


async def test_a_line_that_cannot_be_read_says_why_and_is_kept(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot)
        await press(pilot, "f", *"mon 9", "enter")
        assert "the programme of then has 3" in text_of(app)
        await press(pilot, "backspace", "2", "enter")
        assert "saved 30 Nov 2 done" in text_of(app)


async def test_a_change_that_was_not_handed_out_asks_once_before_it_is_left(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot)
        await press(pilot, "minus", "escape")
        assert "esc again leaves it as it was" in " ".join(text_of(app).split())
        await press(pilot, "escape")
        assert top(app) is HomeScreen
        await unhurried(pilot, "escape")
        assert top(app) is VisitScreen
        assert app.count == 1


async def test_with_nothing_carried_over_it_says_what_to_do(tmp_path: Path) -> None:
    app = Room(tmp_path, filled=False)
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot)
        assert "first programme" in text_of(app)
        assert "Nothing is on it yet: + adds the first thing to do at home." in text_of(app)
        assert "reading grade" not in text_of(app)  # of what says nothing
        await press(pilot, "space")
        assert "add something first" in text_of(app)
        await press(pilot, "minus")
        assert "The cursor is on no exercise" in text_of(app)


async def test_from_a_visit_that_has_ended_nothing_is_handed_out_and_no_second_one_begins(app: Room) -> None:
    care = app.ward.now.care
    ending.end_visit(care, care.visit(app.ward.now.visit_id))
    count = app.count
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot)
        await press(pilot, "space")
        assert "The visit has ended: go back (esc) and open it again (u)" in text_of(app)
        assert app.count == count
        assert visits.open_visit(care, app.ward.now.episode) is None


async def test_the_review_is_moved_by_the_arrows(app: Room) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot, visit=False)
        await press(pilot, "down", "down", "down", "enter", "up", "enter", "space")
        assert app.held.in_force is not None
        review = app.held.in_force.programme.review_on
        assert review is not None
        assert (review - app.held.on).days == 15


async def test_what_the_person_puts_in_force_is_asked_before_it_is_handed_out(app: Room) -> None:
    thin = app.care.episode(app.ward.now.episode.id)._replace(anticoagulant=True)
    episodes.revise_episode(app.care.record, thin, by="AB", because="asked")
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot, visit=False)
        assert "On anticoagulants: ask first" in text_of(app)
        await press(pilot, "space")
        await press(pilot, "space")
        assert "space again goes on" in " ".join(text_of(app).split())
        assert app.count == 1, "a second tap is no answer"
        await unhurried(pilot, "space")
        await press(pilot)
        assert app.count == 2


async def test_a_referral_is_asked_once_for_all_that_is_handed_out(app: Room) -> None:
    screened = safety.begin(app.care, app.ward.now.episode.id)
    safety.keep(app.care, safety.answer(screened, "tense_leg", "yes"))
    async with app.run_test(size=SIZE) as pilot:
        await begun(app, pilot, visit=False)
        await press(pilot, "space")
        assert "space again goes on" in " ".join(text_of(app).split())
        assert app.count == 1
        await unhurried(pilot, "space")
        await press(pilot)
        assert app.count == 2


async def test_in_a_closed_episode_the_tail_is_told_and_nothing_is_handed_out(app: Room) -> None:
    visits.end_visit(app.care, app.ward.now.visit)
    ended = app.care.episode(app.ward.now.episode.id)._replace(closed=app.care.clock.now())
    episodes.revise_episode(app.care.record, ended, by="AB", because="discharged")
    async with app.run_test(size=(120, 40)) as pilot:
        await begun(app, pilot, visit=False)
        text = " ".join(text_of(app).replace("│", " ").split())
        assert "balance work at home until 27 Jan 2027" in text
        assert "3 months after discharge, 2 Mar 2027" in text
        await press(pilot, "space")
        assert "open it again to hand out" in text_of(app)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 50)])
@pytest.mark.parametrize("keys", [(), ("enter",), ("plus",), ("f",)])
async def test_it_fits(app: Room, size: tuple[int, int], keys: tuple[str, ...]) -> None:
    async with app.run_test(size=size) as pilot:
        await begun(app, pilot)
        await press(pilot, *keys)
        assert misfits(app) == []


def test_every_command_of_it_runs() -> None:
    assert unmet(HomeScreen) == []
