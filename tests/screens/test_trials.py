from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from store.care import visits
from store.knowledge.words import Moment, Status
from store.record.episodes import revise_episode
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.trials import TrialsScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.big_word import BigWord
from tui.widgets.keyed_screen import unmet


def stage(tmp_path: Path, measure: str = "lunge", moment: Moment | None = None) -> VisitStage:
    app = staged(tmp_path)
    app.then, app.arguments = commands.TRIALS, {"measure": measure, "moment": moment}
    return app


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


def word(app: VisitStage) -> str:
    return app.screen.query_one(BigWord).text


def kept(app: VisitStage) -> list[tuple[str | None, tuple[float, ...]]]:
    return [(one.side, one.trials) for one in app.kept]


async def type_in(pilot: Pilot[None], *texts: str) -> None:
    """Each text and enter."""
    for text in texts:
        await write(pilot, text, "enter")
    await shown(pilot)


def test_every_command_of_the_screen_has_its_method() -> None:
    assert unmet(TrialsScreen) == []


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
@pytest.mark.parametrize("measure", ["lunge", "heel_raise", "pain_now"])
async def test_it_fits(tmp_path: Path, size: tuple[int, int], measure: str) -> None:
    app = stage(tmp_path, measure)
    async with app.run_test(size=size) as pilot:
        await shown(pilot)
        assert misfits(app) == []
        assert "value" in text_of(app)


async def test_the_uninjured_side_first_and_its_word_fills_the_screen(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        giant = app.screen.query_one(BigWord)
        assert giant.text == "LEFT"
        assert giant.scale is not None
        assert giant.scale.rows >= 8
        text = text_of(app)
        assert "trial 1 of 3" in text
        assert "◀ uninjured" in text
        assert "Barefoot, facing the wall" in text
        assert "Not while standing on the leg hurts." in text


async def test_a_caution_in_force_comes_first_with_its_mark(tmp_path: Path) -> None:
    app = stage(tmp_path)
    told = app.care.episode(app.episode.id)._replace(loss_of_feeling=True)
    revise_episode(app.care.record, told, by="AB", because="asked")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "! Loss of feeling in foot or leg: pain does not warn." in text_of(app)


async def test_a_value_and_enter_moves_on_and_at_the_end_it_goes_back(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "10.2", "10,4")
        assert "trial 3 of 3" in text_of(app)
        assert "left  10.2  10.4  now" in text_of(app)
        await type_in(pilot, "10.1")
        assert word(app) == "RIGHT"
        assert "▶ injured" in text_of(app)
        assert "saved lunge left, hidden until the re-test is in" in text_of(app)
        await type_in(pilot, "4.8", "4.9", "4.7")
        assert isinstance(app.screen, VisitScreen)
        assert "✓ saved lunge left and right, hidden until the re-test is in" in text_of(app)
        assert kept(app) == [("left", (10.2, 10.4, 10.1)), ("right", (4.8, 4.9, 4.7))]
        assert all(one.moment is Moment.BEFORE for one in app.kept)


async def test_several_values_are_taken_at_once(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "10.2 10.4 10.1", "4.8 4.9 4.7")
        assert isinstance(app.screen, VisitScreen)
        assert len(app.kept) == 2


async def test_the_pad_works_while_the_field_has_the_focus(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("asterisk")
        await shown(pilot)
        assert word(app) == "RIGHT"
        await type_in(pilot, "4.8")
        await pilot.press("plus")
        await shown(pilot)
        assert "trial 2 of 4" in text_of(app)
        await pilot.press("minus", "slash")
        await shown(pilot)
        assert [one.status for one in app.kept] == [Status.UNABLE]
        assert word(app) == "LEFT"
        assert app.screen.query_one(Input).value == ""


async def test_a_taken_back_trial_changes_what_was_saved(tmp_path: Path) -> None:
    app = stage(tmp_path, "girth")
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "51 51.1 51.2")
        assert "saved girth left 51.1 cm" in text_of(app)
        await pilot.press("minus")
        await shown(pilot)
        assert word(app) == "LEFT"
        assert kept(app) == [("left", (51.0, 51.1))]
        await type_in(pilot, "51.9")
        assert kept(app) == [("left", (51.0, 51.1, 51.9))]


async def test_the_unusual_wants_enter_again_and_the_text_stays(tmp_path: Path) -> None:
    app = stage(tmp_path, "girth")
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "79")
        for _ in range(2):  # a second tap is no answer
            assert "Enter it again if so." in text_of(app)
            assert app.screen.query_one(Input).value == "79"
            await pilot.press("enter")
            await shown(pilot)
        await unhurried(pilot, "enter")
        await shown(pilot)
        assert "left  79  now" in text_of(app)


async def test_what_cannot_be_read_says_why_and_the_text_stays(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "450")
        assert "lunge goes from 0 to" in text_of(app)
        assert app.screen.query_one(Input).value == "450"
        await pilot.press("backspace", "backspace", "backspace", "enter")
        await shown(pilot)
        assert "type a value in cm, then enter" in text_of(app)


