"""While bouts run nothing old is looked through; after them all is as it was, and what was aside stays aside."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.clock.desk import desk
from tui.clock import sweeps

USUAL = (700, 10, 10)


@pytest.fixture(autouse=True)
def nobody_holds_them_off(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """As at the start of the program: bouts of other tests may not have ended."""
    was = gc.get_threshold()
    monkeypatch.setattr(sweeps, "_held", [])
    gc.set_threshold(*USUAL)
    yield
    gc.set_threshold(*was)


def test_while_it_is_held_off_only_what_is_young_is_looked_through() -> None:
    sweeps.hold_off()
    sweeps.hold_off()
    assert gc.get_threshold() == (*USUAL[:2], sweeps.NEVER)
    sweeps.let_go()
    assert gc.get_threshold() == (*USUAL[:2], sweeps.NEVER)
    sweeps.let_go()
    assert gc.get_threshold() == USUAL


async def test_a_bout_leaves_aside_what_was_set_aside_at_the_first_paint(tmp_path: Path) -> None:
    gc.freeze()
    aside = gc.get_freeze_count()
    at = await desk(tmp_path, "hold_firm")
    assert gc.get_threshold() == (*USUAL[:2], sweeps.NEVER)
    at.driver.stop()
    at.driver.stop()
    assert gc.get_threshold() == USUAL
    assert aside * 0.9 < gc.get_freeze_count() <= aside  # some are freed as nobody uses them any more
