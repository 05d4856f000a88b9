"""What holds for every run: no sound is made, compiled tests are kept for the next, the long walks go first."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import NoReturn

import pytest

from store.record.lean import without
from tests.helpers.lighter import lighten

# Where bytecode is not to be kept, each process of a run compiles each test anew, and every program it starts
# compiles the whole of ours: a quarter of the time of a run. What is kept lies in __pycache__ beside the source.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# What the collection makes stays until the end; without this it is looked through for garbage again and again.
gc.disable()

with without("numpy", "pandas"):  # which are here for one outside check, and take half a second in each process
    import sqlite_utils  # noqa: F401 - taken in before a test does

lighten()

# Files are handed out whole, so a long one begun last holds up the end. Those that mostly wait are spread out.
LONG = (
    "test_standard_visit", "test_twelve_weeks", "test_person", "test_bout", "test_killed_bout", "test_visit_keys",
    "test_visit",
    "test_bout_properties", "test_bout_kept", "test_blind_everywhere", "test_wild_keys", "test_trials",
    "test_picture", "test_terminal_faults", "test_line",
)  # fmt: skip


@pytest.fixture(autouse=True)
def no_sound(monkeypatch: pytest.MonkeyPatch) -> None:
    """No sound device is opened and nothing is spoken, but by what a test puts in their place."""
    monkeypatch.setattr("tui.clock.sound.open_player", _no_player)
    monkeypatch.setattr("tui.clock.sound.command_here", lambda: None)


def _no_player() -> NoReturn:
    from tui.clock.player import PlayerFault

    raise PlayerFault("the tests make no sound")


def pytest_collection_finish() -> None:
    """From here on only what the tests themselves make is looked through for garbage, and less often."""
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long files first, the others as they come."""
    place = {name: at for at, name in enumerate(LONG)}
    items.sort(key=lambda item: place.get(Path(item.path).stem, len(LONG)))
