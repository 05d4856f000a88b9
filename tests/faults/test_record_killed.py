"""Killed at any instant, the file is whole and holds every reading that was acknowledged."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.record.check import check
from store.record.file import open_record
from store.record.people import find_people
from store.record.readings import readings_of_person

ROOT = Path(__file__).parents[2]
KILLS = 20

CHILD = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from store.knowledge.time import SetClock
from store.knowledge.words import Reading, Side
from store.record.file import open_record
from store.record.people import find_people
from store.record.readings import add_readings

clock = SetClock(datetime(2026, 11, 25, 9, 38, tzinfo=UTC))
record = open_record(Path(sys.argv[1]), clock)
person = find_people(record, "")[0]
while True:
    clock.move(1)
    pair = [Reading("", person.id, "lunge", "cm", clock.now(), side, 10.2) for side in Side]
    for reading in add_readings(record, pair):
        print(reading.id, flush=True)
"""


def acknowledged_until_killed(path: Path, chance: random.Random) -> list[str]:
    """Ids printed by a child that saves pairs of readings, until it is killed at a moment drawn by chance."""
    child = subprocess.Popen([sys.executable, "-c", CHILD, path], cwd=ROOT, stdout=subprocess.PIPE, text=True)
    assert child.stdout is not None
    printed = [child.stdout.readline().strip() for _ in range(chance.randint(1, 40))]
    until = time.perf_counter() + chance.uniform(0, 0.003)
    while time.perf_counter() < until:
        pass  # the moment within a save is what is tested: a sleep would not hit it so finely
    child.send_signal(signal.SIGKILL)
    rest, _ = child.communicate()
    lines = rest.split("\n")[:-1]  # the last line may be cut short by the kill
    return [*printed, *lines]


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL is a signal of POSIX systems")
def test_every_acknowledged_reading_is_there_after_a_kill(path: Path, clock: SetClock) -> None:
    chance = random.Random(20261125)
    acknowledged: set[str] = set()
    for kill in range(KILLS):
        acknowledged |= set(acknowledged_until_killed(path, chance))
        assert check(path) == [], f"kill {kill}"
        with open_record(path, clock) as record:
            person = find_people(record, "")[0]
            kept = readings_of_person(record, person.id)
            assert acknowledged <= {reading.id for reading in kept}, f"kill {kill}"
            assert len(kept) % 2 == 0, f"kill {kill}: of a pair saved together one is missing"
    assert len(acknowledged) > KILLS
