"""What holds for every run: no sound is made, compiled tests are kept for the next, the long walks go first."""

from __future__ import annotations

import os
import sys
from collections.abc import Hashable
from pathlib import Path
from typing import Any, NoReturn

import pytest
from rich.console import RenderableType
from textual._compositor import Compositor
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.screen import Screen

# Where bytecode is not to be kept, each process of a run compiles each test anew, and every program it starts
# compiles the whole of ours: a quarter of the time of a run. What is kept lies in __pycache__ beside the source.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

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


@pytest.fixture(autouse=True)
def unpainted(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a headless application would paint after each key goes nowhere, and is a third of its time: left out.

    The whole screen is still made where a test looks at it, and every change is painted in tests/terminal.
    """
    whole = Compositor.render_update

    def only_whole(
        self: Compositor, full: bool = False, screen_stack: list[Screen[Any]] | None = None, simplify: bool = False
    ) -> RenderableType | None:
        if full:
            return whole(self, full, screen_stack, simplify)
        self._dirty_regions.clear()
        return None

    monkeypatch.setattr(Compositor, "render_update", only_whole)


@pytest.fixture(autouse=True)
def parsed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each application would read the same style sheets, a tenth of a test: they are read once."""
    whole = Stylesheet._parse_rules

    def parse(
        self: Stylesheet,
        css: str,
        read_from: CSSLocation,
        is_default_rules: bool = False,
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        key = (css, read_from, is_default_rules, tie_breaker, scope, frozenset(self._variables.items()))
        if key not in _RULES:
            _RULES[key] = whole(self, css, read_from, is_default_rules, tie_breaker, scope)
        return _RULES[key]

    monkeypatch.setattr(Stylesheet, "_parse_rules", parse)


_RULES: dict[Hashable, list[RuleSet]] = {}


def _no_player() -> NoReturn:
    from tui.clock.player import PlayerFault

    raise PlayerFault("the tests make no sound")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long files first, the others as they come."""
    place = {name: at for at, name in enumerate(LONG)}
    items.sort(key=lambda item: place.get(Path(item.path).stem, len(LONG)))
