"""The program as others get it: a wheel, installed somewhere else, run from another folder."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.house.files import ROOT
from tests.terminal.driver import clean_environment


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    words = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)]
    subprocess.run(words, cwd=ROOT, check=True, capture_output=True, timeout=120)
    (made,) = folder.glob("*.whl")
    return made


def test_the_wheel_holds_the_program_and_its_tables_and_no_record(wheel: Path) -> None:
    names = ZipFile(wheel).namelist()
    assert {name.split("/")[0] for name in names if ".dist-info" not in name} == {"store", "tui"}
    tables = {path.name for path in (ROOT / "store" / "knowledge").rglob("*.toml")}
    assert {name.rsplit("/", 1)[1] for name in names if name.endswith(".toml")} == tables
    assert not [name for name in names if name.endswith((".sqlite", ".pyc"))]


def test_a_demo_works_from_an_installed_wheel_outside_the_checkout(wheel: Path, tmp_path: Path) -> None:
    place, elsewhere = tmp_path / "place", tmp_path / "elsewhere"
    elsewhere.mkdir()
    pip = [
        sys.executable,
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-deps",
        "--no-index",
        "--target",
        str(place),
        str(wheel),
    ]
    subprocess.run(pip, check=True, capture_output=True, timeout=120)
    env = clean_environment(tmp_path, PYTHONPATH=str(place), TMPDIR=str(elsewhere))  # before any checkout
    code = "import store, sys; from tui.command import main; print(store.__file__); sys.exit(main(['demo']))"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=elsewhere, env=env, capture_output=True, text=True, timeout=60, input=""
    )
    where, *said = done.stdout.splitlines()
    assert Path(where).is_relative_to(place)
    assert done.returncode == 2, done.stderr
    assert "the screens need a terminal" in done.stderr
    assert said[0].startswith("These people are invented")
    assert list(elsewhere.iterdir()) == []
    version = subprocess.run(
        [place / "bin" / "bothfeet", "--version"], env=env, capture_output=True, text=True, timeout=60
    )
    assert version.stdout.startswith("bothfeet ")
