"""From exec to the first row painted, in a pseudo-terminal, on the large record."""

from __future__ import annotations

from tests.bench.filled import LABEL
from tests.bench.lines import Against, Line, alternate
from tests.bench.place import Place
from tests.terminal.driver import Terminal


def lines(place: Place) -> list[Line]:
    """One line: milliseconds until a person of the caseload stands on the screen."""
    ours, peer = alternate(
        place.runs,
        lambda: _painted(place.bothfeet(place.large), LABEL),
        lambda: _painted(place.bare("widgets"), b"painted"),
    )
    what = "start: exec to first row painted, large record"
    return [Line(what, "ms", ours, 1.35, Against.RATIO, "bare Textual app of three widgets", peer)]


def _painted(terminal: Terminal, first: bytes) -> float:
    with terminal:
        return (terminal.wait_raw(first) - terminal.started) * 1000
