"""Memory held once the first screen stands, on the large record."""

from __future__ import annotations

from pathlib import Path

from tests.bench.filled import LABEL
from tests.bench.lines import Against, Line, Waits, alternate
from tests.bench.place import Place
from tests.terminal.driver import Terminal

SETTLE_S = 0.5


def lines(place: Place) -> list[Line | Waits]:
    """One line: resident megabytes, as the kernel counts them."""
    what = "memory, large record"
    if not Path("/proc/self/status").exists():
        return [Waits(what, "this system does not say how much memory another process holds")]
    ours, peer = alternate(
        place.runs,
        lambda: _resident(place.bothfeet(place.large), LABEL),
        lambda: _resident(place.bare("widgets"), b"painted"),
    )
    return [Line(what, "MB", ours, 1.6, Against.RATIO, "bare Textual app of three widgets", peer)]


def _resident(terminal: Terminal, first: bytes) -> float:
    with terminal:
        terminal.wait_raw(first)
        terminal.watch(SETTLE_S)
        status = Path(f"/proc/{terminal.pid}/status").read_text()
    return next(int(line.split()[1]) / 1024 for line in status.splitlines() if line.startswith("VmRSS:"))
