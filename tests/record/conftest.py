"""A record of one invented person with an episode, a visit and a few readings, under a clock that stands still."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Person, Side, Visit
from store.record.episodes import add_episode
from store.record.file import Record, open_record
from store.record.people import add_person
from store.record.visits import add_visit
from tests.record.made import START


@pytest.fixture
def clock() -> SetClock:
    return SetClock(START)


@pytest.fixture
def record(tmp_path: Path, clock: SetClock) -> Iterator[Record]:
    with open_record(tmp_path / "record.sqlite", clock, create=True) as opened:
        yield opened


@pytest.fixture
def person(record: Record) -> Person:
    return add_person(record, Person("", "R.K.", "1995"))


@pytest.fixture
def episode(record: Record, person: Person, clock: SetClock) -> Episode:
    return add_episode(record, Episode("", person.id, Side.RIGHT, clock.now()))


@pytest.fixture
def visit(record: Record, person: Person, episode: Episode, clock: SetClock) -> Visit:
    return add_visit(record, Visit("", person.id, clock.now(), episode=episode.id, examiner="AB"))
