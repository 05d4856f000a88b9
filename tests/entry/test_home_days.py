"""The days at home in one line, on a Wednesday."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.errors import EntryError
from store.entry.home_days import MOST, HomeDay, HomeDays, line_of, parse_home_days
from store.entry.past import BACK_DAYS

TODAY = date(2026, 11, 25)
MON, TUE, WED = date(2026, 11, 23), date(2026, 11, 24), TODAY


def read(line: str, today: date = TODAY) -> HomeDays:
    return parse_home_days(line, today)


@pytest.mark.parametrize(
    ("line", "days"),
    [
        ("mon 3 pain 1, tue 2, wed 0", [(MON, 3, 1), (TUE, 2, None), (WED, 0, None)]),
        ("Wed 0; MON 3 morning 1 tuesday 2", [(MON, 3, 1), (TUE, 2, None), (WED, 0, None)]),
        ("thu 4", [(date(2026, 11, 19), 4, None)]),  # the last one
        ("mon-wed 2", [(MON, 2, None), (TUE, 2, None), (WED, 2, None)]),
        ("sat-mon 1 pain 0", [(date(2026, 11, 21), 1, 0), (date(2026, 11, 22), 1, 0), (MON, 1, 0)]),
        ("yesterday 2 pain 10 , today 1", [(TUE, 2, 10), (WED, 1, None)]),
        ("3 nov 2", [(date(2026, 11, 3), 2, None)]),
        ("3. dec 2", [(date(2025, 12, 3), 2, None)]),
        ("2026-11-20 2", [(date(2026, 11, 20), 2, None)]),
    ],
)
def test_days_are_read(line: str, days: list[tuple[date, int, int | None]]) -> None:
    assert read(line) == HomeDays(tuple(HomeDay(*day) for day in days))


@pytest.mark.parametrize(
    ("line", "said"),
    [("5/7 morning 2", (5, 7, 2)), ("0/7", (0, 7, None)), ("5/7, pain 0", (5, 7, 0))],
)
def test_so_many_of_so_many_days(line: str, said: tuple[int, int, int | None]) -> None:
    found = read(line)
    assert (found.done, found.planned, found.morning) == said
    assert not found.days


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("", "nothing to read"),
        (" , ", "nothing to read"),
        ("mon", "how many were done"),
        ("mon 3 pain", "no figure behind it"),
        ("mon 3 pain 11", "whole number from 0 to 10"),
        ("mon 3 pain 1,5", "whole number from 0 to 10"),
        ("mon 2.5", "not a count"),
        ("mon ٣", "not a count"),
        ("mon 21", "at most 20"),
        ("mon 3 mon 2", "said twice"),
        ("mon-wed 3, tue 1", "said twice"),
        ("today 3 pain 1", "not known yet"),
        ("2026-11-26 3", "still to come"),
        ("2025-11-01 3", "more than a year ago"),
        ("30 feb 3", "not in the calendar"),
        ("2026-13-01 3", "not in the calendar"),
        ("blue 3", "no day"),
        ('"mon" 3', "no quotes"),
        ("7/5", "more days done than planned"),
        ("0/0", "can be planned"),
        ("5/7 morning", "no figure"),
        ("5/7 mon 3", "nothing more stands behind"),
        ("mo 3", "no day"),
    ],
)
def test_what_cannot_be_read_says_which_word_and_why(line: str, says: str) -> None:
    with pytest.raises(EntryError, match=says) as found:
        read(line)
    assert 0 <= found.value.start <= found.value.end <= len(line)


def test_the_first_days_of_a_year_look_back_over_new_year() -> None:
    assert read("31 dec 2", date(2027, 1, 2)).days[0].day == date(2026, 12, 31)
    assert read("29 feb 1", date(2025, 1, 2)).days[0].day == date(2024, 2, 29)


TELLABLE = st.builds(
    HomeDay,
    st.integers(1, BACK_DAYS).map(lambda back: TODAY - timedelta(days=back)),
    st.integers(0, MOST),
    st.none() | st.integers(0, 10),
)


@given(st.lists(TELLABLE, min_size=1, max_size=12, unique_by=lambda one: one.day))
def test_printed_days_read_back_the_same(days: list[HomeDay]) -> None:
    said = HomeDays(tuple(sorted(days, key=lambda one: one.day)))
    assert read(line_of(said)) == said


@given(
    st.integers(1, 99).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))), st.none() | st.integers(0, 10)
)
def test_a_printed_count_reads_back_the_same(done: tuple[int, int], morning: int | None) -> None:
    said = HomeDays(done=done[0], planned=done[1], morning=morning)
    assert read(line_of(said)) == said


WORDS = st.sampled_from(
    [
        "mon",
        "tue-fri",
        "5/7",
        "3",
        "pain",
        "morning",
        "0",
        "11",
        ",",
        ";",
        "today",
        "29",
        "feb",
        "2026-02-30",
        "٤",
        "-",
    ]
)


@given(st.lists(WORDS, max_size=8).map(" ".join) | st.text(max_size=40))
def test_any_line_is_read_or_refused_in_one_way_only(line: str) -> None:
    refused: EntryError | None = None
    found = HomeDays()
    try:
        found = read(line)
    except EntryError as error:
        refused = error
    if refused is not None:
        assert str(refused)
        assert 0 <= refused.start <= refused.end <= max(len(line), refused.start)
    else:
        assert found.days or found.done is not None
        assert all(one.day <= TODAY for one in found.days)


@given(st.text(max_size=20), st.dates())
def test_no_calendar_breaks_it(line: str, today: date) -> None:
    for each in (line, "mon 1", "yesterday 2", "29 feb 1", "wed-tue 1"):
        try:
            parse_home_days(each, today)
        except EntryError:
            continue
