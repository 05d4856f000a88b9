"""The grammar on anything: it reads back what it prints, and fails in one way only."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.entry import CONDITIONS, Entry, SideEntry, asks_of, line_of, says_of, status_of
from store.entry.errors import EntryError, hidden
from store.entry.grammar import parse
from store.entry.said import parse_said
from store.entry.trials import values_in
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Side, Status
from tests.reckon.made import EVERY, LUNGE, NAMES, find

NOTES = st.text(max_size=200).map(lambda text: "".join(c for c in text if not hidden(c)).strip()).filter(bool)


@st.composite
def side_entries(draw: st.DrawFn, measure: Measure, side: Side | None) -> SideEntry:
    numbers = st.floats(measure.low, measure.high).map(lambda value: round(value, 6) + 0.0)
    trials = tuple(draw(st.lists(numbers, max_size=measure.counted)))
    return SideEntry(side, trials, status_of(trials, measure) if trials else Status.UNABLE)


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    measure = draw(st.sampled_from(EVERY))
    chosen: list[Side | None] = [None]
    if measure.paired:
        chosen = draw(st.sampled_from([[Side.LEFT], [Side.RIGHT], [Side.LEFT, Side.RIGHT]]))
    sides = tuple(draw(side_entries(measure, side)) for side in chosen)
    return Entry(
        measure,
        sides,
        draw(st.none() | st.sampled_from(Moment)),
        tuple(draw(st.lists(st.sampled_from(CONDITIONS), unique=True))),
        draw(st.none() | NOTES),
        asks=tuple(ask for side in sides for ask in asks_of(side, measure)),
        says=tuple(say for side in sides for say in says_of(side, measure)),
    )


def test_a_small_number_is_printed_in_plain_digits() -> None:
    entry = parse('lunge l 0.0000001 note """"', find)
    assert line_of(entry) == 'lunge left 0.0000001 note """"'


@given(entries())
def test_a_printed_entry_reads_back_the_same(entry: Entry) -> None:
    back = parse(line_of(entry), find)
    assert back == entry
    assert line_of(back) == line_of(entry)


PIECES = (
    *NAMES,
    *("left", "right", "l", "r", "before", "after", "unable", "cap", "note", '"', '""', "“", "”", "brace"),
    *("4,5", "4.5", "45mm", "mm", "°", "-4", "nan", "٤", "½", ",", ";", "/10", "home", "5/7", "gaveway", "worst"),
    *("\x1b", "\n", "\u202e", " ", "9" * 300),
)
LINES = st.text(max_size=60) | st.lists(st.sampled_from(PIECES) | st.text(max_size=3), max_size=14).map(" ".join)
READERS: dict[str, Callable[[str], object]] = {
    "line": lambda line: parse(line, find, names=NAMES),
    "said": lambda line: parse_said(line, find),
    "values": lambda line: values_in(line, LUNGE),
}


def fault(reader: str, line: str) -> EntryError | None:
    """What a reader says of a line; nothing but EntryError is caught."""
    try:
        READERS[reader](line)
    except EntryError as error:
        return error
    return None


@given(LINES, st.sampled_from(sorted(READERS)))
def test_any_text_reads_or_names_a_word(line: str, reader: str) -> None:
    error = fault(reader, line)
    if error is not None:
        assert error.why
        assert error.word or not line.strip()
        assert 0 <= error.start <= error.end <= len(line)
        assert str(error).isprintable()
        assert len(str(error)) < 250


LONG = ("8 " * 5000, "." * 10_000, '"' * 10_000, "lunge " + "9" * 10_000, "é" * 10_000, "lunge" + " l 1" * 2500)


@pytest.mark.parametrize("reader", sorted(READERS))
@pytest.mark.parametrize("line", LONG, ids=range(len(LONG)))
def test_ten_kilobytes_cost_no_more_than_a_line(line: str, reader: str) -> None:
    def best(text: str) -> float:
        times = []
        for _ in range(20):
            start = time.perf_counter()
            fault(reader, text)
            times.append(time.perf_counter() - start)
        return min(times)

    assert best(line) < 5 * best("lunge left 10.2 10.4 10.3 right 8.1 8.3 8.2 after brace") + 1e-4
