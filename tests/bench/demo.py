"""The invented people: how long a fresh process builds them, and from exec to the first of them painted."""

from __future__ import annotations

import subprocess
import sys
from itertools import count
from time import perf_counter

from tests.bench.filled import LABEL
from tests.bench.lines import Against, Line, alternate
from tests.bench.place import Place

FIRST = b"R.K."
"""Somebody of the first page of the caseload, as her label is painted."""


def lines(place: Place) -> list[Line]:
    """Two lines, in milliseconds: the build from exec to the end of the process, and the screens from exec on."""
    numbers = count()
    (built,) = alternate(place.runs, lambda: _built(place, next(numbers)))
    ours, peer = alternate(place.runs, lambda: _painted(place, "demo"), lambda: _opened(place))
    return [
        Line("demo: a fresh process builds it on this disk", "ms", built, 1000, Against.ALONE),
        Line("demo: exec to first row painted", "ms", ours, 1000, Against.MORE, "opening a small record", peer),
    ]


def _built(place: Place, nth: int) -> float:
    began = perf_counter()
    to = place.folder / f"demo-{nth}.sqlite"
    subprocess.run([sys.executable, "-m", "store.demo", to], check=True, timeout=60)
    return (perf_counter() - began) * 1000


def _painted(place: Place, *words: str) -> float:
    with place.bothfeet(*words) as terminal:
        return (terminal.wait_raw(FIRST) - terminal.started) * 1000


def _opened(place: Place) -> float:
    with place.bothfeet(place.small) as terminal:
        return (terminal.wait_raw(LABEL) - terminal.started) * 1000
