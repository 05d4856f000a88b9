"""A reading saved, to disk, acknowledged: by the record, and by the act a screen calls, against a raw insert."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from statistics import median

from store.care import measuring
from store.care.care import Care
from store.care.visits import start_visit
from store.knowledge.load import load
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Reading, Side
from store.record.clinical import insert_sql
from store.record.episodes import episode
from store.record.file import open_record
from store.record.handle import Record
from store.record.readings import add_readings
from store.record.rows import instant, reading_values
from tests.bench.filled import utc_now
from tests.bench.lines import Against, Line, alternate
from tests.bench.place import Place

SAVES = 20
Save = Callable[[], object]
_OPEN = "SELECT id FROM episode WHERE closed_at IS NULL ORDER BY id"


def lines(place: Place) -> list[Line]:
    """Two lines, in milliseconds a reading; each arm on its own copy of the large record."""
    with ExitStack() as stack:
        record = stack.enter_context(_copy(place, "by-record"))
        acting = stack.enter_context(_copy(place, "by-act"))
        raw = stack.enter_context(_copy(place, "raw"))
        by_record, by_act, by_raw = alternate(
            place.runs,
            _saves(_by_record(record)),
            _saves(_by_act(acting)),
            _saves(_by_raw(raw)),
        )
    peer = "raw insert, same schema and pragmas"
    return [
        Line("a reading saved, by the record", "ms", by_record, 1.5, Against.RATIO, peer, by_raw),
        Line("a reading saved, by the act of a screen", "ms", by_act, 1.5, Against.RATIO, peer, by_raw),
    ]


@contextmanager
def _copy(place: Place, name: str) -> Iterator[Record]:
    path = place.folder / f"{name}.sqlite"
    shutil.copyfile(place.large, path)
    with open_record(path, SetClock(utc_now())) as record:
        yield record


def _episodes(record: Record) -> Iterator[Episode]:
    """Open episodes, one after the other."""
    for (episode_id,) in record.read(_OPEN, {}):
        found = episode(record, episode_id)
        assert found is not None
        yield found


def _reading(record: Record, of: Episode) -> Reading:
    measure = load().measures["lunge"]
    return Reading(
        id="",
        person=of.person,
        measure=measure.id,
        unit=measure.unit,
        taken=record.clock.now(),
        side=Side.LEFT,
        value=8.5,
        trials=(8.5, 8.4, 8.6),
        episode=of.id,
        protocol=measure.protocol,
    )


def _by_record(record: Record) -> Callable[[], Save]:
    of = _episodes(record)

    def ready() -> Save:
        reading = _reading(record, next(of))
        return lambda: add_readings(record, [reading])

    return ready


def _by_act(record: Record) -> Callable[[], Save]:
    """Each run in a visit of its own, so that no visit holds more readings than one does."""
    care = Care(record, load(), record.clock, examiner="bench")
    of = _episodes(record)

    def ready() -> Save:
        subject = measuring.subject_of(care, start_visit(care, next(of)))
        entry = measuring.read_line(care, subject, "lunge left 8.5 8.4 8.6")
        return lambda: measuring.save(care, subject, entry)

    return ready


def _by_raw(record: Record) -> Callable[[], Save]:
    """The least that the rows cost: ready-made values, one bound INSERT in a transaction of its own."""
    db, of = record.db, _episodes(record)
    revised = {"revised_by": "", "revised_because": "", **instant("revised", record.clock.now(), local_date=False)}

    def ready() -> Save:
        reading = _reading(record, next(of))
        rows = [
            {**reading_values(reading._replace(id=record.new_id())), "revision": record.new_id(), **revised}
            for _ in range(SAVES)
        ]
        sql = insert_sql("reading", rows[0])

        def insert() -> None:
            db.execute("BEGIN IMMEDIATE")
            db.execute(sql, rows.pop())
            db.execute("COMMIT")

        return insert

    return ready


def _saves(ready: Callable[[], Save]) -> Callable[[], float]:
    """An arm: the median milliseconds of some saves, since a checkpoint now and then falls to one of them."""

    def arm() -> float:
        save = ready()
        taken = []
        for _ in range(SAVES):
            start = time.perf_counter()
            save()
            taken.append(time.perf_counter() - start)
        return median(taken) * 1000

    return arm
