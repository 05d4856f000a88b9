"""The grammar on the program's own measures."""

from __future__ import annotations

import pytest

from store.entry.entry import line_of
from store.entry.grammar import parse
from store.entry.numbers import plain
from store.entry.said import MEASURES, parse_said
from store.knowledge.kinds import Measure
from store.knowledge.load import load

KNOWN = load()


@pytest.mark.parametrize("measure", KNOWN.measures.values(), ids=lambda measure: measure.id)
def test_every_measure_is_read_by_each_of_its_names(measure: Measure) -> None:
    usual = plain(measure.usual_low)
    line = f"{usual} {usual}" if measure.paired else usual
    for name in (measure.id, *measure.short_forms):
        entry = parse(f"{name} {line}", KNOWN.find_measure)
        assert entry.measure is measure
        assert entry.asks == ()
        assert parse(line_of(entry), KNOWN.find_measure) == entry


def test_what_a_person_says_has_its_measures() -> None:
    said = parse_said("pain 2 worst 4 morning 1 walk 1 gaveway 0 home 5/7 confidence 6", KNOWN.find_measure)
    assert [entry.measure.id for entry in said.entries] == list(MEASURES.values())
