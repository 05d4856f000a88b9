from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import visits
from store.care.measuring import read_line, save, subject_of
from store.care.timing import begin
from store.knowledge.words import Moment
from tests.care.begun import walked
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.made import BRUSSELS
from tests.screens.visit_stage import VisitStage, staged
from tui.screens.papers import PapersScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet
from tui.widgets.plan_list import PlanList, Stand

LUNGES = ("lunge l 13.71 13.72 13.73 r 6.31 6.32 6.33", "lunge l 13.71 13.72 13.73 r 8.91 8.92 8.93")


@pytest.fixture
def app(tmp_path: Path) -> VisitStage:
    return staged(tmp_path)


def take(app: VisitStage, line: str) -> None:
    subject = subject_of(app.care, app.care.visit(app.visit_id))
    save(app.care, subject, read_line(app.care, subject, line))


def line_of(app: VisitStage, name: str) -> str:
    """The row of the plan that names this, as it is painted."""
    return next(row for row in text_of(app).splitlines() if name in row)


def screen_of(app: VisitStage) -> VisitScreen:
    assert isinstance(app.screen, VisitScreen)
    return app.screen


def at_cursor(app: VisitStage) -> str:
    chosen = app.screen.query_one(PlanList).chosen
    return chosen.name if chosen else ""


async def shown(pilot: Pilot[None]) -> None:
    await pilot.pause()
    await pilot.pause()


