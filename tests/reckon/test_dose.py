"""How much work: reps, holds and time under load, of a day and a week, planned and done."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from store.knowledge.home import HomeWords
from store.knowledge.home_item import HomeItem, as_data, of_data
from store.knowledge.kinds import Phase
from store.knowledge.papers import ProgrammeDay
from store.knowledge.words import BoutKind, Side
from store.reckon.dose import Amount, adherence, disagrees, done, once, planned_a_week, total, week_of

WORDS = HomeWords("x", "a thing", ("Do it.",))
HOLD = HomeItem("hold", "hold", BoutKind.HOLD_FIXED, tuple(Side), 3, WORDS, hold_s=30, days_a_week=6)
BAND = HomeItem(
    "band",
    "band",
    BoutKind.PACED,
    (Side.RIGHT,),
    2,
    WORDS,
    reps=10,
    phases=(Phase("LUNGE", 2), Phase("HOLD", 3), Phase("BACK", 2)),
    a_day=2,
)
REACH = HomeItem("reach", "reach", BoutKind.REACHES, (Side.LEFT,), 2, WORDS, reps=5, ways=3)
REST = HomeItem("up", "foot up", BoutKind.TIMED, (Side.RIGHT,), 1, WORDS, hold_s=900, loading=False)
WEDNESDAY = date(2026, 11, 25)


def day(back: int, n: int) -> ProgrammeDay:
    return ProgrammeDay("", "p", "x", WEDNESDAY - timedelta(days=back), n)


@pytest.mark.parametrize(
    ("item", "amount"),
    [
        (HOLD, Amount(sets=6, holds=6, load_s=180)),  # 3 x 30 s on each leg
        (BAND, Amount(sets=2, reps=20, load_s=140)),  # 2 x 10 of 7 s
        (REACH, Amount(sets=2, reps=30)),  # 2 x 5 in three ways: how long is not known
        (REST, Amount(sets=1)),  # a foot on cushions bears nothing
    ],
)
def test_a_dose_done_once(item: HomeItem, amount: Amount) -> None:
    assert once(item) == amount


def test_a_week_is_each_item_on_its_days() -> None:
    found = planned_a_week([HOLD, BAND])
    assert found == Amount(sets=6 * 6 + 2 * 14, reps=20 * 14, holds=36, load_s=180 * 6 + 140 * 14)


def test_a_visit_of_four_holds_of_ten_seconds_four_times() -> None:
    """Vicenzino 2006: 4 sets of 4, each held 10 s: 160 s of hold (arithmetic)."""
    glide = BAND._replace(sets=4, reps=4, phases=(Phase("HOLD", 10),))
    assert once(glide).load_s == 160


def test_what_was_done_is_the_share_of_the_items() -> None:
    found = done([HOLD, BAND], [day(1, 2), day(2, 1), day(3, 0), day(4, 5)])
    whole = total([once(HOLD), once(BAND).times(2)])
    assert found == whole.times(2.5)
    assert done([], [day(1, 2)]) == Amount()


def test_adherence_keeps_what_was_not_told_apart() -> None:
    found = adherence([HOLD], [day(1, 1), day(2, 0), day(9, 1)], WEDNESDAY - timedelta(days=7), WEDNESDAY)
    assert (found.days, found.planned, found.done, found.not_done, found.not_told) == (8, 7, 1, 1, 6)


def test_three_days_a_week_are_three_of_seven() -> None:
    three = HOLD._replace(days_a_week=3)
    found = adherence([three], [], WEDNESDAY - timedelta(days=6), WEDNESDAY)
    assert (found.days, found.planned) == (7, 3)


def test_a_programme_of_today_has_no_days_yet() -> None:
    found = adherence([HOLD], [], WEDNESDAY, WEDNESDAY - timedelta(days=1))
    assert (found.days, found.planned, found.not_told) == (0, 0, 0)


@pytest.mark.parametrize(
    ("done_days", "free_days", "said", "wrong"),
    [
        (3, 4, (5, 7), True),
        (5, 2, (5, 7), False),
        (2, 1, (5, 7), False),
        (6, 0, (5, 7), True),
        (0, 3, (5, 7), True),
    ],
)
def test_what_was_said_and_the_days_disagree_only_when_both_cannot_be(
    done_days: int, free_days: int, said: tuple[int, int], wrong: bool
) -> None:
    told = [day(n + 1, 1) for n in range(done_days)] + [day(n + 1 + done_days, 0) for n in range(free_days)]
    found = adherence([HOLD], told, WEDNESDAY - timedelta(days=7), WEDNESDAY - timedelta(days=1))
    assert disagrees(*said, found) is wrong


def test_a_week_begins_on_monday() -> None:
    assert week_of(WEDNESDAY) == (date(2026, 11, 23), date(2026, 11, 29))
    assert week_of(date(2026, 11, 29))[0] == date(2026, 11, 23)


@pytest.mark.parametrize("item", [HOLD, BAND, REACH, REST])
def test_an_item_comes_back_from_plain_data(item: HomeItem) -> None:
    own = item._replace(words=item.words._replace(id=item.activity))
    assert of_data(as_data(own)) == own


@pytest.mark.parametrize("data", [{}, {"activity": "x", "kind": "no kind"}, {"activity": "x", "sides": ["up"]},
                                  {"activity": "x", "words": 3}, {"activity": "x", "phases": [1]}])  # fmt: skip
def test_an_item_of_another_form_is_refused_in_one_way(data: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="cannot be read"):
        of_data(data)


def test_an_item_that_says_little_is_read_as_little() -> None:
    assert of_data({"activity": "hold_firm", "sets": 3}).name == "hold_firm"
