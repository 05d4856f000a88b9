from __future__ import annotations

import gc
import io
import re
import signal
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from rich.console import Console
from textual.color import Color
from textual.widgets import Input, OptionList

import tui.app
from store.care.unswept import unswept
from store.knowledge.time import SetClock
from tests.helpers.fit import misfits, text_of
from tests.helpers.stage import NOON, Ward
from tests.terminal.driver import Terminal
from tui.app import SCREENS_BY_NAME, BothFeetApp
from tui.widgets import commands, look
from tui.widgets.terminal import refusal, wants_no_color


@pytest.fixture(autouse=True)
def ward(monkeypatch: pytest.MonkeyPatch) -> None:
    screens = {**SCREENS_BY_NAME, commands.EPISODE: "tests.helpers.stage:Ward"}
    monkeypatch.setattr(tui.app, "SCREENS_BY_NAME", screens)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")


def made(tmp_path: Path, **options: Any) -> BothFeetApp:  # noqa: ANN401 - passed on as they are
    care: Any = None
    return BothFeetApp(care, SetClock(NOON), first=commands.EPISODE, log_folder=tmp_path / "logs", **options)


async def test_the_first_screen_is_the_one_asked_for(tmp_path: Path) -> None:
    app = made(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, Ward)
        assert misfits(app) == []
        assert app.theme == "dark"


@pytest.mark.parametrize("theme", ["dark", "light"])
async def test_the_first_screen_wears_the_colours_of_its_theme(tmp_path: Path, theme: str) -> None:
    app = made(tmp_path, theme=theme)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        wanted = look.PALETTES[theme]
        assert app.theme_variables["ground"] == wanted.ground
        assert app.screen.styles.background == Color.parse(wanted.ground)
        assert app.screen.styles.color == Color.parse(wanted.ink)


def test_after_the_first_paint_waste_is_looked_for_again_but_not_among_what_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(BothFeetApp, "is_headless", False)
    app = made(tmp_path)
    with unswept():
        app.on_ready()
        assert gc.isenabled()
    assert gc.get_freeze_count() > len(gc.get_objects())


async def test_escape_leaves_the_field_and_then_the_screen_but_not_the_first(tmp_path: Path) -> None:
    app = made(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.EPISODE)
        await pilot.pause()
        app.screen.query_one(Input).focus()
        await pilot.press("escape")
        assert app.screen.focused is None
        assert len(app.screen_stack) == 2
        await pilot.press("escape")
        await pilot.pause()
        assert len(app.screen_stack) == 1
        await pilot.press("escape", "escape")
        assert len(app.screen_stack) == 1


async def test_help_is_about_what_has_the_focus_and_then_about_all_keys(tmp_path: Path) -> None:
    app = made(tmp_path)
    async with app.run_test(size=(80, 40)) as pilot:
        app.screen.query_one(Input).focus()
        await pilot.press("f1")
        await pilot.pause()
        shown = text_of(app)
        assert "Type a part of a label." in shown
        assert "Where this ankle stands." in shown
        assert commands.get("measure").says in shown
        assert "help episode" in shown
        assert misfits(app) == []
        await pilot.press("question_mark")
        await pilot.pause()
        assert "help all keys" in text_of(app)
        assert commands.get("new").says[:40] in text_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, Ward)


