"""What stands beside the plan of a visit, and its keys once it has ended."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import noting, visits
from store.care.measuring import read_line, save, subject_of
from store.care.timing import begin
from store.record.people import revise_person
from tests.helpers.fit import text_of
from tests.screens.visit_stage import VisitStage, staged
from tui.widgets.key_line import KeyLine
from tui.widgets.step_word import StepWord

LUNGES = ("lunge l 13.71 13.72 13.73 r 6.31 6.32 6.33", "lunge l 13.71 13.72 13.73 r 8.91 8.92 8.93")


@pytest.fixture
def app(tmp_path: Path) -> VisitStage:
    return staged(tmp_path)


def take(app: VisitStage, line: str) -> None:
    subject = subject_of(app.care, app.care.visit(app.visit_id))
    save(app.care, subject, read_line(app.care, subject, line))


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


async def test_a_bout_beyond_the_plan_is_told_beside_it(app: VisitStage) -> None:
    live = begin(app.care, app.care.knowledge.activities["heel_raises"], app.care.visit(app.visit_id))
    live.press()
    for _ in range(12):
        app.set_clock.move(1)
        live.tick()
    live.end()
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert f"{live.plan.name}  " in text_of(app)


async def test_the_head_of_a_visit_warns_of_growth_plates_as_the_episode_does(app: VisitStage) -> None:
    person = app.care.person(app.episode.person)
    revise_person(app.care.record, person._replace(born="2012"), by="A.B.", because="born later")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "growth plates" in "\n".join(text_of(app).splitlines()[:3])


async def test_what_was_said_stays_in_sight_whatever_is_measured(app: VisitStage) -> None:
    visits.said(app.care, app.care.visit(app.visit_id), "pain 2 worst 4 home 5/7 consent y")
    for line in ("girth l 51 r 52.5", "heel l 24 r 11", "stance l 45 r 20", "angle l 40 r 30", "closed l 12 r 9"):
        take(app, line)
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "pain now 2  worst 4" in text_of(app)
        assert "consent yes" in text_of(app)


async def test_values_without_a_moment_are_called_unmarked(app: VisitStage) -> None:
    take(app, "girth l 51 r 52.5")
    async with app.run_test(size=(120, 40)) as pilot:
        await shown(pilot)
        text = " ".join(text_of(app).split())
        assert "unmarked 51.0 52.5" in text
        assert "before" not in text


async def test_a_value_after_treatment_alone_stands_under_the_retest_only(app: VisitStage) -> None:
    take(app, "girth l 51 r 52.5 after")
    async with app.run_test(size=(120, 40)) as pilot:
        await shown(pilot)
        text = " ".join(text_of(app).split())
        assert "re-test 51.0 52.5" in text
        assert "before" not in text
        assert "unmarked" not in text


async def test_the_keys_of_an_ended_visit_are_greyed_with_their_reason(app: VisitStage) -> None:
    visits.end_visit(app.care, app.care.visit(app.visit_id))
    async with app.run_test(size=(120, 40)) as pilot:
        await shown(pilot)
        barred = app.screen.query_one(KeyLine).barred
        assert barred == {"next", "measure", "timer", "drop", "end"}
        assert not {"back", "chart", "source"} & barred


async def test_an_ended_visit_shows_no_next_step_and_names_the_key_of_its_note(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert app.screen.query_one(StepWord).text
        await pilot.press("x")
        await shown(pilot)
        assert app.screen.query_one(StepWord).text == ""
        assert text_of(app).splitlines()[-1].startswith(" n papers   u open again")


async def test_a_visit_whose_note_is_signed_does_not_offer_to_open_it_again(app: VisitStage) -> None:
    noting.sign(app.care, app.visit_id)
    async with app.run_test(size=(120, 40)) as pilot:
        await shown(pilot)
        assert "open again" not in text_of(app)
        assert "undo" in app.screen.query_one(KeyLine).barred
        for key in ("u", "m", "x"):
            await pilot.press(key)
            await shown(pilot)
            assert "The note is signed, and this visit stays ended: n, then a adds to the note" in text_of(app)
            await pilot.press("down")
        await pilot.press("h", "space")
        await shown(pilot)
        assert "esc back to the episode, and h hands out from there." in text_of(app)
        assert app.care.visit(app.visit_id).ended is not None
