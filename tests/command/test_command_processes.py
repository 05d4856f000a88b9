"""The installed program as a shell starts it: pipes that close, terminals that cannot, demos leaving nothing."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

from store.care.care import Care, open_care
from store.care.caseload import everybody
from store.care.invented import is_invented
from tests.terminal.driver import Terminal, clean_environment
from tui import VERSION
from tui.clock.system import SystemClock

BOTHFEET = Path(sys.executable).parent / "bothfeet"


def started(home: Path, *words: str, **more: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [BOTHFEET, *words],
        env=clean_environment(home, TMPDIR=str(home), **more),
        cwd=home,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def ran(home: Path, *words: str, **more: str) -> tuple[int, str, str]:
    with started(home, *words, **more) as process:
        out, err = process.communicate(timeout=60)
    return process.returncode, out, err


def opened(path: Path) -> Care:
    return open_care(path, SystemClock())


@pytest.fixture
def path(tmp_path: Path, demo_file: Path) -> Path:
    """A copy of the invented record."""
    return Path(shutil.copy(demo_file, tmp_path / "r.sqlite"))


def test_the_version_is_the_packages(tmp_path: Path) -> None:
    assert ran(tmp_path, "--version") == (0, f"bothfeet {VERSION}\n", "")
    assert version("bothfeet") == VERSION


def test_a_demo_without_a_terminal_prints_its_caseload_and_leaves_nothing(tmp_path: Path) -> None:
    status, out, err = ran(tmp_path, "demo")
    assert status == 2
    assert out.startswith("These people are invented")
    assert "12 open episodes" in out
    assert err.startswith("bothfeet: the screens need a terminal")
    assert list(tmp_path.iterdir()) == []


def test_a_demo_is_kept_where_a_file_is_named_and_never_over_another(tmp_path: Path) -> None:
    path = tmp_path / "mine.sqlite"
    assert ran(tmp_path, "demo", "--file", str(path))[0] == 2
    assert list(tmp_path.iterdir()) == [path]
    care = opened(path)
    assert is_invented(care)
    assert len(everybody(care)) == 19
    care.close()
    before = path.read_bytes()
    status, out, err = ran(tmp_path, "demo", "--file", str(path))
    assert (status, out) == (2, "")
    assert err == f"bothfeet: {path} is there already and stays as it is: name another file.\n"
    assert path.read_bytes() == before


def test_a_demo_is_not_built_into_the_file_of_the_environment(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite"
    assert ran(tmp_path, "demo", BOTHFEET_FILE=str(path))[0] == 2
    assert not path.exists()


def test_a_demo_on_a_terminal_lies_in_a_private_folder_that_goes_with_it(tmp_path: Path) -> None:
    temporary = tmp_path / "tmp"
    temporary.mkdir()
    env = clean_environment(tmp_path, TMPDIR=str(temporary))
    with Terminal([BOTHFEET, "demo"], home=tmp_path / "home", env=env) as terminal:
        terminal.wait_for("R.K.")
        (folder,) = temporary.iterdir()
        assert folder.stat().st_mode & 0o777 == 0o700
        assert {path.stat().st_mode & 0o077 for path in folder.iterdir()} == {0}
        terminal.kill(signal.SIGTERM)
        terminal.wait_exit()
    assert list(temporary.iterdir()) == []


@pytest.mark.parametrize("words", [["show"], ["measures", "lunge"], ["--help"]], ids=" ".join)
def test_a_reader_that_goes_away_is_no_fault(tmp_path: Path, path: Path, words: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [BOTHFEET, *words],
        env=clean_environment(tmp_path, BOTHFEET_FILE=str(path)),
        stdin=subprocess.DEVNULL,
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
        timeout=60,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_terminal_that_cannot_place_text_is_told_what_to_do(tmp_path: Path, path: Path) -> None:
    env = clean_environment(tmp_path, TERM="dumb")
    with Terminal([BOTHFEET, path], home=tmp_path / "home", env=env, size=(200, 40)) as terminal:
        terminal.wait_for("cannot place text on the screen")
        assert terminal.wait_exit() == 2
        assert b"R.K., right ankle injured" in bytes(terminal.raw)


def test_a_terminal_is_asked_for_the_examiner_and_the_doubt(tmp_path: Path, path: Path) -> None:
    env = clean_environment(tmp_path, BOTHFEET_FILE=str(path))
    words: list[str | Path] = [BOTHFEET, "add", "R.K.", "lunge 25 4.8"]
    with Terminal(words, home=tmp_path / "home", env=env, size=(120, 24)) as terminal:
        terminal.wait_for("save it? y/n:")
        terminal.press("y", "enter")
        terminal.wait_for("saved lunge left 25.0, right 4.8 cm")
        assert terminal.wait_exit() == 0


def test_ctrl_c_at_a_question_is_quiet_and_keeps_nothing(tmp_path: Path, path: Path) -> None:
    env = clean_environment(tmp_path, BOTHFEET_FILE=str(path))
    words: list[str | Path] = [BOTHFEET, "add", "R.K.", "lunge 25 4.8"]
    with Terminal(words, home=tmp_path / "home", env=env, size=(120, 24)) as terminal:
        terminal.wait_for("save it? y/n:")
        terminal.press("ctrl+c")
        assert terminal.wait_exit() == 130
        assert b"Traceback" not in bytes(terminal.raw)
    status, out, _ = ran(tmp_path, "show", "R.K.", "--json", BOTHFEET_FILE=str(path))
    lunge = json.loads(out)["measures"][0]
    assert (status, lunge["left"]["value"]) == (0, 10.1)


def test_text_goes_through_an_output_that_knows_fewer_letters(tmp_path: Path, path: Path) -> None:
    status, out, _ = ran(tmp_path, "show", "Ä", BOTHFEET_FILE=str(path), PYTHONIOENCODING="ascii")
    assert (status, out) == (2, "")
