"""A form that is typed faster than it is dealt with: every key lands in the field that it is meant for."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care.care import Care
from store.knowledge.words import Episode, Grade, Side
from store.record import episodes, people
from tests.helpers.burst import burst
from tests.helpers.fit import text_of
from tests.screens.made import opened
from tests.screens.theatre import Theatre
from tui.screens.person import PersonScreen
from tui.widgets import commands

WHOLE = (
    "f2", *"R.K.", "enter", *"1995", "enter", "r", "enter", "tab", "right", "right", "enter", *"2 Nov", "enter",
    *"brace on the way", "enter", *"21 km forest race", "enter", *"14 Mar", "down", *"orienteering", "enter",
    *"club", "enter", "0", "enter", "2", "enter", "n", "enter", "y", "enter", "enter",
)  # fmt: skip


@pytest.fixture
def app(tmp_path: Path) -> Theatre:
    care, clock = opened(tmp_path)
    return Theatre(care, clock, tmp_path)


async def settled(pilot: Pilot[Any], app: Theatre) -> None:
    for _ in range(400):
        await pilot.pause()
        if not app.keys_wait:
            return
    raise AssertionError("keys still wait")


def kept(care: Care) -> list[tuple[str, str | None, Episode]]:
    return [
        (person.label, person.born, one)
        for person in people.find_people(care.record, "")
        for one in episodes.episodes_of_person(care.record, person.id)
    ]


async def test_the_key_that_opens_the_form_and_the_whole_form_in_one_burst(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        burst(app, *WHOLE)
        await settled(pilot, app)
        assert app.opened[-1][0] == commands.EPISODE, text_of(app)
        ((label, born, one),) = kept(app.care)
    assert (label, born, one.side, one.grade) == ("R.K.", "1995", Side.RIGHT, Grade.II)
    assert (one.structure, one.injured_on, one.brace) == (
        "lateral ligament",
        date(2026, 11, 2),
        "brace on the way",
    )
    assert (one.goal, one.goal_on, one.sport) == ("21 km forest race", date(2027, 3, 14), "orienteering")
    assert (one.level, one.sprains_left, one.sprains_right) == ("club", 0, 2)
    assert (one.anticoagulant, one.loss_of_feeling, one.hypermobility) == (False, True, None)


async def test_a_field_that_is_refused_keeps_the_cursor_and_the_rest_is_dropped(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        burst(app, "f2", *"R.K.", "enter", *"12 March", "enter", "r", "enter", *"calf", "enter")
        await settled(pilot, app)
        screen = app.screen
        assert isinstance(screen, PersonScreen)
        assert screen.fields.born in screen.focused.ancestors if screen.focused else False
        assert "type a year such as 1995" in " ".join(text_of(app).split())
        assert (screen.fields.label.value, screen.fields.born.value) == ("R.K.", "12 March")
        assert (screen.fields.side.value, screen.fields.structure.value) == (None, "lateral ligament")
        assert kept(app.care) == []


async def test_a_side_that_is_missing_keeps_the_cursor(app: Theatre) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        burst(app, "f2", *"R.K.", "enter", "enter", "enter", *"lll", "enter")
        await settled(pilot, app)
        screen = app.screen
        assert isinstance(screen, PersonScreen)
        assert screen.focused is screen.fields.side
        assert "! choose the side" in text_of(app)
        assert screen.fields.side.value is None