async def test_esc_keeps_what_is_there_as_fewer_and_says_so(tmp_path: Path) -> None:
    app = stage(tmp_path, "girth")
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "51", "51.2")
        await pilot.press("escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert "saved girth left 51.1 cm; left with 2 of 3 trials" in text_of(app)
        assert kept(app) == [("left", (51.0, 51.2))]


async def test_what_is_typed_and_not_entered_is_asked_about(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"10.2", "escape")
        await shown(pilot)
        assert "10.2 is typed and not entered: enter takes it, esc again leaves it." in text_of(app)
        await pilot.press("escape")
        await shown(pilot)
        assert isinstance(app.screen, TrialsScreen)
        await unhurried(pilot, "escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert app.kept == []


async def test_perhaps_swapped_is_asked_large_and_one_key_swaps(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "4.8 4.9 4.7", "10.2 10.3 10.1")
        assert word(app) == "SWAPPED"
        assert "* swap them" in text_of(app)
        await pilot.press("asterisk")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert sorted(kept(app)) == [("left", (10.2, 10.3, 10.1)), ("right", (4.8, 4.9, 4.7))]


@pytest.mark.parametrize("key", ["f6", "escape"])
async def test_fewer_trials_that_seem_swapped_are_asked_about_before_they_are_kept(
    tmp_path: Path, key: str
) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "4.5")
        await pilot.press("asterisk")
        await type_in(pilot, "8.5")
        await pilot.press(key)
        await shown(pilot)
        assert isinstance(app.screen, TrialsScreen)
        assert word(app) == "SWAPPED"
        assert kept(app) == []
        await pilot.press(key)
        await shown(pilot)
        assert kept(app) == [], "a second tap is no answer"
        await unhurried(pilot, key)
        await shown(pilot)
        assert sorted(kept(app)) == [("left", (4.5,)), ("right", (8.5,))]


async def test_or_they_are_swapped_before_they_are_kept(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "4.5")
        await pilot.press("asterisk")
        await type_in(pilot, "8.5")
        await pilot.press("f6", "asterisk")
        await shown(pilot)
        await pilot.press("escape")
        await shown(pilot)
        assert sorted(kept(app)) == [("left", (8.5,)), ("right", (4.5,))]


async def test_or_enter_keeps_the_sides(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "4.8 4.9 4.7", "10.2 10.3 10.1")
        await pilot.press("enter")
        await shown(pilot)
        assert isinstance(app.screen, TrialsScreen), "a second tap is no answer"
        assert word(app) == "SWAPPED"
        await unhurried(pilot, "enter")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert kept(app) == [("left", (4.8, 4.9, 4.7)), ("right", (10.2, 10.3, 10.1))]


async def test_the_retest_shows_its_own_values_only_and_then_what_it_came_to(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_in(pilot, "13.71 13.72 13.73", "6.31 6.32 6.33")
        app.open(commands.TRIALS, visit=app.visit_id, measure="lunge")
        await shown(pilot)
        assert "lunge, re-test" in text_of(app)
        await type_in(pilot, "13.8 13.9 13.7")
        text = text_of(app)
        assert "13.8  13.9  13.7" in text
        assert not any(secret in text for secret in ("13.71", "6.3", "7.4"))
        await type_in(pilot, "8.91 8.92 8.93")
        assert "saved lunge left 13.8, right 8.9 cm: right +2.6, clear gain" in text_of(app)
        assert [one.blind for one in app.kept] == [False, False, True, True]


async def test_a_single_measure_has_its_name_and_its_question_instead_of_a_side(tmp_path: Path) -> None:
    app = stage(tmp_path, "pain_now")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert word(app) == "PAIN NOW"
        assert "Pain now, 0 for none to 10" in text_of(app)
        await type_in(pilot, "3")
        assert isinstance(app.screen, VisitScreen)
        assert "saved pain now 3" in text_of(app)


async def test_f6_goes_on_as_one_line_with_the_measure_typed(tmp_path: Path) -> None:
    app = stage(tmp_path, "girth")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("f6")
        await shown(pilot)
        assert app.opened[-1] == (commands.LINE, {"visit": app.visit_id, "text": "girth "})


async def test_a_measure_that_this_copy_lacks_says_so(tmp_path: Path) -> None:
    app = stage(tmp_path, "moon_phase")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "does not know the measure moon_phase" in text_of(app)
        await pilot.press("escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)


async def test_a_visit_that_ended_meanwhile_saves_nothing_and_lets_go(tmp_path: Path) -> None:
    app = stage(tmp_path, "girth")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        visits.end_visit(app.care, app.care.visit(app.visit_id))
        await type_in(pilot, "51 51 51")
        assert "this visit has ended" in text_of(app)
        assert app.screen.query_one(Input).value == ""
        await pilot.press("escape")
        await shown(pilot)
        assert "Not saved, esc again leaves without it: this visit has ended" in text_of(app)
        await unhurried(pilot, "escape")
        await shown(pilot)
        assert isinstance(app.screen, VisitScreen)
        assert app.kept == []


async def test_closing_the_program_keeps_the_trials_that_are_in(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await type_in(pilot, "10.2", "10.4")
        app.screen.action_do("quit")  # type: ignore[attr-defined]  # a keyed screen has it
        await shown(pilot)
    assert kept(app) == [("left", (10.2, 10.4))]


async def test_a_minus_behind_a_typed_value_takes_no_trial_back(tmp_path: Path) -> None:
    app = stage(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await type_in(pilot, "10.2")
        await pilot.press("1", "0", "minus")
        await shown(pilot)
        assert "trial 2 of 3" in text_of(app)
        assert "takes a trial back" in text_of(app)