def test_every_command_of_the_screen_has_its_method() -> None:
    assert unmet(VisitScreen) == []


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_it_fits(app: VisitStage, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await shown(pilot)
        assert misfits(app) == []
        await pilot.press("space")
        await shown(pilot)
        assert misfits(app) == []
        assert "consent" in text_of(app)


async def test_the_plan_stands_with_its_minutes_and_greyed_steps_say_why(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        text = text_of(app)
        assert "R.K.  right ankle ▶" in text
        assert "visit 0:00 of 30" in text
        assert "▸   what has changed" in text
        assert "3 trials a side  4 min" in text
        assert "last visit, 2 days ago" in text
        assert "note                draft ready" in text
        for _ in range(8):
            await pilot.press("down")
        await pilot.press("space")
        assert isinstance(app.screen, PapersScreen)


async def test_what_has_changed_is_typed_with_space_between_and_consent_saves(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space", *"2", "space", *"4", "space", *"1", "space", "space", *"0", "space")
        await pilot.press(*"5", "space", *"7", "space", *"6", "space", "y")
        await shown(pilot)
        text = text_of(app)
        assert "✓ saved what has changed   u undo" in text
        assert "✓ what has changed" in text
        assert "home 5 of 7 days  consent yes" in text
        assert "pain now 2  worst 4" in text
        assert at_cursor(app) == "safety re-asked"
        values = {one.measure: one.value for one in app.kept}
        assert values == {"pain_now": 2, "pain_worst": 4, "pain_morning": 1, "confidence": 6}
        kept = app.care.visit(app.visit_id)
        assert (kept.gave_way, kept.home_done, kept.home_planned) == (0, 5, 7)
        assert kept.consent is not None


async def test_the_same_can_be_typed_as_one_line(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space", *"worst", "space", *"4", "space", *"home", "space", *"5/7", "enter")
        await shown(pilot)
        assert app.view.said == {"worst": "4", "home": "5/7"}


async def test_an_error_is_told_at_its_field_and_the_text_is_kept(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space", *"12", "space")
        await shown(pilot)
        assert "12: pain now goes from 0 to 10" in text_of(app)
        assert "12" in line_of(app, "next morning")
        await pilot.press("backspace", "space", *"3", "space")
        await pilot.press("escape")
        await shown(pilot)
        assert "Not saved yet: space comes back to what was typed." in text_of(app)
        assert app.kept == []
        await pilot.press("space")
        await shown(pilot)
        assert line_of(app, "next morning").split()[2] == "1"


async def test_what_is_unusual_wants_sending_twice(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space", *"home", "space", *"9/7", "enter")
        await shown(pilot)
        assert "more done than planned" in text_of(app)
        await pilot.press("enter")
        await shown(pilot)
        assert app.view.said == {}, "a second tap is no answer"
        assert "more done than planned" in text_of(app)
        await unhurried(pilot, "enter")
        await shown(pilot)
        assert app.view.said == {"home": "9/7"}


async def test_refused_consent_is_flagged_in_the_head(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space", *"2", *["space"] * 7, "n")
        await shown(pilot)
        assert "! no consent today" in text_of(app).splitlines()[1]


async def test_said_again_shows_what_was_said_and_saves_only_what_changed(app: VisitStage) -> None:
    visits.said(app.care, app.care.visit(app.visit_id), "pain 2 worst 4")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("up", "up", "enter")
        await shown(pilot)
        assert line_of(app, "next morning").split()[:4] == ["pain", "now", "2", "worst"]
        await pilot.press(*"3", "space", "down", "enter", "enter", "enter")
        await shown(pilot)
        assert app.view.said == {"pain": "3", "worst": "4"}
        assert app.care.visit(app.visit_id).said == "pain 2 worst 4; pain 3"


async def test_space_walks_each_kind_of_step(app: VisitStage) -> None:
    visits.said(app.care, app.care.visit(app.visit_id), "pain 2")
    app.noted |= {commands.TRIALS}
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("space")
        assert app.opened[-1] == (commands.SAFETY_AGAIN, {"visit": app.visit_id})
        await pilot.press("space")
        await shown(pilot)
        await pilot.press("space")
        assert app.opened[-1] == (
            commands.TRIALS,
            {"visit": app.visit_id, "measure": "lunge", "moment": Moment.BEFORE},
        )
        await pilot.press("down", "space")
        assert app.opened[-1] == (commands.BOUT, {"visit": app.visit_id, "activity": "mobilisation_belt"})
        await pilot.press("down", "space")
        assert app.opened[-1][1]["moment"] is Moment.AFTER
        await pilot.press("m")
        assert app.opened[-1] == (commands.LINE, {"visit": app.visit_id})


async def test_a_bout_left_paused_comes_first(app: VisitStage) -> None:
    live = begin(app.care, app.care.knowledge.activities["mobilisation_belt"], app.care.visit(app.visit_id))
    live.press()
    for _ in range(80):
        app.set_clock.move(1)
        live.tick()
    live.leave()
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "▸ ! mobilisation, belt kept paused at set 2" in text_of(app)
        assert "space go on" in text_of(app)
        await pilot.press("space")
        assert app.opened[-1] == (commands.BOUT, {"visit": app.visit_id, "bout": live.row.id})


async def test_blind_until_the_retest_is_in_then_everything(app: VisitStage) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        take(app, LUNGES[0])
        screen_of(app).on_screen_resume()
        await shown(pilot)
        text = text_of(app)
        assert not any(secret in text for secret in ("13.7", "6.3", "7.4"))
        assert "before hidden hidden" in " ".join(text.split())
        assert "4.8" in text  # last visit's figures may be seen
        take(app, LUNGES[1])
        screen_of(app).on_screen_resume()
        await shown(pilot)
        text = text_of(app)
        assert "before 13.7 6.3" in " ".join(text.split())
        assert "re-test 13.7 8.9" in " ".join(text.split())
        assert "right +2.6 ▲ clear gain" in text
        assert "within a visit" in text


async def test_the_minutes_run_and_ask_to_drop_a_step(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        screen = screen_of(app)
        app.set_clock.move(5 * 60 + 40)
        screen.tick()
        await shown(pilot)
        head = text_of(app).splitlines()[0]
        assert "visit 5:40 of 30   over by 2 min: drop direction shifts" in head
        assert line_of(app, "direction shifts  ").split()[-1] != "min"
        assert "drop?" in line_of(app, "60 s, right")
        app.set_clock.put(app.set_clock.now().local.replace(tzinfo=BRUSSELS) - timedelta(hours=2))
        screen.tick()
        await shown(pilot)
        assert "visit 5:40 of 30" in text_of(app)


async def test_d_leaves_a_step_out_and_takes_it_back_in(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press(*["down"] * 6, "d")
        await shown(pilot)
        assert "direction shifts: skipped today, d takes it back in" in text_of(app)
        assert "- direction shifts    skipped today" in text_of(app)
        assert at_cursor(app) == "direction shifts"
        await pilot.press("d")
        await shown(pilot)
        assert "60 s, right" in text_of(app)
        assert at_cursor(app) == "direction shifts"


async def test_u_takes_back_what_d_did_last_and_goes_to_it(app: VisitStage) -> None:
    take(app, "girth l 51 r 52.5")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press(*["down"] * 6, "d", "up", "u")
        await shown(pilot)
        assert "took back that direction shifts was left out" in text_of(app)
        assert "60 s, right" in text_of(app)
        assert at_cursor(app) == "direction shifts"
        assert len(app.kept) == 2


async def test_u_leaves_the_cursor_where_it_is(app: VisitStage) -> None:
    take(app, "girth l 51 r 52.5")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("down", "down", "down", "down", "down", "down", "down")
        was = at_cursor(app)
        await pilot.press("u")
        await shown(pilot)
        assert at_cursor(app) == was == "home programme"


async def test_u_goes_to_the_step_that_waits_again(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("down", "down", "space")
        await shown(pilot)
        await pilot.press(*"10 10 10", "enter", *"5 5 5", "enter")
        await shown(pilot)
        assert at_cursor(app) == "mobilisation, belt"
        await pilot.press("u")
        await shown(pilot)
        assert "took back lunge right" in text_of(app)
        assert at_cursor(app) == "lunge"


async def test_a_message_goes_with_the_next_act(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("down", "down", "d")
        await shown(pilot)
        assert "lunge: skipped today" in text_of(app)
        await pilot.press("down")
        await shown(pilot)
        assert "lunge: skipped today" not in text_of(app)
        await pilot.press("d", "g", "escape")
        await shown(pilot)
        assert "skipped today, d takes" not in text_of(app)


async def test_u_takes_back_what_was_saved_last(app: VisitStage) -> None:
    take(app, "girth l 51 r 52.5")
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        assert "girth, cm" in text_of(app)
        await pilot.press("u")
        await shown(pilot)
        assert "took back girth left 51.0, right 52.5 cm" in text_of(app)
        assert "girth, cm" not in text_of(app)
        await pilot.press("u")
        await shown(pilot)
        assert "nothing to undo in this visit" in text_of(app)


async def test_u_opens_a_bout_again_paused_and_then_takes_back_all_of_it(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        care = app.care
        live = begin(care, care.knowledge.activities["hold_firm"], care.visit(app.visit_id))
        walked(live, app.set_clock, 15).end()
        await pilot.press("u")
        await shown(pilot)
        text = " ".join(text_of(app).split())
        assert "opened again, paused: single-leg hold, left 1 hold" in text
        assert "u again takes back all of this bout" in text
        chosen = app.screen.query_one(PlanList).chosen
        assert chosen is not None
        assert (chosen.key, chosen.stand) == (live.row.id, Stand.PAUSED)
        await pilot.press("u")
        await shown(pilot)
        assert "took back this bout, single-leg hold, left 1 hold" in " ".join(text_of(app).split())
        assert app.view.unfinished == ()


async def test_a_visit_that_another_window_ended_takes_nothing_more(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        visits.end_visit(app.care, app.care.visit(app.visit_id))
        screen_of(app).on_screen_resume()
        await pilot.press("m")
        await shown(pilot)
        assert "This visit has ended: u opens it again today" in text_of(app)
        assert app.opened[-1][0] == commands.VISIT


async def test_figures_open_on_the_measure_under_the_cursor(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("g")
        assert app.opened[-1] == (commands.CHART, {"episode": app.episode.id, "measure": "lunge"})
        await pilot.press("i")
        assert app.opened[-1] == (commands.SOURCE, {"episode": app.episode.id, "measure": "lunge"})


async def test_esc_goes_back_to_where_it_was_opened(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot)
        await pilot.press("escape")
        await shown(pilot)
        assert not isinstance(app.screen, VisitScreen)


async def test_space_goes_from_a_step_that_is_left_out_to_the_next_that_waits(app: VisitStage) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down", "d", "space")
        assert app.opened[-1] == (commands.BOUT, {"visit": app.visit_id, "activity": "mobilisation_belt"})
