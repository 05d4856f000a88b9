"""Practice by its keys: an assessment walked and told, a person on paper, one's own error, and nothing lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.care import practising
from store.knowledge.tries import PracticeTry, TryKind
from store.record.faults import FaultKind, RecordFault
from store.record.tries import tries_of
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.helpers.unhurried import unhurried
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.screens.caseload import CaseloadScreen
from tui.screens.drill import DrillScreen
from tui.screens.practice import PracticeScreen
from tui.screens.walk_through import WalkScreen
from tui.widgets import commands

SIZES = [(80, 24), (120, 40)]


class School(Ward):
    """The ward with its screens of practice real."""

    def open(self, name: str, **arguments: object) -> None:
        BothFeetApp.open(self, name, **arguments)


@pytest.fixture
def app(tmp_path: Path) -> School:
    return School(tmp_path)


def kept(app: School) -> PracticeTry:
    return tries_of(app.care.record, app.care.examiner)[0]


def on_top(app: School) -> type[object]:
    return type(app.screen)


def tick(app: School) -> None:
    """Paint the seconds, as the interval does."""
    screen = app.screen
    assert isinstance(screen, WalkScreen)
    screen._tick()


async def at(app: School, pilot: Pilot[None], name: str, ref: str) -> None:
    app.open(name, ref=ref)
    await pilot.pause()


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_the_list_is_narrowed_and_opens_what_is_chosen(app: School, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await pilot.press("f4")
        await pilot.pause()
        assert on_top(app) is PracticeScreen
        assert "an assessment in order and time" in text_of(app)
        assert misfits(app) == []
        await write(pilot, "gir")
        await pilot.press("enter")
        await pilot.pause()
        assert on_top(app) is DrillScreen
        assert "your own error, girth" in text_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert on_top(app) is PracticeScreen
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert on_top(app) is CaseloadScreen


async def test_a_name_of_nothing_says_so(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("f4")
        await pilot.pause()
        await write(pilot, "zebra")
        await pilot.pause()
        assert "Nothing to practise is called zebra." in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "Nothing to practise is called zebra." in text_of(app)


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_an_assessment_is_walked_told_and_kept(app: School, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await at(app, pilot, commands.WALK, "whole")
        assert "hands cleaned" not in text_of(app)  # the steps are told at the end only
        await pilot.press("space")
        app.set_clock.move(70)
        tick(app)
        await pilot.pause()
        assert "0:10 over" in text_of(app)
        await pilot.press("space")
        await pilot.pause()
        assert "took 1:10" in text_of(app)
        assert "1:30 left" in text_of(app)
        assert misfits(app) == []
        await pilot.press("u")
        await pilot.pause()
        assert "took 1:10" not in text_of(app)
        await pilot.press("space", "x")
        await pilot.pause()
        assert "hands cleaned" in text_of(app)
        await unhurried(pilot, *"yynuy")
        await pilot.pause()
        assert text_of(app).count("left out") == 1  # in the key line: the slip was taken back
        assert misfits(app) == []
        await pilot.press("enter")
        await pilot.pause()
        assert "begin 1:10 of 1:00, 0:10 over" in " ".join((await told(app, pilot)).split())
        one = kept(app)
        assert one.ended is not None
        assert one.data["done"] == ["greet", "hands", "consent"]
        assert "pulse" in one.data["left_out"]
        assert one.data["block_s"] == [70.0]


async def told(app: School, pilot: Pilot[None]) -> str:
    """All of the page, however long."""
    found = text_of(app)
    for _ in range(6):
        await pilot.press("pagedown")
        await pilot.pause()
        found += "\n" + text_of(app)
    return found


async def test_the_bell_rings_once_when_a_block_is_over(app: School, monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[float] = []
    monkeypatch.setattr(app, "bell", lambda: rung.append(app.clock.ticks()))
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.WALK, "short")
        await pilot.press("space")
        for second in (19, 1, 1, 5):
            app.set_clock.move(second)
            tick(app)
        assert len(rung) == 1
        await pilot.press("space")
        app.set_clock.move(61)
        tick(app)
        assert len(rung) == 2


async def test_a_walk_that_is_left_is_kept_as_far_as_it_came(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.WALK, "short")
        await pilot.press("space")
        app.set_clock.move(12)
        await pilot.press("space")
        await unhurried(pilot, "escape", "escape")
        await pilot.pause()
        assert on_top(app) is CaseloadScreen
        assert kept(app).data["block_s"] == [12.0]
        assert kept(app).ended is None


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_person_on_paper_tells_only_what_is_asked(app: School, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await at(app, pilot, commands.CASE, "lunge")
        assert "A fencer of 24" in text_of(app)
        assert "outer border of the foot" not in text_of(app).split("She limps in")[1].split("found")[1]
        await pilot.press("enter")
        await pilot.pause()
        assert "the outer border of the foot" in text_of(app)
        assert "sore on the bone" not in text_of(app)
        assert misfits(app) == []
        await pilot.press("k")
        await pilot.pause()
        assert "films first, by the fracture rule" in text_of(app)
        await pilot.press("escape")  # not yet
        await pilot.press("k", "down", "down", "enter")
        await pilot.pause()
        assert "films first, by the fracture rule: the same" in text_of(app)
        assert "sore on the bone" in text_of(app)
        assert misfits(app) == []
        one = kept(app)
        assert (one.kind, one.data) == (TryKind.CASE, {"asked": ["sore"], "outcome": "films"})
        await pilot.press("enter")
        await pilot.pause()
        assert "It is decided" in text_of(app)


async def test_a_person_on_paper_who_was_left_goes_on(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.CASE, "lunge")
        await pilot.press("enter", "escape")
        await pilot.pause()
        await at(app, pilot, commands.CASE, "lunge")
        assert "goes on where it was" in text_of(app)
        assert "1 asked" in text_of(app)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert kept(app).data == {"asked": ["sore", "how"]}
        assert len(tries_of(app.care.record, app.care.examiner)) == 1


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_drill_shows_no_value_before_its_end(app: School, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await at(app, pilot, commands.DRILL, "lunge")
        await write(pilot, "2 x 2")
        await pilot.press("enter")
        await pilot.pause()
        assert "round 1 of 2" in text_of(app)
        for value in ("10.2", "4,8", "10.0"):
            await write(pilot, value)
            await pilot.press("enter")
            await pilot.pause()
        assert "round 2 of 2" in text_of(app)
        assert not {"10.2", "4.8", "4,8", "10.0"} & set(text_of(app).split())
        assert misfits(app) == []
        await write(pilot, "5.2")
        await pilot.press("enter")
        await pilot.pause()
        assert "ICC(2,1)" in text_of(app)
        assert misfits(app) == []
        assert kept(app).data["values"] == [10.2, 4.8, 10.0, 5.2]
        assert kept(app).ended is not None


async def test_a_slip_in_a_drill_is_taken_back_and_it_ends_early_on_whole_rounds(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.DRILL, "lunge")
        await write(pilot, "2 x 3")
        await pilot.press("enter", *"10.2", "enter", "x")
        await pilot.pause()
        assert "Two whole rounds are wanted" in text_of(app)
        await pilot.press("u")
        await pilot.pause()
        assert "took the last value back: ankle 1 again" in text_of(app)
        for value in ("10.2", "4.8", "10.0", "5.2", "9.9"):
            await pilot.press(*value, "enter")
        await pilot.press("x")
        await pilot.pause()
        assert "of 2 ankles measured 2 times" in text_of(app)


async def test_a_value_that_cannot_be_stays_in_the_field(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.DRILL, "lunge")
        await pilot.press(*"nine", "enter")
        await pilot.pause()
        assert "type how many ankles, how often: 8 x 2" in text_of(app)
        screen = app.screen
        assert isinstance(screen, DrillScreen)
        assert screen.field.value == "nine"
        screen.field.value = ""
        await pilot.press("enter", *"99", "enter")
        await pilot.pause()
        assert screen.field.value == "99"
        assert kept(app).data["values"] == []
        screen.field.value = ""
        await pilot.press(*"24", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert "Is it right? Enter again keeps it." in text_of(app)
        assert kept(app).data["values"] == [], "a second tap is no answer"
        await unhurried(pilot, "enter")
        await pilot.pause()
        assert kept(app).data["values"] == [24.0]
        assert "Enter again" not in text_of(app), "what was said of a value that is taken is over"


async def test_all_of_the_protocol_can_be_read_before_a_drill_begins(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.DRILL, "lunge")
        last = " ".join(app.care.knowledge.measures["lunge"].steps[-1].split()[-4:])
        assert last not in " ".join(text_of(app).split())
        assert "PgDn PgUp read on" in text_of(app)
        for _ in range(4):
            await pilot.press("pagedown")
            await pilot.pause()
        assert last in " ".join(text_of(app).split())


async def test_a_drill_that_was_left_goes_on(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.DRILL, "lunge")
        await pilot.press(*"2", "enter", *"10.2", "enter", "escape")
        await pilot.pause()
        await at(app, pilot, commands.DRILL, "lunge")
        assert "goes on where it was" in text_of(app)
        assert "of 2" in text_of(app)
        await pilot.press(*"4.8", "enter")
        await pilot.pause()
        assert kept(app).data["values"] == [10.2, 4.8]
        assert len(tries_of(app.care.record, app.care.examiner)) == 1


async def test_a_held_pedal_is_one_block_and_a_held_y_one_answer(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.WALK, "whole")
        await pilot.press("space")
        app.set_clock.move(60)
        for _ in range(4):
            await pilot.press("space")
            app.set_clock.move(0.05)
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, WalkScreen)
        assert screen.walk is not None
        assert len(screen.walk.ended_s) == 1
        await unhurried(pilot, "x")
        for _ in range(4):
            await pilot.press("y")
            app.set_clock.move(0.03)
        await pilot.pause()
        assert screen.answers == {"greet": True}
        assert "Held keys are not answers" in text_of(app)


async def test_escape_in_the_middle_asks_before_it_drops_the_answers(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.WALK, "short")
        await pilot.press("space")
        await unhurried(pilot, "escape")
        await pilot.pause()
        assert on_top(app) is WalkScreen
        assert "esc again leaves" in text_of(app)
        await unhurried(pilot, "x", *"ynyu", "escape")
        await pilot.pause()
        assert on_top(app) is WalkScreen
        await unhurried(pilot, "enter")
        await pilot.pause()
        assert kept(app).data["done"] == ["greet"]
        await pilot.press("escape")
        await pilot.pause()
        assert on_top(app) is not WalkScreen, "what is told is kept, and nothing is asked"


async def test_an_answer_that_is_given_anew_is_taken_back_to_the_one_before(app: School) -> None:
    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.WALK, "short")
        await pilot.press("space")
        await unhurried(pilot, "x", "y", "up", "n", "u")
        screen = app.screen
        assert isinstance(screen, WalkScreen)
        assert screen.answers == {"greet": True}


async def test_a_walk_begun_on_a_locked_file_is_kept_whole_once_it_is_free(
    app: School, monkeypatch: pytest.MonkeyPatch
) -> None:
    def locked(*_: object) -> PracticeTry:
        raise RecordFault(FaultKind.LOCKED, "The file is locked by another program.")

    async with app.run_test(size=SIZES[0]) as pilot:
        await at(app, pilot, commands.WALK, "short")
        with monkeypatch.context() as patched:
            patched.setattr(practising, "begin", locked)
            await pilot.press("space")
            await pilot.pause()
            assert "locked by another program" in text_of(app)
        await unhurried(pilot, "x", "y", "enter")
        await pilot.pause()
        one = kept(app)
        assert one.ended is not None
        assert one.data["done"] == ["greet"]
