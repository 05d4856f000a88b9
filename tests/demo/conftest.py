"""The invented record, built once, with a care of it under a clock that stands at the day it is built for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from store.care.care import Care, open_care
from store.demo import build
from store.knowledge.time import SetClock

MONDAY = date(2026, 11, 23)


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.sqlite"
    build(path, MONDAY)
    return path


@pytest.fixture(scope="session")
def care(built: Path) -> Iterator[Care]:
    opened = open_care(built, SetClock(datetime(2026, 11, 23, 12, 0, tzinfo=UTC)), only_read=True)
    yield opened
    opened.close()