async def test_the_palette_finds_a_command_by_its_name_and_runs_it(tmp_path: Path) -> None:
    app = made(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        ward = app.screen
        assert isinstance(ward, Ward)
        await pilot.press("ctrl+p")
        await pilot.pause()
        assert not app.screen.query_one(Input).cursor_blink
        await pilot.press(*"measure")
        await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert ward.done == ["measure"]


async def test_the_palette_lists_this_screens_commands_alone_and_says_what_cannot_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = made(tmp_path)
    barred = "Nothing has been measured yet."
    monkeypatch.setattr(Ward, "why_not", lambda _, command: barred if command == "chart" else None)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("ctrl+p")
        await app.workers.wait_for_complete()
        await pilot.pause()
        options = app.screen.query_one(OptionList).options
        listed = "\n".join(str(option.prompt) for option in options)
        assert "leave out today" not in listed  # of the visit
        assert f"Not now. {barred}" in listed
        assert listed.count("Not now.") == 1


async def test_dark_and_light_and_no_theme_but_ours(tmp_path: Path) -> None:
    app = made(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.do_theme()
        await pilot.pause()
        assert app.theme == "light"
        app.do_theme()
        assert app.theme == "dark"
        assert set(app.available_themes) == {"dark", "light", "sixteen-dark", "sixteen-light"}


async def pressed_in(app: BothFeetApp, key: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(key)


async def test_the_crash_screen_and_the_log_show_no_values(tmp_path: Path) -> None:
    app = made(tmp_path)
    shown = io.StringIO()
    app.error_console = Console(file=shown, width=100)
    with pytest.raises(ValueError, match="cannot time"):
        await pressed_in(app, "f7")
    app._print_error_renderables()
    log = tmp_path / "logs" / "faults.log"
    told, kept = shown.getvalue(), log.read_text()
    for text in (told, kept):
        assert "Private" not in text
        assert "ValueError" in text
        assert "do_timer" in text
    assert "What was shown as saved is kept." in told
    assert str(log) in told.splitlines()  # on a line of its own, to be copied whole
    assert stat.S_IMODE(log.stat().st_mode) == 0o600
    assert app.return_code == 1


async def test_no_colour_leaves_no_colour_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = made(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        strips = app.screen._compositor.render_strips()
        styles = [segment.style for strip in strips for segment in strip if segment.style]
        assert styles
        assert all(style.color is None or style.color.is_default for style in styles)
        assert all(style.bgcolor is None or style.bgcolor.is_default for style in styles)


def test_an_empty_no_color_is_no_wish() -> None:
    environ = {"NO_COLOR": ""}
    assert not wants_no_color(environ)
    assert environ == {}
    assert wants_no_color({"NO_COLOR": "1"})


class Stream:
    def __init__(self, tty: bool) -> None:
        self.tty = tty

    def isatty(self) -> bool:
        return self.tty


def test_no_terminal_or_a_dumb_one_is_refused_with_a_way_out() -> None:
    screen, pipe = Stream(True), Stream(False)
    assert refusal(screen, screen, {"TERM": "xterm-256color"}) is None
    for told in (
        refusal(pipe, screen, {"TERM": "xterm"}),
        refusal(screen, pipe, {"TERM": "xterm"}),
        refusal(screen, screen, {"TERM": "dumb"}),
        refusal(screen, screen, {}),
    ):
        assert told is not None
        assert "bothfeet show" in told


def test_the_refusal_needs_no_textual() -> None:
    code = "import sys, tui.widgets.terminal; sys.exit('textual' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_the_shell_imports_no_chart_and_no_markdown() -> None:
    heavy = ("plotext", "textual_plotext", "markdown_it", "sqlite_utils")
    code = f"import sys, tui.app; print([name for name in {heavy} if name in sys.modules])"
    out = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout
    assert out.strip() == "[]"


PROGRAM = [sys.executable, str(Path(__file__).with_name("program.py"))]
HERE = str(Path(__file__).parents[2])
COLOUR = re.compile(rb"\x1b\[[0-9;:]*m")


def started(tmp_path: Path, **env: str) -> Terminal:
    return Terminal(PROGRAM, home=tmp_path, size=(80, 24), env={"PYTHONPATH": HERE, **env})


def colours(raw: bytes) -> set[str]:
    """The colour parameters of every escape that sets a style."""
    found: set[str] = set()
    for escape in COLOUR.findall(raw):
        parts = escape[2:-1].decode().split(";")
        if "38" in parts or "48" in parts:
            found.add("many")
        found |= {
            part
            for part in parts
            if part.isdigit() and 30 <= int(part) <= 107 and part not in ("38", "39", "48", "49")
        }
    return found


@pytest.mark.parametrize(("number", "status"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129)])
def test_a_signal_from_outside_restores_the_terminal(tmp_path: Path, number: signal.Signals, status: int) -> None:
    with started(tmp_path) as terminal:
        terminal.wait_for("measure")
        assert terminal.view().alternate
        terminal.kill(number)
        assert terminal.wait_exit() == status
        view = terminal.view()
        assert not view.alternate
        assert b"\x1b[?25h" in terminal.raw
        assert b"\x1b[?1000l" in terminal.raw


def test_a_window_that_is_closed_ends_the_program(tmp_path: Path) -> None:
    with started(tmp_path) as terminal:
        terminal.wait_for("measure")
        terminal.hang_up()
        terminal.wait_exit()  # with which status is Python's affair: its last flush goes nowhere


def test_the_palette_and_the_way_out_in_one_burst_close_the_program(tmp_path: Path) -> None:
    with started(tmp_path) as terminal:
        terminal.wait_for("measure")
        terminal.press("ctrl+p", "ctrl+q")
        assert terminal.wait_exit() == 0
        assert b"fault of its own" not in terminal.raw


def test_a_crash_restores_the_terminal_and_shows_no_values(tmp_path: Path) -> None:
    with started(tmp_path) as terminal:
        terminal.wait_for("measure")
        terminal.press("f7")
        assert terminal.wait_exit() == 1
        view = terminal.wait_for("What was shown as saved is kept.")
        assert not view.alternate
        assert b"Private" not in terminal.raw
    assert "Private" not in (tmp_path / "state" / "bothfeet" / "faults.log").read_text()


def test_no_color_writes_no_colour_to_a_terminal(tmp_path: Path) -> None:
    with started(tmp_path, NO_COLOR="1") as terminal:
        terminal.wait_for("measure")
        assert colours(bytes(terminal.raw)) == set()


def test_a_terminal_of_sixteen_colours_is_sent_only_those(tmp_path: Path) -> None:
    with started(tmp_path, TERM="xterm", COLORTERM="") as terminal:
        terminal.wait_for("measure")
        sent = colours(bytes(terminal.raw))
        assert sent
        assert "many" not in sent
