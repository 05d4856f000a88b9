"""The running screen by its keys: planned after a question, told, judged next day, taken back, timed."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input

from store.care import run_acts, stages
from store.care.care import open_care
from store.care.people import close_episode
from store.care.running import RunStanding, running_standing
from store.care.standing import standing
from store.care.timing import begin
from store.care.visits import open_visit, start_visit
from store.knowledge.criteria import Stage
from store.record import runs
from tests.care.begun import walked
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.screens.bout import BoutScreen
from tui.screens.criteria import CriteriaScreen
from tui.screens.episode import EpisodeScreen
from tui.screens.running import RunningScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands

SIZES = [(80, 24), (120, 40)]


class Room(Ward):
    """R.K.'s running."""

    def open(self, name: str, **arguments: object) -> None:
        BothFeetApp.open(self, name, **arguments)  # also the timer, which the theatre only notes

    @property
    def ankle(self) -> str:
        return self.episodes["R.K."].id

    @property
    def held(self) -> RunStanding:
        return running_standing(self.care, self.ankle)

    @property
    def has_plan(self) -> bool:
        return self.held.plan is not None

    def decided(self) -> None:
        stages.decide(self.care, standing(self.care, self.ankle), Stage.JOG, "walks well")

    def planned(self, line: str = "mon wed fri") -> None:
        self.decided()
        run_acts.plan(self.care, self.ankle, line)


def shows(app: Room, screen: type[object]) -> bool:
    return isinstance(app.screen, screen)


@pytest.fixture
def app(tmp_path: Path) -> Room:
    return Room(tmp_path)


