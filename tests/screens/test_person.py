from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care.care import Care
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Side
from store.record import episodes, people
from tests.helpers.burst import dealt_with, write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.made import opened, ward
from tests.screens.theatre import Theatre
from tui.screens.person import PersonScreen
from tui.widgets import commands
from tui.widgets.field import Field
from tui.widgets.keyed_screen import unmet


@pytest.fixture
def app(tmp_path: Path) -> Theatre:
    care, clock = opened(tmp_path)
    return Theatre(care, clock, tmp_path)


async def form(app: Theatre, pilot: Pilot[Any], **arguments: object) -> PersonScreen:
    app.open(commands.PERSON, **arguments)
    await pilot.pause()
    screen = app.screen
    assert isinstance(screen, PersonScreen)
    return screen


async def typed(pilot: Pilot[Any], *lines: str) -> None:
    """Each line into its field, with enter behind it; a name in angle brackets is a key."""
    for line in lines:
        if line.startswith("<"):
            await pilot.press(line.strip("<>"))
        else:
            await write(pilot, line, "enter")
        await dealt_with(pilot)
        await pilot.pause()


def kept(care: Care) -> list[Episode]:
    return [one for person in people.find_people(care.record, "") for one in _of(care, person.id)]


def _of(care: Care, person: str) -> list[Episode]:
    return episodes.episodes_of_person(care.record, person)


