"""The command line as it is typed, on a copy of the invented record, at the day that record was made for."""

from __future__ import annotations

import io
import shutil
import sys
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

import tui.command
from store.care.care import Care, open_care
from store.care.people import EpisodeForm, new_person
from store.demo import build
from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Side

NOON = datetime(2026, 11, 23, 12, 0, tzinfo=timezone(timedelta(hours=1)))


@dataclass(frozen=True, slots=True)
class Done:
    """What a command line came to."""

    status: int
    out: str
    err: str


class Keyboard(io.StringIO):
    """Standard input with somebody at it."""

    def isatty(self) -> bool:
        return True


class Shell:
    """Types command lines and reads what comes of them."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], path: Path) -> None:
        self.monkeypatch = monkeypatch
        self.capsys = capsys
        self.path = path
        self.clock = SetClock(NOON)
        monkeypatch.setattr(tui.command, "SystemClock", lambda: self.clock)
        monkeypatch.setenv("BOTHFEET_FILE", str(path))
        self.settings_path = path.with_name("settings.toml")
        self.settings("")
        self.nobody()

    def nobody(self) -> None:
        """Nobody sits at a terminal."""
        self.monkeypatch.setattr(sys, "stdin", io.StringIO())

    def settings(self, text: str) -> None:
        """The clinic's settings file says this, and not what may stand in that of who runs the tests."""
        self.settings_path.write_text(text, encoding="utf-8")
        self.monkeypatch.setenv("BOTHFEET_SETTINGS", str(self.settings_path))

    def answers(self, *lines: str) -> None:
        """Somebody sits at a terminal, and will answer so."""
        self.monkeypatch.setattr(sys, "stdin", Keyboard("".join(f"{line}\n" for line in lines)))

    def __call__(self, *words: str) -> Done:
        self.capsys.readouterr()
        status = tui.command.main(words)
        said = self.capsys.readouterr()
        return Done(status, said.out, said.err)

    def care(self) -> Care:
        """The record itself, to look into or to prepare; close it before the next command."""
        return open_care(self.path, self.clock)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("built") / "demo.sqlite"
    build(path, Stamp.of(NOON))
    return path


@pytest.fixture
def shell(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path, demo_file: Path
) -> Shell:
    """On a copy of the invented record."""
    path = tmp_path / "record.sqlite"
    shutil.copy(demo_file, path)
    return Shell(monkeypatch, capsys, path)


@pytest.fixture
def own(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Shell:
    """On a record of one person with a right ankle sprained twelve days ago, and nobody named as examiner."""
    shell = Shell(monkeypatch, capsys, tmp_path / "record.sqlite")
    care = open_care(shell.path, shell.clock, create=True)
    new_person(care, "K.L.", "1990", EpisodeForm(Side.RIGHT, injured_on=NOON.date() - timedelta(days=12)))
    care.close()
    return shell
