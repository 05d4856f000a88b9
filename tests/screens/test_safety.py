"""The safety screen: one key a question, the outcome beside, keeping, settling, asking again as a group."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from store.care import safety, visits
from store.care.people import close_episode
from store.care.safety_state import stands
from store.knowledge.papers import SafetyScreen
from tests.helpers.burst import burst, dealt_with, write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.safety import SafetyPage
from tui.screens.safety_again import SafetyAgainScreen
from tui.widgets import commands
from tui.widgets.answering import HELD

SIZES = [(80, 24), (120, 40)]


def opened_safety(folder: Path) -> VisitStage:
    app = staged(folder)
    app.then = ""
    return app


async def on_safety(app: VisitStage, pilot: Pilot[Any]) -> SafetyPage:
    await pilot.pause()
    await pilot.press("s")
    await pilot.pause()
    screen = app.screen
    assert isinstance(screen, SafetyPage)
    return screen


def kept(app: VisitStage) -> list[SafetyScreen]:
    return safety.screens(app.care, app.episode.id)


@pytest.mark.parametrize("size", SIZES)
async def test_one_key_a_question_and_the_outcome_beside(tmp_path: Path, size: tuple[int, int]) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=size) as pilot:
        await on_safety(app, pilot)
        assert "Emergency first, 1 of 9" in text_of(app)
        await pilot.press("n", "y")
        shown = text_of(app)
        assert "Because" in shown
        assert "EMERGENCY" in shown or size != (80, 24)
        assert "emergency: Deformed" in shown
        assert misfits(app) == []
        await pilot.press("up", "space")
        assert "Because" not in text_of(app)
        assert kept(app) == []


@pytest.mark.parametrize("size", SIZES)
async def test_what_was_answered_is_kept_by_enter_and_taken_back_by_u(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=size) as pilot:
        await on_safety(app, pilot)
        await unhurried(pilot, "n", "n", "space", "n", "enter")
        await pilot.pause()
        (one,) = kept(app)
        answered = {key: word for key, word in one.answers.items() if key not in ("age", "days", "no_feeling")}
        assert answered == {"cold_foot": "no", "deformity": "no", "tense_leg": "no"}
        assert (one.outcome, one.visit) == ("unknown", app.visit_id)
        assert "kept the safety screen: unknown" in text_of(app)
        await pilot.press("u")
        await pilot.pause()
        assert kept(app) == []
        assert "took back the safety screen" in text_of(app)


async def test_answers_changed_later_keep_the_first(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test() as pilot:
        await on_safety(app, pilot)
        await pilot.press("n", "enter", "escape")
        await pilot.pause()
        screen = await on_safety(app, pilot)
        assert screen.at == "deformity"
        await pilot.press("up", "y", "enter")
        await pilot.pause()
        (one,) = kept(app)
        assert (one.answers["cold_foot"], one.outcome) == ("yes", "emergency")
        await pilot.press("u")
        await pilot.pause()
        (one,) = kept(app)
        assert (one.answers["cold_foot"], one.outcome) == ("no", "unknown")


async def test_a_number_is_typed_and_a_wrong_one_keeps_the_cursor(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test() as pilot:
        screen = await on_safety(app, pilot)
        await pilot.press("right", "y")
        assert "Type a number in years" in text_of(app)
        await pilot.press(*"999", "enter")
        assert "out of range: 0 to 120 years" in text_of(app)
        assert screen.at == "age"
        await pilot.press(*("backspace",) * 3, *"1", "5", "comma", "5", "enter")
        assert screen.draft is not None
        assert screen.draft.answers["age"] == 15.5
        assert screen.at == "malleolar_pain"
        await pilot.press("7")
        assert "answered with y or n" in text_of(app)


async def test_leaving_what_is_not_kept_is_asked_about_once(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test() as pilot:
        screen = await on_safety(app, pilot)
        await pilot.press("n", "escape")
        await pilot.press("escape")
        assert app.screen is screen
        assert "Not kept yet: enter keeps it, esc again leaves it." in text_of(app)
        await unhurried(pilot, "escape")
        await pilot.pause()
        assert app.screen is not screen
        assert kept(app) == []


@pytest.mark.parametrize("size", SIZES)
async def test_a_referral_stands_until_it_is_settled_with_a_reason(tmp_path: Path, size: tuple[int, int]) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=size) as pilot:
        screen = await on_safety(app, pilot)
        await pilot.press("y", "enter")
        await pilot.pause()
        assert [one.outcome for one in stands(app.care, app.episode.id)] == ["emergency"]
        assert "emergency stands, 25 Nov" in text_of(app).splitlines()[0]
        assert "k settle" in text_of(app)
        await pilot.press("k", "enter")
        await pilot.pause()
        assert "type the reason why it is settled" in text_of(app)
        await write(pilot, "seen by the surgeon, foot well supplied", "enter")
        await pilot.pause()
        assert "settled: seen by the surgeon" in text_of(app)
        assert stands(app.care, app.episode.id) == ()
        assert "stands" not in text_of(app).splitlines()[0]
        assert not isinstance(screen.focused, Input)
        await pilot.press("u")
        await pilot.pause()
        assert [one.outcome for one in stands(app.care, app.episode.id)] == ["emergency"]


@pytest.mark.parametrize("size", SIZES)
async def test_the_step_of_the_plan_asks_again_as_a_group_by_space(tmp_path: Path, size: tuple[int, int]) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await pilot.press("down", "space")
        await pilot.pause()
        assert isinstance(app.screen, SafetyAgainScreen)
        shown = text_of(app)
        assert "not screened yet: s opens it" in shown
        assert "Short of breath, chest pain, or coughing blood" in shown
        assert misfits(app) == []
        await pilot.press("space")
        await pilot.pause()
        (one,) = kept(app)
        assert (one.kind, one.answers, one.outcome) == ("asked as a group", {}, "unknown")
        assert "breathless" in one.shown
        assert "no change reported" in text_of(app)
        await pilot.press("u")
        await pilot.pause()
        assert "took back the asking as a group" in text_of(app)
        assert kept(app) == []


async def test_what_has_changed_opens_the_whole_screen_and_does_the_step(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("down", "space")
        await pilot.pause()
        await pilot.press("s")
        await pilot.pause()
        assert isinstance(app.screen, SafetyPage)
        await pilot.press("y", "enter")
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        await pilot.pause()
        shown = text_of(app)
        assert "emergency" in shown
        assert not isinstance(app.screen, SafetyAgainScreen)
        assert "emergency stands, 25 Nov" in shown


async def test_a_standing_referral_asks_before_each_loading_step(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    draft = safety.begin(app.care, app.episode.id)
    safety.keep(app.care, safety.answer(draft, "tense_leg", "yes"))
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("down", "down", "space")
        await pilot.pause()
        assert "emergency stands, 25 Nov: settle it on the safety screen (s)" in text_of(app)
        await pilot.press("space")
        await pilot.pause()
        assert app.opened[-1][0] == commands.VISIT, "a second tap is no answer"
        await unhurried(pilot, "space")
        await pilot.pause()
        assert app.opened[-1][0] == commands.TRIALS
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press("space")
        await pilot.pause()
        assert app.opened[-1][0] == commands.TRIALS
        assert "settle it on the safety screen" in text_of(app)


async def test_keys_typed_ahead_are_each_answered_in_turn(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test() as pilot:
        screen = await on_safety(app, pilot)
        for keys in (("n", "y", "n", "y", "n", "y", "n", "up", "y"), ("y", *"5", "enter", "n"), ("n",)):
            burst(app, *keys)
            await pilot.pause()
            await dealt_with(pilot)
            app.set_clock.move(1)
        assert screen.draft is not None
        answers = screen.draft.answers
        assert (answers["tense_leg"], answers["breathless"]) == ("yes", "yes")
        assert (answers["malleolar_pain"], answers["fibula_edge"], answers["fibula_cm"]) == ("yes", "yes", 5.0)
        assert (answers["fibula_tip"], answers["tibia_edge"]) == ("no", "no")


async def test_a_held_key_answers_nothing_more_and_that_is_said(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_safety(app, pilot)
        assert screen.draft is not None
        before = set(screen.draft.answers)
        for _ in range(30):
            await pilot.press("n")
            app.set_clock.move(0.033)
        assert set(screen.draft.answers) - before == {"cold_foot"}
        assert HELD in text_of(app)
        await pilot.press("y")
        assert screen.draft.answers["deformity"] == "yes", "another key is no repeat"
        assert HELD not in text_of(app)
        await pilot.press("y")
        app.set_clock.move(0.13)
        await pilot.press("y")
        assert screen.draft.answers["open_wound"] == "yes"
        assert screen.at == "tense_leg"


async def test_what_is_typed_ahead_of_a_refused_answer_lands_on_no_other_question(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_safety(app, pilot)
        assert screen.draft is not None
        before = set(screen.draft.answers)
        await write(pilot, "nny")
        await pilot.pause()
        assert set(screen.draft.answers) - before == {"cold_foot"}
        assert HELD in text_of(app)


async def test_an_answer_that_leads_into_the_next_group_says_so(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await on_safety(app, pilot)
        await pilot.press(*["down"] * 4, "n")
        assert "On to" not in text_of(app)
        await unhurried(pilot, "n")
        head = text_of(app).splitlines()[1].strip()
        assert ", 2 of 9" in head
        assert f"On to {head.partition('  ')[0]}." in text_of(app)


async def test_where_a_rule_comes_from(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    app.noted.discard(commands.SOURCE)
    async with app.run_test(size=(120, 40)) as pilot:
        await on_safety(app, pilot)
        await pilot.press(*("right",) * 5, "i")
        await pilot.pause()
        shown = text_of(app)
        assert "two-level form of 2003, ten items: likely from 2, else unlikely" in shown
        assert "calf at least 3 cm larger" in shown
        assert "NICE guideline 158" in shown
        assert misfits(app) == []


async def test_a_closed_episode_takes_no_answer(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    visits.end_visit(app.care, app.care.visit(app.visit_id))
    close_episode(app.care, app.episode)
    async with app.run_test() as pilot:
        app.open(commands.SAFETY, episode=app.episode.id)
        await pilot.pause()
        await pilot.press("n")
        assert "This episode is closed: open it again first." in text_of(app)
        assert kept(app) == []


@pytest.mark.parametrize("size", SIZES)
async def test_the_clot_score_is_shown_with_and_without_the_judgement_that_nobody_gave(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=size) as pilot:
        screen = await on_safety(app, pilot)
        while "Anything to think of a clot" not in text_of(app):
            await pilot.press("right")
        await pilot.press("y")
        assert screen.draft is not None
        assert "clot_other" not in screen.draft.answers
        await unhurried(pilot, "n", "y", "n", "n", "n", "n", *"3.0", "enter", "y", "n", "n")
        told = text_of(app)
        for words in ("two-level", "3, likely", "1, unlikely", "yours to", "not asked"):
            assert words in told
        await pilot.press("enter")
        await pilot.pause()
        assert "clot_other" not in kept(app)[0].answers
        assert misfits(app) == []


async def test_undo_takes_back_answers_one_by_one_before_what_was_kept(tmp_path: Path) -> None:
    app = opened_safety(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await on_safety(app, pilot)
        await pilot.press("n", "y")
        assert "EMERGENCY" in text_of(app)
        await pilot.press("u")
        assert "took back the last answer" in text_of(app)
        assert "EMERGENCY" not in text_of(app)
        assert screen.at == "deformity"
        await pilot.press("n", "enter", "space", "u", "u")
        assert "took back the safety screen" in text_of(app)
        assert kept(app) == []
        await pilot.press("u")
        assert "Nothing to undo: nothing was answered or kept here" in text_of(app)
