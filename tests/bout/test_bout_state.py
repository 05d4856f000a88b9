"""Two states are the same when they stand alike, however they came there."""

from __future__ import annotations

from store.bout.events import Event, Kind
from store.bout.state import Mode, SetResult, State, Times
from store.knowledge.words import Side

STATE = State(Mode.WORKING, Times((), 3000, 1000), current=SetResult(0, Side.LEFT, 1), beats=2)


def test_how_it_came_there_makes_no_difference() -> None:
    later = STATE._replace(seq=7, known_ms=900, kept=(Event(7, Kind.BEAT, 900),))
    assert (later.seq, later.known_ms, len(later.kept)) == (7, 900, 1)
    assert later == STATE
    assert not later != STATE  # noqa: SIM202 - a tuple answers this by itself
    assert hash(later) == hash(STATE)


def test_where_it_stands_does() -> None:
    assert STATE._replace(beats=3) != STATE
    assert not STATE._replace(beats=3) == STATE  # noqa: SIM201 - a tuple answers this by itself
    assert tuple(STATE) != STATE
