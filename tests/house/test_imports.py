"""Imports run one way, and what needs no screen does not pay for one."""

from __future__ import annotations

import ast
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from shutil import copyfile

import pytest

from store.care.care import open_care
from store.care.people import EpisodeForm, new_person
from store.care.visits import said, start_visit
from store.knowledge.time import SetClock
from store.knowledge.words import Side
from tests.house.files import ROOT, python_files
from tests.terminal.driver import clean_environment

BIN = Path(sys.executable).parent
HEADLESS: list[list[str]] = [
    ["--version"],
    ["--help"],
    ["measures"],
    ["measures", "lunge"],
    ["settings"],
    ["settings", "--example"],
    ["show"],
    ["show", "--json"],
    ["show", "A.B."],
    ["show", "A.B.", "--json"],
    ["add", "A.B.", "lunge 10.5 11", "--examiner", "X"],
    ["sheet", "--help"],
    ["export", "A.B.", "--to", "csv", "--out", "-"],
    ["export", "--all", "--to", "json", "--out", "all.json"],
    ["export", "A.B.", "--to", "fhir", "--out", "-"],
    ["export", "--help"],
    ["note", "A.B."],
    ["letter", "A.B."],
    ["letter", "A.B.", "--out", "letter.html"],
    ["check"],
    ["import", "list.csv"],
    ["backup", "copy.sqlite"],
    ["merge", "other.sqlite"],
    ["serve", "--help"],
]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A record of one invented person, with a copy of it and a table beside."""
    path = tmp_path / "record.sqlite"
    with closing(open_care(path, SetClock(datetime(2026, 11, 25, 10, tzinfo=UTC)), create=True)) as care:
        _, episode = new_person(care, "A.B.", form=EpisodeForm(Side.LEFT))
        assert episode is not None
        said(care, start_visit(care, episode), "pain 3")
    copyfile(path, tmp_path / "other.sqlite")
    (tmp_path / "list.csv").write_text(
        "person,taken_at,measure,value\nA.B.,2026-11-20 10:00,pain now,3\n", "utf-8"
    )
    return path


def test_imports_run_one_way() -> None:
    done = subprocess.run(
        [BIN / "lint-imports", "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env=clean_environment(ROOT),
        timeout=120,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("words", HEADLESS, ids=" ".join)
def test_a_headless_verb_never_imports_textual(words: list[str], tmp_path: Path, file: Path) -> None:
    done = subprocess.run(
        [BIN / "bothfeet", *words],
        cwd=tmp_path,
        env=clean_environment(tmp_path, BOTHFEET_FILE=str(file), PYTHONPROFILEIMPORTTIME="1"),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )
    imported = _imported(done.stderr)
    assert done.returncode == 0, "\n".join(_said(done.stderr))
    assert "tui.command" in imported
    assert not {name for name in imported if name.split(".")[0] in {"textual", "rich", "plotext"}}


LATER = {
    "sqlite_utils",
    "store.care.people",
    "store.care.recall",
    "store.care.standing",
    "store.care.visits",
    "store.knowledge.kinds",
    "store.knowledge.measures",
    "store.knowledge.papers",
    "store.knowledge.planned",
    "store.knowledge.shelf",
    "store.record.forecasts",
    "tui.screens.episode",
    "tui.widgets.jump",
    "tui.widgets.page_of_words",
}
"""What the first rows on the screen need not wait for: it was imported before them once."""


def test_the_first_rows_wait_for_nothing_that_is_of_use_only_later(tmp_path: Path, file: Path) -> None:
    code = f"""
import sys
from pathlib import Path
import tui.command, tui.app, tui.screens.caseload
from store.care.care import open_care
from store.care.caseload import count, more_rows
from tui.clock.system import SystemClock

care = open_care(Path({str(file)!r}), SystemClock())
print(*(row.label for row in more_rows(care, (), 60)), count(care).open, *sys.modules)
care.close()
"""
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=clean_environment(tmp_path),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    loaded = done.stdout.split()
    assert loaded[:2] == ["A.B.", "1"]
    assert LATER.isdisjoint(loaded)
    assert {name for name in LATER if name.split(".")[0] in {"store", "tui"}} <= {
        _module(path) for path in python_files()
    }


def test_store_imports_neither_the_screen_nor_its_library(tmp_path: Path) -> None:
    modules = [_module(path) for path in python_files() if path.parts[0] == "store"]
    code = f"import sys, {', '.join(modules)}\nprint(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=clean_environment(tmp_path),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    loaded = set(done.stdout.split())
    assert set(modules) <= loaded
    assert not {name for name in loaded if name.split(".")[0] in {"tui", "textual", "scipy"}}


def test_scipy_is_asked_in_one_place_for_its_special_functions_alone() -> None:
    asked = {
        (path.as_posix(), name)
        for path in python_files()
        if path.parts[0] in {"store", "tui"} and "scipy" in (text := (ROOT / path).read_text("utf-8"))
        for name in _named(ast.parse(text))
        if name.split(".")[0] == "scipy"
    }
    assert asked == {("store/reckon/reliability.py", "scipy.special")}


def _named(tree: ast.Module) -> set[str]:
    """The modules that a file imports, anywhere in it."""
    nodes = list(ast.walk(tree))
    plain = {each.name for node in nodes if isinstance(node, ast.Import) for each in node.names}
    return plain | {node.module for node in nodes if isinstance(node, ast.ImportFrom) and node.module}


def _module(path: Path) -> str:
    parts = path.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _said(report: str) -> list[str]:
    return [line for line in report.splitlines() if not line.startswith("import time:")]


def _imported(report: str) -> set[str]:
    """The modules named by Python's own report of import times."""
    return {line.rsplit("|", 1)[1].strip() for line in report.splitlines() if line.startswith("import time:")}
