"""How late the bell comes out of the terminal, against a bare timer that rings while it repaints."""

from __future__ import annotations

import time

from tests.bench.in_bout import COUNTDOWN_S, PHASE_S, Bouts
from tests.bench.lines import Against, Line, nearest_rank
from tests.bench.place import Place
from tests.terminal.driver import PATIENCE_S

BELLS = 11  # a run; the first answers the key that starts, and is no cue that could be foreseen: left out
_EVERY_S = 1.0  # the bare timer's


def lines(place: Place) -> list[Line]:
    """One line: the 99th percentile over all bells, in milliseconds after they were due."""
    bouts = Bouts(place, "cues")
    ours: list[float] = []
    peer: list[float] = []
    for _ in range(place.runs):
        ours += _of_a_bout(bouts)
        peer += _of_the_timer(place)
    what, share = "cue lateness p99, bell at the pty", 0.99
    how = f"{len(ours)} bells, give or take 1 ms"
    late = (nearest_rank(ours, share), nearest_rank(peer, share))
    return [Line(what, "ms", late[0], 2.0, Against.MORE, "bare event-loop timer, 10 Hz repaint", late[1], how)]


def _of_a_bout(bouts: Bouts) -> list[float]:
    """Lateness of the first bells of a bout: its countdown by the second, then each phase.

    What is due follows from the instant of the start, which the record keeps to the millisecond.
    """
    due_s = [float(n) for n in range(COUNTDOWN_S)] + [
        COUNTDOWN_S + n * PHASE_S for n in range(BELLS - COUNTDOWN_S)
    ]
    with bouts.begun() as terminal:
        bells = terminal.wait_bells(BELLS, within=due_s[-1] + PATIENCE_S)
    start = bouts.last_start().timestamp() - time.time() + time.perf_counter()
    return [(bell - start - due) * 1000 for bell, due in zip(bells, due_s, strict=True)][1:]


def _of_the_timer(place: Place) -> list[float]:
    """Lateness of the bare timer's bells; it says when the first was due, on the clock they share."""
    with place.bare("timer", str(_EVERY_S), str(BELLS)) as terminal:
        bells = terminal.wait_bells(BELLS, within=BELLS * _EVERY_S + PATIENCE_S)
        start = float(terminal.raw.split(b"start ", 1)[1].split()[0])
    return [(bell - start - n * _EVERY_S) * 1000 for n, bell in enumerate(bells)][1:]
