from __future__ import annotations

import pytest

from store.care.timing import Cue, Tone
from tui.clock.sound import Bell


def rung(*cues: Cue, on: bool = True) -> int:
    rings: list[int] = []
    Bell(lambda: rings.append(1), on=on).cue(cues)
    return len(rings)


@pytest.mark.parametrize(
    ("cue", "rings"),
    [
        (Cue(0, Tone.RISING, "4"), 1),
        (Cue(0, Tone.LEVEL, "hold"), 1),
        (Cue(0, Tone.FALLING, "back"), 1),
        (Cue(0, Tone.END, "rest"), 1),
        (Cue(0, Tone.TICK, "3"), 1),
        (Cue(0, Tone.TICK, "1"), 1),
        (Cue(0, Tone.TICK, "10"), 0),
        (Cue(0, Tone.TICK), 0),
    ],
)
def test_it_rings_for_starts_ends_and_the_last_three_seconds_only(cue: Cue, rings: int) -> None:
    assert rung(cue) == rings


def test_what_is_due_together_rings_once() -> None:
    assert rung(Cue(0, Tone.END, "rest"), Cue(0, Tone.TICK, "3")) == 1


def test_it_can_be_switched_off() -> None:
    assert rung(Cue(0, Tone.END, "rest"), on=False) == 0


def test_it_answers_a_fault_and_a_pause_but_not_a_counted_rep() -> None:
    rings: list[int] = []
    bell = Bell(lambda: rings.append(1))
    bell.answer(Cue(0, Tone.TICK, "7"))
    assert len(rings) == 0
    bell.answer(Cue(0, Tone.TICK))
    bell.answer(Cue(0, Tone.FALLING, "paused"))
    assert len(rings) == 2
    bell.on = False
    bell.answer(Cue(0, Tone.TICK))
    assert len(rings) == 2
