"""The end of a visit by its key: at once, but where it would show what a blind re-test hides."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care.measuring import read_line, save, subject_of
from tests.helpers.fit import text_of
from tests.helpers.unhurried import unhurried
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.visit import VisitScreen

BEFORE = "lunge l 13.71 13.72 13.73 r 6.31 6.32 6.33"
AFTER = "lunge l 13.71 13.72 13.73 r 8.91 8.92 8.93"
SHOWS = "The re-test of lunge still waits: x again ends it and shows what was hidden."


@pytest.fixture
def app(tmp_path: Path) -> VisitStage:
    return staged(tmp_path)


def take(app: VisitStage, line: str) -> None:
    subject = subject_of(app.care, app.care.visit(app.visit_id))
    save(app.care, subject, read_line(app.care, subject, line))


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


async def test_x_ends_at_once_and_u_opens_the_visit_again(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        app.set_clock.move(1680)
        await pilot.press("x")
        await shown(pilot)
        assert app.care.visit(app.visit_id).ended is not None
        text = " ".join(text_of(app).split())
        assert (
            "visit ended after 28 min; nothing was done, so it does not count; 9 steps were open. "
            "u opens it again, esc goes back." in text
        )
        assert "u open again" in text.lower()
        await pilot.press("x")
        await shown(pilot)
        assert "u opens it again today, esc goes back" in text_of(app)
        await pilot.press("u")
        await shown(pilot)
        assert app.care.visit(app.visit_id).ended is None
        assert "took back the ending: this visit goes on" in text_of(app)
        await pilot.press("x", "escape")
        await shown(pilot)
        assert not isinstance(app.screen, VisitScreen)


async def test_x_asks_once_before_it_shows_what_is_hidden(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        take(app, BEFORE)
        await shown(pilot)
        for others in (("down",), ("g",), ("f1", "escape")):  # any other key takes the question back
            await pilot.press("x")
            await shown(pilot)
            assert SHOWS in " ".join(text_of(app).split())
            app.set_clock.move(1)
            await pilot.press(*others)
            await shown(pilot)
            assert SHOWS not in " ".join(text_of(app).split())
        await pilot.press("x", "x", "x")
        await shown(pilot)
        assert SHOWS in " ".join(text_of(app).split())
        assert app.care.visit(app.visit_id).ended is None, "a key that is doubled or held is no answer"
        app.set_clock.move(1)
        await pilot.press("x")
        await shown(pilot)
        assert app.care.visit(app.visit_id).ended is not None
        assert "13.7" in text_of(app)


async def test_d_asks_once_before_it_leaves_out_what_hides_something(app: VisitStage) -> None:
    take(app, BEFORE)
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press(*["down"] * 4, "d", "d")
        await shown(pilot)
        says = "The re-test of lunge still waits: d again leaves it out and shows what was hidden."
        assert says in " ".join(text_of(app).split())
        await unhurried(pilot, "x")
        await shown(pilot)
        assert SHOWS in " ".join(text_of(app).split()), "another key is no answer"
        await pilot.press("d")
        assert not any(step.dropped for step in app.view.visit.plan)
        await unhurried(pilot, "d")
        await shown(pilot)
        assert [step.kind for step in app.view.visit.plan if step.dropped] == ["retest"]
        assert "13.7" in text_of(app)
        await pilot.press("d")
        await shown(pilot)
        assert not any(step.dropped for step in app.view.visit.plan), "to take it back in is no question"


async def test_x_ends_without_a_question_where_nothing_is_hidden_any_more(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        take(app, BEFORE)
        take(app, AFTER)
        await shown(pilot)
        await pilot.press("x")
        await shown(pilot)
        assert app.care.visit(app.visit_id).ended is not None
