"""After discharge: eight weeks of balance, recall at three, six and twelve months, and who is due."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from store.care import visits
from store.care.as_data import caseload_data, tail_data
from store.care.caseload import count, everybody, recall_rows, those_holding
from store.care.home import home_standing
from store.care.home_shown import home_lines, recall_lines
from store.care.people import EpisodeForm, new_episode
from store.care.recall import Tail, months_after, next_recall, recalls_due, tail_of, tail_words
from store.care.shown import caseload_text
from store.knowledge.time import Stamp
from store.knowledge.words import Side
from store.record import episodes
from tests.care.begun import Begun, begun
from tests.screens.made import BRUSSELS

CLOSED = date(2026, 11, 25)


@pytest.fixture
def closed(tmp_path: Path) -> Begun:
    """Discharged on the day of the visit."""
    now = begun(tmp_path)
    now.line("lunge l 10 r 9")
    visits.end_visit(now.care, now.visit)
    ended = now.care.episode(now.episode.id)._replace(closed=now.clock.now())
    now.episode = episodes.revise_episode(now.care.record, ended, by="AB", because="discharged")
    return now


def put(now: Begun, day: date) -> None:
    now.clock.put(datetime(day.year, day.month, day.day, 10, tzinfo=BRUSSELS))


def tail(now: Begun) -> Tail:
    found = tail_of(now.care, now.episode)
    assert found is not None
    return found


def test_an_open_episode_has_no_tail(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert tail_of(now.care, now.episode) is None
    assert home_standing(now.care, now.episode.id).tail is None


def test_the_days_follow_from_the_closing(closed: Begun) -> None:
    found = tail(closed)
    assert found.balance_until == date(2027, 1, 20)  # eight weeks
    assert [(one.months, one.on) for one in found.recalls] == [
        (3, date(2027, 2, 25)),
        (6, date(2027, 5, 25)),
        (12, date(2027, 11, 25)),
    ]
    assert found.due is None
    assert tail_words(found, CLOSED)[0] == "balance work at home until 20 Jan 2027"


@pytest.mark.parametrize(
    ("day", "months"),
    [
        (date(2027, 2, 24), None),
        (date(2027, 2, 25), 3),
        (date(2027, 5, 24), 3),  # still due, nobody came
        (date(2027, 5, 25), 6),
        (date(2027, 11, 25), 12),
        (date(2028, 2, 25), 12),
        (date(2028, 2, 26), None),  # no longer asked for
    ],
)
def test_a_recall_is_due_from_its_day_until_the_next(closed: Begun, day: date, months: int | None) -> None:
    put(closed, day)
    due = tail(closed).due
    assert (due.months if due else None) == months
    assert [found.months for _, _, found in recalls_due(closed.care)] == ([months] if months else [])


def test_somebody_seen_about_then_is_not_due(closed: Begun) -> None:
    put(closed, date(2027, 2, 15))
    other = new_episode(closed.care, closed.care.person(closed.episode.person), EpisodeForm(Side.LEFT))
    visits.start_visit(closed.care, other)
    put(closed, date(2027, 3, 1))
    assert tail(closed).due is None
    assert recalls_due(closed.care) == ()
    put(closed, date(2027, 5, 25))
    assert [found.months for _, _, found in recalls_due(closed.care)] == [6]


def test_an_episode_opened_again_is_not_recalled(closed: Begun) -> None:
    episodes.revise_episode(closed.care.record, closed.episode._replace(closed=None), by="AB", because="again")
    put(closed, date(2027, 3, 1))
    assert recalls_due(closed.care) == ()


@pytest.mark.parametrize(
    ("day", "months", "after"),
    [
        (date(2026, 11, 30), 3, date(2027, 2, 28)),
        (date(2027, 11, 30), 3, date(2028, 2, 29)),
        (date(2026, 12, 31), 6, date(2027, 6, 30)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2027, 1, 15), -12, date(2026, 1, 15)),
        (date(2026, 12, 1), -12, date(2025, 12, 1)),
    ],
)
def test_months_end_where_the_month_does(day: date, months: int, after: date) -> None:
    assert months_after(day, months) == after


def test_show_tells_who_is_due_and_what_follows(closed: Begun) -> None:
    assert recall_lines(closed.care) == []
    put(closed, date(2027, 3, 1))
    assert recall_lines(closed.care) == ["R.K., right ankle: recall 3 months after discharge, 25 Feb 2027, due"]
    assert home_lines(closed.care, closed.episode.id)[0] == "balance work at home ended 20 Jan 2027"


def test_the_caseload_tells_a_recall_that_is_due(closed: Begun) -> None:
    assert recall_rows(closed.care) == ()
    put(closed, date(2027, 3, 1))
    (row,) = recall_rows(closed.care)
    assert (row.label, row.is_open, row.recall_words) == ("R.K.", False, "recall due 25 Feb")
    (listed,) = everybody(closed.care)
    assert listed.recall == row.recall
    assert "closed 25 Nov 2026, recall due 25 Feb" in caseload_text([listed], count(closed.care))
    (told,) = caseload_data([listed])["people"]
    assert told["recall_due"] == {"months": 3, "on": "2027-02-25", "due": True}


def test_a_recall_is_found_by_label_as_others_are(closed: Begun) -> None:
    put(closed, date(2027, 3, 1))
    rows = recall_rows(closed.care)
    assert those_holding(rows, " r.k ") == rows
    assert those_holding(rows, "t") == ()
    assert those_holding(rows, "", only="somebody else") == ()


def test_what_follows_a_discharge_as_data(closed: Begun) -> None:
    told = tail_data(tail(closed))
    assert told is not None
    assert told["balance_until"] == "2027-01-20"
    assert [one["on"] for one in told["recalls"]] == ["2027-02-25", "2027-05-25", "2027-11-25"]
    assert tail_data(None) is None


@given(st.integers(0, 800), st.integers(0, 500))
@example(369, 458)  # a 29th of February among the last days in which it is asked for
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
def test_the_list_finds_whoever_the_tail_calls_due(closed: Begun, discharged: int, later: int) -> None:
    """Whatever the days of the month: the list is looked for by spans, the tail by the calendar."""
    episode = closed.care.episode(closed.episode.id)
    day = CLOSED + timedelta(days=discharged)
    stamp = Stamp.of(datetime(day.year, day.month, day.day, 12, tzinfo=BRUSSELS))
    closed.episode = episodes.revise_episode(
        closed.care.record, episode._replace(closed=stamp), by="AB", because="another day"
    )
    put(closed, day + timedelta(days=later))
    due = tail(closed).due
    assert [found for _, _, found in recalls_due(closed.care)] == ([due] if due else [])


@pytest.mark.parametrize(
    ("day", "told"),
    [
        (CLOSED, "recall 3 months after discharge, 25 Feb 2027"),
        (date(2027, 3, 1), "recall 3 months after discharge, 25 Feb 2027, due"),
        (date(2028, 2, 26), ""),
    ],
)
def test_the_next_recall_is_the_one_that_is_due_else_the_one_to_come(closed: Begun, day: date, told: str) -> None:
    put(closed, day)
    assert next_recall(tail(closed), day) == told
