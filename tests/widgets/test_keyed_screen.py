from __future__ import annotations

from itertools import pairwise
from typing import ClassVar

import pytest
from textual import on
from textual.widgets import Input, Static

from tests.helpers.fit import misfits, text_of
from tests.helpers.stage import Bare, Stage
from tui.widgets import commands
from tui.widgets.head_line import HeadLine, RuleLine, parts, spread
from tui.widgets.key_line import KeyLine, place
from tui.widgets.keyed_screen import KeyedScreen, unmet
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine


class OnAList(KeyedScreen[None]):
    """A screen in place of the list of people, with no method of its own."""

    WHERE = commands.CASELOAD


class Keeping(Bare):
    """A screen that x ends and space goes on with."""

    def do_end(self) -> None:
        self.done.append("end")

    def do_on(self) -> None:
        self.done.append("on")


class Timing(Keeping):
    """The same in place of the timer."""

    WHERE = commands.BOUT
    BINDINGS: ClassVar = commands.bindings(commands.BOUT)


def bare(*extra: Input) -> Bare:
    return Bare(
        HeadLine((parts(("R.K.", mark(Role.INK, bold=True))), parts("week 4"))),
        RuleLine(),
        *extra,
        MessageLine(),
        KeyLine(),
    )


async def test_a_key_runs_its_command() -> None:
    screen = bare()
    async with Stage(screen=screen).run_test(size=(80, 24)) as pilot:
        await pilot.press("m", "u", "f6")
        assert screen.done == ["measure", "undo", "measure"]


async def test_a_letter_in_a_field_is_text_and_the_function_key_still_works() -> None:
    field = Input()
    screen = bare(field)
    async with Stage(screen=screen).run_test(size=(80, 24)) as pilot:
        field.focus()
        await pilot.press("m")
        assert (field.value, screen.done) == ("m", [])
        await pilot.press("f6")
        assert screen.done == ["measure"]


async def test_the_key_line_shows_the_keys_that_work_where_the_focus_is() -> None:
    field = Input()
    screen = bare(field)
    app = Stage(screen=screen)
    async with app.run_test(size=(120, 24)) as pilot:
        screen.set_focus(None)
        await pilot.pause()
        assert "m measure" in text_of(app)
        assert "g chart" in text_of(app)
        screen.say("saved", Kind.SAVED, undo=True)
        field.focus()
        await pilot.pause()
        foot = text_of(app).splitlines()[-1]
        assert "F6 measure" in foot
        assert "chart" not in foot
        assert "saved   F9 undo" in text_of(app) or "saved   u undo" in text_of(app)
        screen.say("saved again", Kind.SAVED, undo=True)
        await pilot.pause()
        assert "saved again   F9 undo" in text_of(app)


async def test_a_command_that_cannot_run_stays_in_sight_and_says_why() -> None:
    screen = bare()
    screen.barred = {"measure": "No visit is open: press v first."}
    app = Stage(screen=screen)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("m")
        await pilot.pause()
        assert screen.done == []
        assert "No visit is open: press v first." in text_of(app)
        assert "m measure" in text_of(app)
        assert "measure" in screen.query_one(KeyLine).barred


async def test_messages_say_saved_wrong_and_undo_by_glyph_and_word() -> None:
    screen = bare()
    app = Stage(screen=screen)
    async with app.run_test(size=(80, 24)) as pilot:
        screen.say("lunge right 4.8 cm saved", Kind.SAVED, undo=True)
        await pilot.pause()
        assert "✓ lunge right 4.8 cm saved   u undo" in text_of(app)
        screen.say("'x' is no number: type a figure such as 4.8", Kind.WRONG)
        await pilot.pause()
        assert "! 'x' is no number" in text_of(app)
        assert "u undo" not in text_of(app).splitlines()[2]
        screen.query_one(MessageLine).clear()
        await pilot.pause()
        assert "no number" not in text_of(app)


async def test_square_brackets_in_a_message_are_text() -> None:
    screen = bare()
    app = Stage(screen=screen)
    async with app.run_test(size=(80, 24)) as pilot:
        screen.say("[bold red]R.K.[/] saved", Kind.SAVED)
        await pilot.pause()
        assert "[bold red]R.K.[/] saved" in text_of(app)


