"""How the tests start the installed program: as it is, or on hurried time; and the verbs beside it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.terminal.driver import clean_environment

BOTHFEET = Path(sys.executable).with_name("bothfeet")
"""The console script of the environment that runs the tests."""

HURRIED = Path(__file__).with_name("hurried.py")
TRUE_SPEED = "BOTHFEET_TESTS_TRUE_SPEED"
"""Set this variable and what would run hurried runs as it is: minutes instead of seconds."""


def installed(file: Path) -> list[str | Path]:
    """The installed program on a file."""
    return [BOTHFEET, file]


def hurried(file: Path, *, rate: float = 30.0, days: int = 0) -> list[str | Path]:
    """The installed program on a file, with time that passes `rate` times as fast and a calendar `days` ahead."""
    if os.environ.get(TRUE_SPEED):
        rate = 1.0
    return (
        installed(file)
        if rate == 1.0 and not days
        else [sys.executable, HURRIED, str(rate), str(days), *installed(file)]
    )


def patience(seconds: float) -> float:
    """Seconds to wait for something in hurried time; at true speed many more."""
    return seconds * (20.0 if os.environ.get(TRUE_SPEED) else 1.0)


def said(file: Path, home: Path, *words: str) -> str:
    """What a verb prints about a file that may be open elsewhere. Raises where its exit status is not 0."""
    done = subprocess.run(
        [BOTHFEET, "--file", file, *words],
        env=clean_environment(home),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    return done.stdout


def as_json(file: Path, home: Path, *words: str) -> dict[str, Any]:
    """The same, read as JSON."""
    data: dict[str, Any] = json.loads(said(file, home, *words, "--json"))
    return data
