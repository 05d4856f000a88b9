"""While a bout runs, old things are not looked through for what may be freed: that would hold up a cue."""

from __future__ import annotations

import gc

NEVER = 2**30
"""So many sweeps of young things that one of all things never falls due."""

_held: list[tuple[int, int, int]] = []
"""What stood before each that holds them off, the first first."""


def hold_off() -> None:
    """From now on only what is young is looked through, which is soon done; all of it takes 40 to 100 ms."""
    _held.append(gc.get_threshold())
    young, younger, _ = gc.get_threshold()
    gc.set_threshold(young, younger, NEVER)


def let_go() -> None:
    """As it was before, once nobody holds them off any more.

    What was set aside as the program's own (`gc.freeze`, when it was first painted) stays aside: to take it in
    again, and through it all at the end of each bout, took longer than what is put off here.
    """
    was = _held.pop()
    if not _held:
        gc.set_threshold(*was)
