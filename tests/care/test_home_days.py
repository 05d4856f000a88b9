"""Days at home: told in one line, kept by day, put right, taken back, and held against what was said."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from store.care import home
from store.care.faults import CareFault, EntryError
from store.care.home import kept_to_words
from store.care.home_days import TellingDone, days_words, take_back, tell_days
from store.care.home_differs import disagreement
from store.care.home_shown import home_lines
from store.care.noting import note_of
from store.record import amendments, programmes
from tests.care.home_made import AtHome, at_home

MON, TUE = date(2026, 11, 30), date(2026, 12, 1)


@pytest.fixture
def week(tmp_path: Path) -> AtHome:
    """A programme of three things of Wed 25 Nov, and the visit a week later."""
    ward = at_home(tmp_path)
    ward.hand_out()
    ward.days_later(7)
    return ward


def tell(ward: AtHome, line: str) -> TellingDone:
    return tell_days(ward.now.care, ward.held, line, ward.now.visit)


def kept(ward: AtHome) -> list[tuple[date, int, int | None]]:
    return [(day.day, day.done, day.pain_morning) for one in ward.held.handed for day in one.days]


def test_days_are_kept_with_the_pain_of_the_morning_after(week: AtHome) -> None:
    act = tell(week, "mon 3 pain 1, tue 2, sun 0")
    assert kept(week) == [(date(2026, 11, 29), 0, None), (MON, 3, 1), (TUE, 2, None)]
    assert act.says == "saved 29 Nov 0 done, 30 Nov 3 done, pain 1 next morning, 1 Dec 2 done"
    told = week.held.told
    assert told is not None
    assert days_words(told).startswith("29 Nov 0 done; 30 Nov 3 done")


def test_a_day_told_again_is_put_right_and_the_original_is_kept(week: AtHome) -> None:
    tell(week, "mon 3 pain 1")
    tell(week, "mon 2")
    assert kept(week) == [(MON, 2, 1)]  # the pain was not told anew
    day = week.held.handed[0].days[0]
    assert [one.because for one in amendments.amendments_of(week.now.care.record, "programme_day", day.id)]


def test_undo_takes_the_line_back_and_what_it_replaced_stands_again(week: AtHome) -> None:
    tell(week, "mon 3 pain 1")
    act = tell(week, "mon 2, tue 1")
    assert "took back: 30 Nov 2 done" in take_back(week.now.care, act)
    assert kept(week) == [(MON, 3, 1)]


def test_a_day_goes_to_the_programme_of_then_also_after_a_new_one(week: AtHome) -> None:
    week.hand_out("hold_firm")
    tell(week, "mon 3, today 1")
    assert [[day.day for day in one.days] for one in week.held.handed] == [[MON], [date(2026, 12, 2)]]
    assert week.held.told == week.held.handed[0]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("mon 4", "has 3"),
        ("2026-11-24 1", "no home programme was handed out before 24 Nov: the first is of 25 Nov"),
    ],
)
def test_what_cannot_be_says_so_and_nothing_is_kept(week: AtHome, line: str, says: str) -> None:
    with pytest.raises(CareFault, match=says):
        tell(week, f"tue 2, {line}")
    assert not kept(week)
    with pytest.raises(EntryError):
        tell(week, "mon 3 tomorrow 2")
    assert not kept(week)


def test_so_many_of_so_many_days_is_what_the_person_says(week: AtHome) -> None:
    act = tell(week, "5/7 morning 2")
    assert week.now.view.said == {"home": "5/7", "morning": "2"}
    assert act.says == "saved: 5 of 7 days morning 2"
    take_back(week.now.care, act)
    assert week.now.view.said == {}
    with pytest.raises(CareFault, match=r"start it \(v\), or name the days"):
        tell_days(week.now.care, week.held, "5/7")


def test_what_was_said_since_is_not_taken_back_unseen(week: AtHome) -> None:
    act = tell(week, "5/7")
    week.now.says("pain 3")
    with pytest.raises(CareFault, match="something else was said"):
        take_back(week.now.care, act)


def test_days_and_what_was_said_do_not_disagree_in_silence(week: AtHome) -> None:
    tell(week, "5/7")
    assert disagreement(week.held, week.now.visit) == ""
    tell(week, "fri-sun 0, mon 2")  # three not, one done: five of seven can no longer be
    assert disagreement(week.held, week.now.visit) == (
        "said: 5 of 7 days; by the days: 1 done, 3 not done. Put one of the two right."
    )
    says = "by the days: 1 done, 3 not done"
    assert week.now.view.home_differs == says
    assert note_of(week.now.care, week.now.visit_id).sections["subjective"].splitlines().count(
        f"home programme, {says}"
    ) == 1  # fmt: skip
    tell(week, "4/7")
    assert disagreement(week.held, week.now.visit) == ""
    assert week.now.view.home_differs == ""
    assert says not in note_of(week.now.care, week.now.visit_id).sections["subjective"]


def test_how_it_was_kept_to_tells_what_nobody_told(week: AtHome) -> None:
    tell(week, "mon 3, tue 2, sun 0")
    told = week.held.told
    assert told is not None
    assert kept_to_words(told) == "since 25 Nov 2 of 7 planned days done, 1 not done, 4 days not told"


def test_a_programme_of_which_days_were_told_is_not_taken_back(week: AtHome) -> None:
    tell(week, "mon 3")
    with pytest.raises(CareFault, match="take them back first"):
        home.take_back(week.now.care, week.held.handed[0].programme)


def test_another_windows_change_of_a_day_is_not_lost(week: AtHome) -> None:
    act = tell(week, "mon 3")
    tell(week, "mon 1")
    with pytest.raises(Exception, match="meanwhile"):
        take_back(week.now.care, act)
    assert kept(week) == [(MON, 1, None)]
    assert len(programmes.days_of(week.now.care.record, week.held.handed[0].programme.id)) == 1


def test_show_tells_the_programme_and_how_it_was_kept_to(week: AtHome) -> None:
    tell(week, "mon 3, tue 2, fri-sun 0")
    tell(week, "7/7")
    lines = home_lines(week.now.care, week.now.episode.id)
    assert lines[0] == "home programme of 25 Nov 2026, first programme; review 9 Dec 2026"
    assert lines[1] == "  self-mobilisation, band: 2 x 10, right, once a day"
    assert "at home since 25 Nov 2 of 7 planned days done, 3 not done, 2 days not told" in lines
    assert lines[-1].startswith("said: 7 of 7 days; by the days: 2 done, 3 not done.")


def test_where_no_day_was_told_none_is_called_not_done(week: AtHome) -> None:
    told = week.held.told
    assert told is not None
    assert kept_to_words(told) == "since 25 Nov no day told, of 7 planned days"
