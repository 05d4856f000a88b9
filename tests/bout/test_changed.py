"""Changing parts of a frozen object gives what the standard library gives."""

from __future__ import annotations

import dataclasses

import pytest

from store.bout.changed import replace
from store.bout.events import Event, Kind
from store.bout.state import Mode, SetResult, State, Times
from store.knowledge.words import Side


def test_as_the_standard_library_does_it() -> None:
    state = State(Mode.WORKING, Times((), 3000, 1000), current=SetResult(0, Side.LEFT, 1), seq=7, known_ms=900)
    event = Event(8, Kind.BEAT, 1000)
    made = replace(state, beats=3, kept=(event,), seq=8)
    like = dataclasses.replace(state, beats=3, kept=(event,), seq=8)
    assert [getattr(made, one.name) for one in dataclasses.fields(State)] == [
        getattr(like, one.name) for one in dataclasses.fields(State)
    ]
    assert (state.beats, state.seq) == (0, 7)


def test_a_part_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        replace(Times((), 3000, 1000), hold_s=3)
