"""Identifiers never repeat and never go back, whatever the clock does."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.record.uuid7 import RANDOM_BITS, Ids, made_at, uuid7

MS = st.integers(0, (1 << 48) - 2)
BITS = st.integers(0, (1 << RANDOM_BITS) - 1)
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


@given(st.lists(st.tuples(MS, BITS), min_size=2, max_size=20))
def test_each_is_greater_than_the_one_before_it(moments: list[tuple[int, int]]) -> None:
    last, made = "", []
    for ms, bits in moments:
        last = uuid7(ms, bits, last)
        made.append(last)
    assert made == sorted(set(made))


@given(MS, BITS, BITS)
def test_within_one_millisecond_it_still_counts_up(ms: int, one: int, other: int) -> None:
    first = uuid7(ms, one)
    second = uuid7(ms, other, first)
    assert first < second
    assert second[14] == "7"
    assert second[19] in "89ab"


def test_a_later_millisecond_takes_the_time_and_the_randomness_it_is_given() -> None:
    assert uuid7(11, 5, uuid7(10, 9)) == uuid7(11, 5)


def test_a_full_counter_runs_over_into_the_milliseconds() -> None:
    full = uuid7(10, (1 << RANDOM_BITS) - 1)
    assert uuid7(10, 0, full) == uuid7(11, 0)


@pytest.mark.parametrize(("ms", "bits"), [(-1, 0), (1 << 48, 0), (0, -1), (0, 1 << RANDOM_BITS)])
def test_what_does_not_fit_is_refused(ms: int, bits: int) -> None:
    with pytest.raises(ValueError, match="48 bits"):
        uuid7(ms, bits)


def test_after_the_very_last_one_there_is_none() -> None:
    with pytest.raises(ValueError, match="no UUIDv7 is left"):
        uuid7(0, 0, "ffffffff-ffff-7fff-bfff-ffffffffffff")


def test_a_clock_set_back_gives_no_smaller_one() -> None:
    ids = Ids(random.Random(7).getrandbits)
    now = ids.next(NOON)
    back = ids.next(NOON - timedelta(days=400))
    again = ids.next(NOON + timedelta(seconds=1))
    assert now < back < again


def test_it_can_be_made_greater_than_one_from_another_file() -> None:
    theirs = uuid7(1 << 47, 3)
    assert Ids().next(NOON, after=theirs) > theirs


def test_a_seed_gives_the_same_ones_again() -> None:
    one, other = Ids(random.Random(7).getrandbits), Ids(random.Random(7).getrandbits)
    assert [one.next(NOON) for _ in range(5)] == [other.next(NOON) for _ in range(5)]


@pytest.mark.parametrize(
    "text", ["", "e", "01a21228-a7c0-4212-9bfb-5bdf192b869e", "01A21228-A7C0-7212-9BFB-5BDF192B869E"]
)
def test_what_is_no_uuid7_was_made_at_no_time(text: str) -> None:
    assert made_at(text) is None


def test_when_one_was_made_is_told_to_the_millisecond() -> None:
    """The example of RFC 9562, appendix A.6: Tuesday, February 22, 2022 2:22:22.00 PM GMT-05:00."""
    assert made_at("017f22e2-79b0-7cc3-98c4-dc0c0c07398f") == datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC)
