"""How late the bell comes out of the terminal, against a bare timer that rings while it repaints."""

from __future__ import annotations

import time
from importlib.util import find_spec

from tests.bench.in_bout import COUNTDOWN_S, PHASE_S, Bouts
from tests.bench.lines import Against, Line, nearest_rank
from tests.bench.place import Place
from tests.terminal.driver import PATIENCE_S

BELLS = 11  # a run; the first answers the key that starts, and is no cue that could be foreseen: left out
_SHARE = 0.99
_SOUND = ("beside", "handed")
_WHAT = {
    "": "cue lateness p99, bell at the pty",
    "beside": "the same while tones and numbers sound",
    "handed": "a tone given to the sound device",
}
_EVERY_S = 1.0  # the bare timer's


def lines(place: Place) -> list[Line]:
    """The 99th percentile over all bells, in milliseconds after they were due: without sound, and with it."""
    bouts = Bouts(place, "cues")
    ours: dict[str, list[float]] = {where: [] for where in _WHAT if where not in _SOUND or _can_sound()}
    peer: list[float] = []
    for _ in range(place.runs):
        for where, late in ours.items():
            late += _of_a_bout(bouts, where)
        peer += _of_the_timer(place)
    bare = nearest_rank(peer, _SHARE)
    return [
        Line(
            _WHAT[where], "ms", nearest_rank(late, _SHARE), 2.0, Against.MORE,
            "bare event-loop timer, 10 Hz repaint", bare, f"{len(late)} bells, give or take 1 ms",
        )
        for where, late in ours.items()
    ]  # fmt: skip


def _can_sound() -> bool:
    return find_spec("miniaudio") is not None


def _of_a_bout(bouts: Bouts, sounding: str) -> list[float]:
    """Lateness of the first bells of a bout: its countdown by the second, then each phase.

    What is due follows from the instant of the start, which the record keeps to the millisecond.
    """
    due_s = [float(n) for n in range(COUNTDOWN_S)] + [
        COUNTDOWN_S + n * PHASE_S for n in range(BELLS - COUNTDOWN_S)
    ]
    with bouts.begun(sounding) as terminal:
        bells = terminal.wait_bells(BELLS, within=due_s[-1] + PATIENCE_S)
    start = bouts.last_start().timestamp() - time.time() + time.perf_counter()
    return [(bell - start - due) * 1000 for bell, due in zip(bells, due_s, strict=True)][1:]


def _of_the_timer(place: Place) -> list[float]:
    """Lateness of the bare timer's bells; it says when the first was due, on the clock they share."""
    with place.bare("timer", str(_EVERY_S), str(BELLS)) as terminal:
        bells = terminal.wait_bells(BELLS, within=BELLS * _EVERY_S + PATIENCE_S)
        start = float(terminal.raw.split(b"start ", 1)[1].split()[0])
    return [(bell - start - n * _EVERY_S) * 1000 for n, bell in enumerate(bells)][1:]
