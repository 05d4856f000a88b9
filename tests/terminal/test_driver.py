"""The driver proven on a tiny program, before anything is proven with it."""

from __future__ import annotations

import signal
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pyte
import pytest

from tests.terminal.driver import Missed, Terminal, clean_environment
from tests.terminal.keys import KeyCount, bytes_of
from tests.terminal.peek import one, rows
from tests.terminal.view import Eye

TINY = [sys.executable, str(Path(__file__).with_name("tiny.py"))]


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    with Terminal(TINY, home=tmp_path, size=(60, 12)) as started:
        started.wait_for("ready", "size 60x12")
        yield started


def test_types_and_reads_the_answer(terminal: Terminal) -> None:
    terminal.type("10,5 11 left")
    terminal.press("enter")
    view = terminal.wait_for("got 10,5 11 left")
    assert view.alternate
    assert view.find("got") == (3, 0)
    assert {cell.fg for cell in view.look_of("got")} == {"56b4e9"}
    assert (terminal.keys.figures, terminal.keys.other) == (7, 6)


def test_named_keys_reach_the_program(terminal: Terminal) -> None:
    terminal.press("f2")
    terminal.wait_for("second")
    terminal.press("esc")
    assert "second" not in terminal.wait_for("left").text


def test_what_stood_for_a_moment_is_seen_by_a_late_look(terminal: Terminal) -> None:
    terminal.press("f2")
    terminal.wait_raw(b"second")
    since = len(terminal.raw)
    terminal.press("esc")
    terminal.wait_raw(b"left", since=since)
    view = terminal.wait_shown(lambda view: bool(view.find("second")), what="the second screen")
    assert view.find("second")
    assert "second" not in terminal.view().text


def test_a_resize_reaches_the_program(terminal: Terminal) -> None:
    terminal.resize(100, 30)
    view = terminal.wait_for("size 100x30")
    assert len(view.cells) == 30
    assert len(view.cells[0]) == 100


def test_a_bell_is_told_from_the_end_of_a_title(terminal: Terminal) -> None:
    before = len(terminal.raw)
    terminal.press("ctrl+g")
    at = terminal.wait_raw(b"\x07", since=before)
    assert terminal.wait_bells(1) == [at]
    terminal.settle()
    assert terminal.bells() == [at]


def test_what_does_not_come_is_missed_with_the_last_screen(terminal: Terminal) -> None:
    with pytest.raises(Missed, match=r"'never'[\s\S]*ready"):
        terminal.wait_for("never", within=0.2)


def test_quitting_restores_the_terminal(terminal: Terminal) -> None:
    terminal.press("ctrl+q")
    assert terminal.wait_exit() == 0
    view = terminal.view()
    assert not view.alternate
    assert view.cursor_shown
    assert view.text.strip() == ""


def test_a_killed_program_says_which_signal(terminal: Terminal) -> None:
    terminal.kill(signal.SIGKILL)
    assert terminal.wait_exit() == -signal.SIGKILL


def test_a_hang_up_reaches_the_program(tmp_path: Path) -> None:
    mark = tmp_path / "hung up"
    code = (
        "import pathlib, signal, sys\n"
        f"signal.signal(signal.SIGHUP, lambda *_: (pathlib.Path({str(mark)!r}).touch(), sys.exit(3)))\n"
        "print('listening', flush=True)\n"
        "signal.pause()"
    )
    with Terminal([sys.executable, "-c", code], home=tmp_path) as terminal:
        terminal.wait_for("listening")
        terminal.hang_up()
        assert terminal.wait_exit() == 3
    assert mark.exists()


def test_an_ended_program_is_not_waited_for(tmp_path: Path) -> None:
    with (
        Terminal([sys.executable, "-c", "print('bye')"], home=tmp_path) as terminal,
        pytest.raises(Missed, match="has ended"),
    ):
        terminal.wait_for("never")


def test_the_environment_owes_nothing_to_the_caller(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    env = clean_environment(tmp_path, COLORTERM="")
    assert "NO_COLOR" not in env
    assert "COLORTERM" not in env
    assert env["XDG_DATA_HOME"].startswith(str(tmp_path))


def test_figures_are_counted_apart() -> None:
    count = KeyCount()
    count.add_text("pain 2 worst 4")  # the spaces beside words are keys
    assert (count.figures, count.other) == (2, 12)
    count.add_text("-1 4,5 4.5")
    assert (count.figures, count.other) == (12, 12)
    for key in ("space", "enter", "7", "*", " "):
        count.add_key(key)
    assert (count.figures, count.other) == (13, 16)


def test_an_unknown_key_is_refused() -> None:
    assert bytes_of("ctrl+p") == b"\x10"
    assert bytes_of("f5") == b"\x1b[15~"
    assert bytes_of("é") == "é".encode()
    with pytest.raises(ValueError, match="no key is called"):
        bytes_of("f99")


def test_the_alternate_screen_gives_back_what_stood_before() -> None:
    eye = Eye(20, 3)
    eye.feed(b"before\x1b[?1049h\x1b[1;1Hinside")
    assert eye.view().lines[0] == "inside"
    eye.feed(b"\x1b[?1049l after")
    assert eye.view().lines[0] == "before after"


def test_an_escape_cut_in_two_leaves_no_letter() -> None:
    eye = Eye(20, 2)
    for part in (b"a\x1b", b"[<", b"ub\x1b[>1", b"uc\x1b[", b"31md"):
        eye.feed(part)
    assert eye.view().lines[0] == "abcd"
    assert eye.view().cells[0][3].fg == "red"


@pytest.mark.parametrize("cut", [1, 3, 7, 1000])
def test_the_quick_ways_of_the_eye_show_what_pyte_shows(cut: int) -> None:
    painted = (
        "plain\x1b[1;38;2;200;10;5mbold red\x1b[0m\x1b[2;3Hsecond\x1b[m \x1b[7mreverse\x1b[27m\x1b]0;a title\x07"
        "\x1b[3;1H漢字 wide\x1b[3;36Hover the edge\x1b[4;1He\u0301 combined\x1b[K\x1b[5;40H"
        "\x1b[48;5;20m█▀▄\x1b[6;1H◀ é ▶\r\nend"
    ).encode()
    eye, plain = Eye(40, 6), pyte.Screen(40, 6)
    pyte.ByteStream(plain).feed(painted)
    for at in range(0, len(painted), cut):
        eye.feed(painted[at : at + cut])
        eye.view()
    view = eye.view()
    assert list(view.lines) == [line.rstrip() for line in plain.display]
    for row, cells in enumerate(view.cells):
        shown = [plain.buffer[row][at] for at in range(40)]
        assert [(c.char, c.fg, c.bg, c.bold, c.reverse) for c in cells] == [
            (c.data, c.fg, c.bg, c.bold, c.reverse) for c in shown
        ]
    assert view.cursor == (plain.cursor.y, plain.cursor.x)


def test_the_file_is_read_from_outside(tmp_path: Path) -> None:
    file = tmp_path / "a b.sqlite"
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("create table t (n integer)")
        connection.execute("insert into t values (1), (2)")
        connection.commit()
    assert rows(file, "select n from t where n > ?", 1) == [(2,)]
    assert one(file, "select count(*) from t") == 2
    with pytest.raises(LookupError, match="2 rows"):
        one(file, "select n from t")
