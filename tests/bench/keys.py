"""From a key to what it paints, while a bout runs, against a bare field: in pseudo-terminals of one size."""

from __future__ import annotations

import itertools
import random
import time
from collections.abc import Iterator

from tests.bench.in_bout import Bouts
from tests.bench.lines import Against, Line, nearest_rank
from tests.bench.place import Place
from tests.terminal.driver import Terminal

TURNS, PAINS, LETTERS = 60, 30, 60  # keys a run
_SPREAD_S = 0.1  # keys fall anywhere between two repaints
_PARTS = ("lunge", "hold", "back", "rest")


def lines(place: Place) -> list[Line]:
    """Two lines, in milliseconds: a key that only paints, and one that is on disk before it is painted."""
    bouts = Bouts(place, "keys")
    chance = random.Random(place.runs)
    turns: list[float] = []
    pains: list[float] = []
    letters: list[float] = []
    with place.bare("field") as field:
        field.wait_raw(b"painted")
        for _ in range(place.runs):
            with bouts.begun() as terminal:
                terminal.wait_for("rep 1 of")
                turns += _pressed(terminal, itertools.islice(_turns(), TURNS), chance)
                pains += _pressed(terminal, itertools.islice(_pains(), PAINS), chance)
            letters += _pressed(field, _letters(), chance)
            _emptied(field)
    peer = nearest_rank(letters, 0.99)
    return [
        _line("key to redraw while a bout runs, p99", turns, peer),
        _line("the same, on disk before it is painted, p99", pains, peer),
    ]


def _line(what: str, taken: list[float], peer: float) -> Line:
    ours = nearest_rank(taken, 0.99)
    return Line(what, "ms", ours, 1.5, Against.RATIO, "bare Input", peer, how=f"{len(taken)} keys")


def _turns() -> Iterator[tuple[str, bytes]]:
    """The arrow that marks the next part of the dose."""
    for part in itertools.cycle(_PARTS):
        yield "right", f"▸{part}".encode()


def _pains() -> Iterator[tuple[str, bytes]]:
    """Pain in the set, a different figure each time."""
    for n in itertools.cycle(range(1, 10)):
        yield str(n), f"pain {n} in set".encode()


def _letters() -> Iterator[tuple[str, bytes]]:
    """Letters into the field, whose whole text is painted again."""
    text = ""
    for letter in itertools.islice(itertools.cycle("abcdefghijklmnopqrstuvwxyz"), LETTERS):
        text += letter
        yield letter, text.encode()


def _pressed(terminal: Terminal, keys: Iterator[tuple[str, bytes]], chance: random.Random) -> list[float]:
    """Milliseconds from each key to what it paints."""
    taken = []
    for key, painted in keys:
        terminal.watch(chance.uniform(0, _SPREAD_S))
        mark, at = len(terminal.raw), time.perf_counter()
        terminal.press(key)
        taken.append((terminal.wait_raw(painted, since=mark) - at) * 1000)
    return taken


def _emptied(field: Terminal) -> None:
    mark = len(field.raw)
    field.press("ctrl+u")
    field.wait_raw(b"ainted", since=mark)  # the cursor stands on the first letter