async def test_the_whole_form_is_filled_with_enter_alone(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await form(app, pilot)
        await typed(pilot, "R.K.", "1995", "r")  # label, born, side
        await typed(pilot, "", "<2>", "<I>", "<I>", "<enter>", "2 Nov", "brace on the way")  # grade II
        await typed(pilot, "21 km forest race", "14 Mar", "orienteering", "club", "0", "2")
        await typed(pilot, "<n>", "<enter>", "<y>", "<enter>")  # anticoagulant: no, loss of feeling: yes
        await pilot.press("enter")  # hypermobility: not asked
        await pilot.pause()
        (episode,) = kept(app.care)
        assert app.opened[-1][0] == commands.EPISODE
        assert "✓ saved R.K., right ankle" in text_of(app)
    assert (episode.side, episode.structure, episode.grade) == (Side.RIGHT, "lateral ligament", Grade.II)
    assert (episode.injured_on, episode.brace) == (date(2026, 11, 2), "brace on the way")
    assert (episode.goal, episode.goal_on) == ("21 km forest race", date(2027, 3, 14))
    assert (episode.sport, episode.level) == ("orienteering", "club")
    assert (episode.sprains_left, episode.sprains_right) == (0, 2)
    assert (episode.anticoagulant, episode.loss_of_feeling, episode.hypermobility) == (False, True, None)
    person = app.care.person(episode.person)
    assert (person.label, person.born) == ("R.K.", "1995")


async def test_a_label_and_a_side_are_enough_and_the_rest_stays_not_asked(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await form(app, pilot, label="T.M.")
        await pilot.press("enter", "enter", "left", "ctrl+o")
        await pilot.pause()
        (episode,) = kept(app.care)
    assert episode.side is Side.LEFT
    unasked = (episode.grade, episode.injured_on, episode.goal, episode.sprains_left, episode.anticoagulant)
    assert unasked == (None,) * 5


async def test_the_side_is_a_word_and_nothing_is_chosen_before_it_is_chosen(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await form(app, pilot)
        await typed(pilot, "R.K.", "")
        assert "[◀ left]" not in text_of(app)
        assert "[right ▶]" not in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "! choose the side: ← left, → right" in text_of(app)
        await pilot.press("r")
        await pilot.pause()
        assert "[right ▶]" in text_of(app)
        assert "choose the side" not in text_of(app)
        await pilot.press("left")
        await pilot.pause()
        assert "[◀ left]" in text_of(app)


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("injured", "2026-12-01", "lies in the future"),
        ("injured", "soon", "is no day"),
        ("injured", "31 Nov", "not in the calendar"),
        ("born", "2030", "lies in the future"),
        ("born", "12 March", "type a year such as 1995"),
        ("sprains-left", "many", "type a number from 0 to 99"),
        ("sprains-right", "100", "type a number from 0 to 99"),
        ("goal-on", "2090-01-01", "more than 20 years ahead"),
    ],
)
async def test_what_cannot_be_is_said_beside_its_field_and_the_text_stays(
    app: Theatre, field: str, text: str, says: str
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await form(app, pilot, label="R.K.")
        line = screen.query_one(f"#{field}", Field)
        line.focus_field()
        await typed(pilot, text)
        assert says in (line.error or "")
        assert f"! {' '.join((line.error or '').split()[:2])}" in text_of(app)
        assert text in text_of(app)
        await pilot.press("ctrl+o")
        await pilot.pause()
        assert "nothing is saved yet" in text_of(app)
        assert text in text_of(app)
        assert kept(app.care) == []


async def test_an_injury_before_birth_and_a_goal_before_the_injury_are_refused(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await form(app, pilot, label="R.K.")
        screen.fields.born.value = "2026-10-10"
        screen.fields.injured.value = "1.10.2026"
        screen.fields.goal_on.value = "2026-09-01"
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "before birth" in (screen.fields.injured.error or "")
        assert "before the injury" in (screen.fields.goal_on.error or "")
        assert kept(app.care) == []


async def test_the_day_is_shown_as_it_was_understood(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await form(app, pilot, label="R.K.")
        screen.fields.injured.focus_field()
        await pilot.press(*"5 days ago")
        await pilot.pause()
        assert "Fri 20 Nov 2026" in text_of(app)


async def test_the_examiner_is_asked_once(tmp_path: Path) -> None:
    care, clock = opened(tmp_path, examiner="")
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await form(app, pilot, label="R.K.")
        assert "examiner" in text_of(app)
        await typed(pilot, "", "", "")
        assert "examiner is needed" in text_of(app)
        await typed(pilot, "A.B.", "<r>", "<ctrl+o>")
        assert len(kept(care)) == 1
        await pilot.press("escape")
        await form(app, pilot)
        assert "examiner" not in text_of(app)
    assert care.examiner == "A.B."


async def test_a_label_that_is_there_already_is_said_once_and_kept_when_saved_again(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        ward(app.care, app.clock if isinstance(app.clock, SetClock) else SetClock(app.clock.now().at))
        before = len(kept(app.care))
        await form(app, pilot, label="R.K.")
        await typed(pilot, "", "", "<r>", "<ctrl+o>")
        assert "Somebody has the label R.K. already" in text_of(app)
        await pilot.press("ctrl+o")
        await pilot.pause()
        assert len(kept(app.care)) == before, "a second tap is no answer"
        await unhurried(pilot, "ctrl+o")
        await pilot.pause()
        assert len(kept(app.care)) == before + 1


async def test_leaving_asks_once_when_something_was_typed(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await form(app, pilot)
        await pilot.press("y", "n", "escape")
        await pilot.pause()
        assert "What you typed is not saved" in text_of(app)
        await pilot.press("n", "x")
        await pilot.pause()
        assert app.screen is screen
        assert screen.fields.label.value == "ynx"
        assert "not saved" not in text_of(app)
        await pilot.press("escape", "y")
        await pilot.pause()
        assert app.screen is not screen
        assert kept(app.care) == []


async def test_leaving_an_untouched_form_asks_nothing(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await form(app, pilot)
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is not screen


async def test_the_other_ankle_of_a_known_person_is_linked(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        assert isinstance(app.clock, SetClock)
        first = ward(app.care, app.clock)["R.K."]
        app.open(commands.EPISODE, episode=first.id)
        await pilot.pause()
        await pilot.press("a")
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, PersonScreen)
        assert "another episode" in text_of(app)
        assert screen.fields.sport.value == "orienteering"  # asked before: not typed twice
        await pilot.press("right", "ctrl+o")
        await pilot.pause()
        assert "has an open episode of the right ankle" in " ".join(text_of(app).split())
        assert len(_of(app.care, first.person)) == 1
        await pilot.press("left", "ctrl+o")
        await pilot.pause()
        one, other = _of(app.care, first.person)
        assert (one.linked_episode, other.linked_episode) == (other.id, one.id)
        assert other.side is Side.LEFT


async def test_arrows_go_up_and_down_and_a_pasted_page_does_no_harm(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await form(app, pilot)
        await pilot.press("down")
        assert screen.fields.born in screen.focused.ancestors if screen.focused else False
        await pilot.press("up")
        assert screen.fields.label in screen.focused.ancestors if screen.focused else False
        screen.fields.label.value = "漢字" * 5000
        await pilot.press("ctrl+o")
        await pilot.pause()
        assert "at most 40 characters" in " ".join(text_of(app).split())
        assert misfits(app) == []


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_the_form_fits(app: Theatre, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        screen = await form(app, pilot)
        assert misfits(app) == []
        for line in screen.fields.lines:  # none is out of reach: each comes into sight when it has the focus
            await pilot.press("tab")
            await pilot.pause()
            assert screen.focused is not None
            assert screen.region.contains_region(screen.focused.region), line


def test_no_key_does_nothing_silently() -> None:
    assert unmet(PersonScreen) == []
