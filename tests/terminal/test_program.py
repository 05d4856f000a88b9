"""The installed program and its terminal: given back whatever ends it, refused where it cannot serve."""

from __future__ import annotations

import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.care.care import open_care
from store.care.people import EpisodeForm, new_person
from store.knowledge.time import SetClock
from store.knowledge.words import Side
from tests.terminal.driver import Terminal, clean_environment
from tests.terminal.peek import one, rows

BOTHFEET = Path(sys.executable).with_name("bothfeet")
BELT = "mobilisation, belt"
UNDONE = (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?1000l", b"\x1b[?1003l", b"\x1b[?2004l")
"""The main screen, a cursor, no mouse reports, no bracketed paste."""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A record of one invented person."""
    path = tmp_path / "record.sqlite"
    with closing(open_care(path, SetClock(datetime(2026, 11, 25, 10, tzinfo=UTC)), create=True)) as care:
        new_person(care, "Q.X.", form=EpisodeForm(Side.LEFT))
    return path


@pytest.fixture
def program(tmp_path: Path, file: Path) -> Iterator[Terminal]:
    with Terminal([BOTHFEET, file], home=tmp_path / "home") as started:
        started.wait_for("Q.X.")
        yield started


def test_quitting_gives_the_terminal_back(program: Terminal) -> None:
    program.press("ctrl+q")
    assert program.wait_exit() == 0
    _assert_given_back(program)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_gives_the_terminal_back(program: Terminal, number: signal.Signals) -> None:
    program.kill(number)
    assert program.wait_exit() == 128 + number
    _assert_given_back(program)


def test_a_closed_window_ends_the_program(program: Terminal) -> None:
    program.hang_up()
    program.wait_exit()


def test_too_small_says_so_and_recovers(program: Terminal) -> None:
    program.resize(50, 15)
    view = program.wait_for("enlarge")
    assert len(view.cells) == 15
    program.resize(120, 40)
    program.wait_gone("enlarge")
    program.wait_for("Q.X.")


def test_a_bout_outlives_a_resize_and_a_signal(program: Terminal, file: Path) -> None:
    program.press("f8")
    program.wait_for(BELT)
    for _ in range(3):
        program.press("down")
    program.wait_until(lambda view: BELT in view.line_with("▸"), what="the cursor on the mobilisation")
    program.press("enter")
    program.wait_for("space start")
    program.wait_until(lambda _: _pressed_on(program), what="the countdown")
    program.wait_for("rep 1 of 10")
    program.resize(50, 15)
    program.wait_for("enlarge")
    program.resize(120, 40)
    program.wait_for("rep 1 of 10", "set 1 of 3")
    program.kill(signal.SIGTERM)
    assert program.wait_exit() == 128 + signal.SIGTERM
    _assert_given_back(program)
    assert ("began",) in rows(file, "SELECT kind FROM bout_event")
    assert one(file, "SELECT count(*) FROM bout WHERE ended_at IS NULL AND retracted_at IS NULL") == 1


def _pressed_on(program: Terminal) -> bool:
    """Press again until it counts: a press just after the screen opened is taken for one that is still held."""
    program.press("space")
    program.watch(0.8)
    return program.view().find("to the start") is not None


@pytest.mark.parametrize("color", ["truecolor", ""])
def test_no_color_means_none(tmp_path: Path, file: Path, color: str) -> None:
    with Terminal([BOTHFEET, file], home=tmp_path / "home", env={"NO_COLOR": "1", "COLORTERM": color}) as program:
        assert not program.wait_for("Q.X.").colours


def test_sixteen_colours_are_enough(tmp_path: Path, file: Path) -> None:
    with Terminal([BOTHFEET, file], home=tmp_path / "home", env={"TERM": "xterm", "COLORTERM": ""}) as program:
        colours = program.wait_for("Q.X.").colours
    assert colours
    assert all(not _is_hex(colour) for colour in colours)


def test_a_dumb_terminal_gets_plain_text(tmp_path: Path, file: Path) -> None:
    with Terminal([BOTHFEET, file], home=tmp_path / "home", env={"TERM": "dumb"}) as program:
        assert program.wait_exit() == 2
        assert "Q.X." in program.view().text
        assert b"\x1b" not in program.raw


def test_no_terminal_gets_plain_text(tmp_path: Path, file: Path) -> None:
    done = subprocess.run(
        [BOTHFEET, file],
        env=clean_environment(tmp_path / "home"),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 2
    assert "Q.X." in done.stdout
    assert "terminal" in done.stderr
    assert "\x1b" not in done.stdout + done.stderr


def _assert_given_back(program: Terminal) -> None:
    after = program.raw[program.raw.rindex(b"\x1b[?1049h") :]
    assert all(sequence in after for sequence in UNDONE)
    view = program.view()
    assert not view.alternate
    assert view.cursor_shown


def _is_hex(colour: str) -> bool:
    return len(colour) == 6 and all(char in "0123456789abcdef" for char in colour)
