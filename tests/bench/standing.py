"""An episode's standing against the bare rows it is made of, and on the large record against the small one."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from functools import partial
from pathlib import Path

from store.care.care import Care
from store.care.standing import standing
from store.knowledge.load import load
from store.knowledge.time import SetClock
from store.record.file import open_record
from store.record.handle import Record, Row, Values
from tests.bench.filled import utc_now
from tests.bench.lines import Against, Line, alternate
from tests.bench.place import Place

EPISODES = 40
_OPEN = "SELECT id FROM episode WHERE closed_at IS NULL ORDER BY id"

Asked = list[tuple[str, Values]]


class Listening(Record):
    """A record that remembers what it was asked."""

    def __init__(self, under: Record) -> None:
        self.asked: Asked = []
        super().__init__(under.access, under.clock, under.db, under.ids, read_only=True)
        self.asked.clear()  # what it asks to open is not a standing's

    def read(self, sql: str, values: Values) -> list[Row]:
        self.asked.append((sql, values))
        return super().read(sql, values)


def lines(place: Place) -> list[Line]:
    """Two lines, in milliseconds a standing."""
    with ExitStack() as open_files:
        large = open_files.enter_context(open_record(place.large, SetClock(utc_now()), read_only=True))
        small = open_files.enter_context(open_record(place.small, SetClock(utc_now()), read_only=True))
        raw = sqlite3.connect(f"{place.large.as_uri()}?mode=ro", uri=True)
        open_files.callback(raw.close)
        asked = [_asked(large, episode) for episode in _some(place.large)]
        of_large, of_raw, of_small = alternate(
            place.runs,
            _each(large, _some(place.large)),
            partial(_timed, [partial(_fetch, raw, one) for one in asked]),
            _each(small, _some(place.small)),
        )
    what = "episode's standing"
    return [
        Line(f"{what}, large record", "ms", of_large, 1.5, Against.RATIO, "the same SQL, raw tuples", of_raw),
        Line(f"{what}, large against small", "ms", of_large, 1.3, Against.RATIO, "small record", of_small),
    ]


def _some(path: Path) -> list[str]:
    """As many open episodes, spread over the file."""
    connection = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    try:
        ids = [row[0] for row in connection.execute(_OPEN)]
    finally:
        connection.close()
    return ids[:: len(ids) // EPISODES][:EPISODES]


def _care(record: Record) -> Care:
    return Care(record, load(), record.clock)


def _asked(record: Record, episode: str) -> Asked:
    listening = Listening(record)
    standing(_care(listening), episode)
    return listening.asked


def _each(record: Record, episodes: Sequence[str]) -> Callable[[], float]:
    care = _care(record)
    return partial(_timed, [partial(standing, care, one) for one in episodes])


def _fetch(raw: sqlite3.Connection, asked: Asked) -> list[list[Row]]:
    return [raw.execute(sql, values).fetchall() for sql, values in asked]


def _timed(acts: Sequence[Callable[[], object]]) -> float:
    """Milliseconds an act."""
    start = time.perf_counter()
    for act in acts:
        act()
    return (time.perf_counter() - start) * 1000 / len(acts)
