"""The invented record; and at the end what a test wants told is printed: keys counted, instants of kills."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from _pytest.terminal import TerminalReporter

from store.demo import build
from tui.clock.system import SystemClock

TOLD = "told"


@pytest.fixture
def tell(record_property: Callable[[str, object], None]) -> Callable[[str], None]:
    """A function that has one line printed at the end of the run, whatever becomes of the test."""
    return lambda line: record_property(TOLD, line)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented record as of today. To be copied."""
    path = tmp_path_factory.mktemp("demo") / "demo.sqlite"
    build(path, SystemClock().now())
    return path


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    """Print what was told."""
    reports = [report for state in ("passed", "failed") for report in terminalreporter.stats.get(state, [])]
    lines = [line for report in reports for name, line in getattr(report, "user_properties", ()) if name == TOLD]
    if lines:
        terminalreporter.section("told by the terminal tests")
    for line in lines:
        terminalreporter.write_line(line)