async def test_too_small_a_window_asks_for_more_and_changes_nothing_unseen() -> None:
    screen = bare()
    app = Stage(screen=screen)
    async with app.run_test(size=(50, 15)) as pilot:
        await pilot.pause()
        assert "Please enlarge the window" in text_of(app)
        assert "50 x 15 now, 60 x 20 at least." in text_of(app)
        assert "R.K." not in text_of(app)
        await pilot.press("m")
        assert screen.done == []
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "enlarge" not in text_of(app)
        assert "R.K." in text_of(app)
        assert misfits(app) == []


@pytest.mark.parametrize(("kind", "done"), [(Keeping, []), (Timing, ["on", "end"])])
async def test_under_the_cover_the_keys_of_the_timer_work_in_the_timer_alone(
    kind: type[Keeping], done: list[str]
) -> None:
    screen = kind(MessageLine(), KeyLine())
    async with Stage(screen=screen).run_test(size=(50, 15)) as pilot:
        await pilot.press("space", "x")
        assert screen.done == done


async def test_under_the_cover_no_field_takes_keys_and_it_has_the_focus_again_after() -> None:
    field = Input()
    entered: list[str] = []

    class Saving(Bare):
        @on(Input.Submitted)
        def _entered(self, event: Input.Submitted) -> None:
            entered.append(event.value)

    screen = Saving(field, MessageLine(), KeyLine())
    async with Stage(screen=screen).run_test(size=(80, 24)) as pilot:
        field.focus()
        field.value = "girth 51"
        await pilot.resize_terminal(50, 15)
        await pilot.pause()
        await pilot.press("2", "enter")
        field.focus()
        await pilot.pause()
        await pilot.press("3", "enter")
        assert (entered, field.value) == ([], "girth 51")
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert field.has_focus
        await pilot.press("enter")
        assert entered == ["girth 51"]


@pytest.mark.parametrize("width", [60, 80, 100, 120, 160])
def test_the_key_line_fits_and_always_ends_with_help(width: int) -> None:
    placed = place(commands.on(commands.EPISODE), width)
    assert placed[-1].command.id == "help"
    assert placed[-1].end <= width
    assert placed[-1].end - placed[-1].start == len("F1 help")
    assert all(one.end < other.start for one, other in pairwise(placed))
    if width < 100:
        assert 4 <= len(placed) <= 7


async def test_a_click_on_the_key_line_runs_the_command() -> None:
    screen = bare()
    app = Stage(screen=screen)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        line = text_of(app).splitlines()[-1]
        await pilot.click(KeyLine, offset=(line.index("m measure") + 3, 0))
        await pilot.pause()
        assert screen.done == ["measure"]


def test_the_left_part_of_a_head_row_gives_way() -> None:
    row = spread(parts("a long name that does not fit"), parts("week 4"), 20)
    assert row.plain == "a long name…  week 4"
    assert spread(parts("R.K."), parts(""), 10).plain == "R.K.      "


def test_unmet_names_the_commands_a_screen_has_no_method_for() -> None:
    assert "measure" not in unmet(Bare)
    assert "timer" in unmet(Bare)
    assert "run" in unmet(Bare)


async def test_what_is_said_before_there_is_any_room_is_shown() -> None:
    class Saying(Bare):
        def on_mount(self) -> None:
            self.say("at once")

    app = Stage(screen=Saying(MessageLine()))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "at once" in text_of(app)


async def test_a_message_of_two_lines_takes_them_and_gives_them_back() -> None:
    line, below = MessageLine(), Static("below")
    app = Stage(line, below)
    async with app.run_test(size=(40, 12)) as pilot:
        heights = []
        for text in ("short", "word " * 12, "word " * 13, "", "word " * 40, "short"):
            line.say(text)
            await pilot.pause()
            heights.append((line.region.height, below.region.y))
        assert heights == [(1, 1), (2, 2), (2, 2), (1, 1), (2, 2), (1, 1)]
