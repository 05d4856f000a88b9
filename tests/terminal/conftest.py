"""The invented record; and at the end what a test wants told is printed: keys counted, instants of kills."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from _pytest.terminal import TerminalReporter

from store.demo import build
from store.knowledge.time import Stamp
from tests.terminal import driver
from tests.terminal.morning import MORNING, hours_ahead

TOLD = "told"


@pytest.fixture
def tell(record_property: Callable[[str, object], None]) -> Callable[[str], None]:
    """A function that has one line printed at the end of the run, whatever becomes of the test."""
    return lambda line: record_property(TOLD, line)


@pytest.fixture(scope="module", autouse=True)
def in_the_morning() -> Iterator[None]:
    """It is morning where these tests run, for them and for the programs they start: no midnight comes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(driver, "ZONE", MORNING)
        patch.setenv("TZ", MORNING)
        time.tzset()
        yield
    time.tzset()


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented record as of today. To be copied."""
    path = tmp_path_factory.mktemp("demo") / "demo.sqlite"
    now = datetime.now(UTC)
    build(path, Stamp.of(now.astimezone(timezone(timedelta(hours=hours_ahead(now))))))
    return path


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    """Print what was told."""
    reports = [report for state in ("passed", "failed") for report in terminalreporter.stats.get(state, [])]
    lines = [line for report in reports for name, line in getattr(report, "user_properties", ()) if name == TOLD]
    if lines:
        terminalreporter.section("told by the terminal tests")
    for line in lines:
        terminalreporter.write_line(line)