@pytest.mark.parametrize("size", SIZES)
async def test_r_opens_it_and_an_empty_plan_says_what_to_do(app: Room, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        app.open(commands.EPISODE, episode=app.ankle)
        await pilot.pause()
        await pilot.press("r")
        await pilot.pause()
        assert shows(app, RunningScreen)
        shown = text_of(app)
        assert "No running is planned yet: e plans it, such as mon wed fri from 9 dec." in shown
        assert "local protocol comes first." in shown
        assert "! jog not decided" not in shown
        assert "The stage jog is not decided for this ankle" in shown
        assert misfits(app) == []
        await pilot.press("space")
        await pilot.pause()
        assert "No running is planned yet: e plans it first." in text_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert shows(app, EpisodeScreen)


@pytest.mark.parametrize("size", SIZES)
async def test_it_is_planned_after_a_question_told_and_taken_back(app: Room, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("e")
        await pilot.pause()
        assert misfits(app) == []
        await write(pilot, "mon wed fri", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert "Enter again plans it all the same." in " ".join(text_of(app).split())
        assert not app.has_plan, "a second tap is no answer"
        await unhurried(pilot, "enter")
        await pilot.pause()
        assert "✓ planned: next Wed 25 Nov, 1:4x5" in text_of(app)
        assert misfits(app) == []
        assert "! the stage jog is not decided: look at the criteria (c), decide it there (k)" in text_of(app)
        assert "! planned from 25 Nov on, and ready to jog not before 12 Dec by girth, lunge" in text_of(app)
        await pilot.press("space")
        assert app.screen.query_one("#went", Input).value == "1:4x5 "
        await write(pilot, "pain 1 swelling no", "enter")
        await pilot.pause()
        shown = text_of(app)
        assert "○1:4x5" in shown
        assert "last run Wed 25 Nov, 1:4x5, pain 1 during, no swelling: waiting for tomorrow" in shown
        assert "next Fri 27 Nov, 1:4x5" in shown
        assert "30 continuous 1 Jan 2027 if all are clean" in shown
        assert misfits(app) == []
        await pilot.press("u")
        await pilot.pause()
        assert "no session was told yet" in text_of(app)
        await pilot.press("u")
        await pilot.pause()
        assert not app.has_plan
        assert "No running is planned yet" in text_of(app)


async def test_another_line_than_the_one_asked_about_is_asked_for_anew(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("e")
        await write(pilot, "mon", "enter")
        await pilot.pause()
        await write(pilot, " thu", "enter")
        await pilot.pause()
        assert not app.has_plan
        await unhurried(pilot, "enter")
        await pilot.pause()
        plan = app.held.plan
        assert plan is not None
        assert plan.weekdays == ("mon", "thu")


async def test_next_day_the_same_key_asks_for_the_morning(app: Room) -> None:
    app.planned()
    run_acts.tell(app.care, app.ankle, "pain 0 swelling no")
    app.set_clock.move(86_400)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        assert "space next morning" in text_of(app)
        assert "waiting: next morning not told" in " ".join(text_of(app).split())
        await pilot.press("space")
        assert app.screen.query_one("#went", Input).value == "morning "
        await write(pilot, "0", "enter")
        await pilot.pause()
        assert "✓1:4x5" in text_of(app)
        assert "rung 1 of 9, 1 of 2 clean" in text_of(app)


async def test_what_cannot_be_read_keeps_the_line(app: Room) -> None:
    app.planned()
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("space")
        await write(pilot, "pain 12", "enter")
        await pilot.pause()
        assert "pain is a whole number from 0 to 10" in text_of(app)
        assert app.screen.query_one("#went", Input).value == "1:4x5 pain 12"
        await pilot.press("escape")
        await pilot.pause()
        assert shows(app, RunningScreen)
        assert app.held.last is None


@pytest.mark.parametrize("size", SIZES)
async def test_i_tells_rule_and_sources_and_the_same_key_shows_the_plan(app: Room, size: tuple[int, int]) -> None:
    app.planned()
    async with app.run_test(size=size) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("i")
        await pilot.pause()
        assert "the ladder" in text_of(app)
        assert "common practice; no source" in text_of(app)
        assert misfits(app) == []
        seen = text_of(app)
        for _ in range(6):
            await pilot.press("pagedown")
            await pilot.pause()
            seen += text_of(app)
        assert "Frandsen and others 2025" in seen
        assert "Trials s13063-023-07502-x" in " ".join(seen.split())
        await pilot.press("i")
        await pilot.pause()
        assert "w1 23 Nov" in text_of(app)


async def test_the_timer_runs_the_rung_of_the_next_session(app: Room) -> None:
    app.planned("rung 3 wed fri")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("t")
        await pilot.pause()
        if shows(app, RunningScreen):  # what stands against loading was asked first
            await pilot.press("t")
            await pilot.pause()
        screen = app.screen
        assert isinstance(screen, BoutScreen)
        await screen.settled()
        await pilot.pause()
        shown = " ".join(text_of(app).split())
        assert "walk 2 min" in shown
        assert "run 3 min" in shown
        assert screen.found is not None
        assert screen.found.activity.dose.says == "rung 3 of 9, nine rungs: 3:2x5"
        assert open_visit(app.care, app.episodes["R.K."]) is not None


@pytest.mark.parametrize("size", SIZES)
async def test_what_the_timer_knows_of_a_run_stands_in_its_line(app: Room, size: tuple[int, int]) -> None:
    app.planned("rung 3 wed fri")
    visit = start_visit(app.care, app.episodes["R.K."])
    live = walked(begin(app.care, run_acts.rung_activity(app.care, app.held), visit), app.set_clock, 700)
    live.pain(2)
    live.end()
    async with app.run_test(size=size) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("space")
        known = '3:2x5 6 min pain 2 note "stopped early, 2 of 5 runs" '
        assert app.screen.query_one("#went", Input).value == known
        assert known in text_of(app)
        assert "As the timer kept it" in text_of(app)
        assert misfits(app) == []
        assert not app.held.judged
        await write(pilot, "swelling no", "enter")
        await pilot.pause()
        told = " ".join(text_of(app).split())
        assert (
            "3:2x5, 6 min run, pain 2 during, no swelling, stopped early, 2 of 5 runs: waiting for tomorrow"
            in told
        )
        assert app.held.last is not None
        assert app.held.last[0].minutes == 6


async def test_a_rung_by_distance_has_no_timer_and_says_so(app: Room) -> None:
    app.planned("soldiers wed fri")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("t")
        await pilot.pause()
        assert "3:2 1.6 km goes by distance" in text_of(app)


async def test_c_leads_to_the_decision_and_back(app: Room) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.press("c")
        await pilot.pause()
        assert shows(app, CriteriaScreen)
        app.decided()
        await pilot.press("escape")
        await pilot.pause()
        assert "is not decided" not in text_of(app)


async def test_a_bad_reaction_stands_out_in_a_word_and_a_sign(app: Room) -> None:
    app.planned("rung 2 mon wed fri")
    run_acts.tell(app.care, app.ankle, "pain 7 swelling yes")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        shown = text_of(app)
        assert "!2:3x5" in shown
        assert "bad reaction: pain 7 during, above 5" in " ".join(shown.split())
        assert "rung 1 of 9, 0 of 2 clean" in shown


async def test_a_session_left_out_is_marked_and_the_plan_says_what_to_do(app: Room) -> None:
    app.planned()
    app.set_clock.move(86_400)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        assert "?1:4x5" in text_of(app)
        assert "! Wed 25 Nov was planned and not told: tell it, or plan on (e)" in text_of(app)
        assert misfits(app) == []


async def test_many_weeks_begin_with_the_one_before_this_and_can_be_read(app: Room) -> None:
    app.planned()
    app.set_clock.move(70 * 86_400)
    run_acts.plan(app.care, app.ankle, "mon wed fri")
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        await pilot.pause()
        assert "w1 23 Nov" not in text_of(app)
        assert "1 Feb" in text_of(app)
        assert misfits(app) == []
        for _ in range(3):
            await pilot.press("pageup")
        await pilot.pause()
        assert "w1 23 Nov" in text_of(app)


async def test_another_window_s_session_is_seen(app: Room) -> None:
    app.planned()
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        other = open_care(app.care.record.path, app.set_clock, examiner="CD")
        run_acts.tell(other, app.ankle, "pain 0 swelling no")
        other.close()
        screen = app.screen
        assert isinstance(screen, RunningScreen)
        screen.tick()
        await pilot.pause()
        assert "○1:4x5" in text_of(app)
        assert "Another window changed the record" in text_of(app)


async def test_in_a_closed_episode_it_is_read_only_and_says_why(app: Room) -> None:
    app.planned()
    close_episode(app.care, app.care.episode(app.ankle))
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.RUNNING, episode=app.ankle)
        await pilot.pause()
        assert "w1 23 Nov" in text_of(app)
        await pilot.press("e")
        await pilot.pause()
        assert "Closed on 25 Nov 2026: open it again to plan or tell of running." in text_of(app)
        assert runs.last_plan(app.care.record, app.ankle) is not None


async def test_it_opens_beside_a_visit_and_what_was_run_since_stands_there(app: Room) -> None:
    app.planned()
    run_acts.tell(app.care, app.ankle, "pain 0 swelling no")
    app.set_clock.move(2 * 86_400)
    visit = start_visit(app.care, app.episodes["R.K."])
    async with app.run_test(size=(120, 40)) as pilot:
        app.open(commands.VISIT, visit=visit.id)
        await pilot.pause()
        await pilot.press("escape")  # out of what the person says
        await pilot.pause()
        if not shows(app, VisitScreen):
            app.open(commands.VISIT, visit=visit.id)
            await pilot.pause()
        assert "ran Wed 25 Nov  1:4x5, waiting" in text_of(app)
        app.screen.set_focus(None)
        await pilot.press("r")
        await pilot.pause()
        assert shows(app, RunningScreen)
