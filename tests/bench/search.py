"""Finding somebody among ten thousand: from each key typed to the list painted, in a pseudo-terminal."""

from __future__ import annotations

import random
import sqlite3
import time
from pathlib import Path
from statistics import median

from tests.bench.filled import LABEL
from tests.bench.lines import Against, Line, nearest_rank
from tests.bench.place import Place
from tests.terminal.driver import Terminal

LABELS_A_RUN = 3


def lines(place: Place) -> list[Line]:
    """One line: the median over the runs of the 99th percentile, in milliseconds a key."""
    labels = _labels(place.large, place.runs * LABELS_A_RUN)
    with place.bothfeet(place.large) as terminal:
        terminal.wait_raw(LABEL)
        terminal.press("f5")  # the closed ones too: everybody
        terminal.settle()
        taken = [
            nearest_rank([ms for label in labels[run :: place.runs] for ms in _typed(terminal, label)], 0.99)
            for run in range(place.runs)
        ]
    what = "search while typing in 10,000 people, p99"
    return [
        Line(what, "ms", median(taken), 50, Against.ALONE, how=f"key to list painted, worst {max(taken):.0f} ms")
    ]


def _labels(path: Path, count: int) -> list[str]:
    connection = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    try:
        everybody = [row[0] for row in connection.execute("SELECT label FROM person ORDER BY id")]
    finally:
        connection.close()
    return random.Random(1).sample(everybody, count)


def _typed(terminal: Terminal, label: str) -> list[float]:
    """Type a label key by key into the empty field, each once the screen is still, and empty it again."""
    taken = []
    for key in label.lower():
        taken.append(_painted(terminal, key))
    _painted(terminal, "ctrl+u")  # not esc: an application waits after it to see whether more of a key comes
    return taken


def _painted(terminal: Terminal, key: str) -> float:
    mark, pressed = len(terminal.raw), time.perf_counter()
    terminal.press(key)
    painted = terminal.wait_raw(LABEL, since=mark)
    terminal.settle()
    return (painted - pressed) * 1000
