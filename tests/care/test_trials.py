from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.care.faults import CareFault
from store.care.trials import Doubt, Trials, back, begin, enter, exchange, more, swap, unable
from store.entry.errors import EntryError
from store.knowledge.load import load
from store.knowledge.words import Moment, Side, Status

MEASURES = load().measures
LUNGE = MEASURES["lunge"]


def typed(*texts: str, injured: Side | None = Side.RIGHT) -> Trials:
    trials = begin(LUNGE, injured)
    for text in texts:
        trials = enter(trials, text)
    return trials


def values(trials: Trials) -> dict[Side | None, tuple[float, ...]]:
    return {side.side: side.values for side in trials.sides}


@pytest.mark.parametrize(
    ("injured", "first"), [(Side.RIGHT, Side.LEFT), (Side.LEFT, Side.RIGHT), (None, Side.LEFT)]
)
def test_the_uninjured_side_goes_first(injured: Side | None, first: Side) -> None:
    assert begin(LUNGE, injured).current.side is first


def test_a_side_that_is_full_moves_on_and_both_full_is_done() -> None:
    trials = typed("10.2", "10,4", "10.1")
    assert trials.current.side is Side.RIGHT
    assert not trials.done
    trials = enter(trials, "4.8 4.9 4.7")
    assert trials.done
    assert values(trials) == {Side.LEFT: (10.2, 10.4, 10.1), Side.RIGHT: (4.8, 4.9, 4.7)}


def test_more_values_than_are_wanted_are_refused_whole() -> None:
    trials = typed("10.2")
    with pytest.raises(CareFault, match="2 more trials wanted on this side, not 3"):
        enter(trials, "10.1 10.3 10.2")
    assert values(trials)[Side.LEFT] == (10.2,)


def test_one_more_trial_and_no_more_than_ten() -> None:
    trials = typed("10.2 10.3 10.1")
    trials = more(swap(trials))
    assert trials.current.wanted == 4
    for _ in range(6):
        trials = more(trials)
    with pytest.raises(CareFault, match="ten trials a side are the most"):
        more(trials)


def test_a_measure_of_one_value_takes_no_second() -> None:
    with pytest.raises(CareFault, match="takes one value"):
        more(begin(MEASURES["heel_raise"], Side.LEFT))


def test_back_takes_one_at_a_time_and_goes_on_to_the_side_before() -> None:
    trials = back(typed("10.2 10.3 10.1"))
    assert trials.current.side is Side.LEFT
    assert trials.current.values == (10.2, 10.3)
    with pytest.raises(CareFault, match="nothing to take back"):
        back(back(back(trials)))


def test_swap_tests_the_other_side_now() -> None:
    trials = enter(swap(typed("10.2")), "4.8")
    assert values(trials) == {Side.LEFT: (10.2,), Side.RIGHT: (4.8,)}
    with pytest.raises(CareFault, match="has no sides"):
        swap(begin(MEASURES["pain_now"], Side.LEFT))


def test_unable_is_a_status_and_never_a_zero() -> None:
    trials = unable(typed("10.2 10.3 10.1"))
    assert trials.done
    entry = trials.of(Side.RIGHT).entry(LUNGE)
    assert (entry.status, entry.trials) == (Status.UNABLE, ())
    assert back(trials).of(Side.RIGHT).unable is False
    assert typed("unable").current.side is Side.RIGHT


def test_unable_does_not_throw_trials_away() -> None:
    trials = typed("10.2")
    with pytest.raises(CareFault, match="are kept"):
        unable(trials)
    assert values(trials)[Side.LEFT] == (10.2,)


def test_the_unusual_is_taken_when_it_is_sure() -> None:
    trials = begin(LUNGE, Side.RIGHT)
    odd = f"{LUNGE.usual_high + 1:g}"
    with pytest.raises(Doubt, match="Enter it again if so"):
        enter(trials, odd)
    assert enter(trials, odd, sure=True).current.values == (LUNGE.usual_high + 1,)


def test_what_cannot_be_read_says_why_and_changes_nothing() -> None:
    trials = typed("10.2")
    for text, why in (
        ("foo", "not a value"),
        ("99", "goes from"),
        ("", "type a value in cm, then enter"),
        ("10 kg", "not a value"),
    ):
        with pytest.raises((EntryError, CareFault), match=why):
            enter(trials, text)
    assert values(trials)[Side.LEFT] == (10.2,)


def test_nothing_typed_on_a_scale_of_ten_asks_for_a_figure_of_it() -> None:
    with pytest.raises(CareFault, match="type a figure from 0 to 10, then enter"):
        enter(begin(load().measures["pain_walk"], None), "")


def test_exchange_gives_each_side_the_other_ones_trials() -> None:
    trials = exchange(typed("4.8 4.9 4.7", "10.2 10.3 10.1"))
    assert values(trials) == {Side.LEFT: (10.2, 10.3, 10.1), Side.RIGHT: (4.8, 4.9, 4.7)}
    assert trials.sides[0].side is Side.LEFT


def test_it_goes_on_where_trials_are_in_already() -> None:
    kept: dict[Side | None, tuple[tuple[float, ...], Status]] = {
        Side.LEFT: ((10.2, 10.3, 10.1), Status.MEASURED),
        Side.RIGHT: ((4.8,), Status.MEASURED),
    }
    trials = begin(LUNGE, Side.RIGHT, Moment.BEFORE, kept)
    assert trials.current.side is Side.RIGHT
    assert trials.current.earlier
    trials = enter(trials, "4.9")
    assert trials.current.values == (4.8, 4.9)
    assert not trials.current.earlier
    assert trials.of(Side.LEFT).earlier


@given(st.lists(st.sampled_from(["10.2", "4.8 4.9", "+", "*", "-", "/", "x"]), max_size=30))
def test_any_keys_leave_it_whole(keys: list[str]) -> None:
    trials = begin(LUNGE, Side.RIGHT)
    pads = {"+": more, "*": swap, "-": back, "/": unable}
    for key in keys:
        try:
            trials = pads[key](trials) if key in pads else enter(trials, key)
        except (CareFault, EntryError):
            continue
    assert {side.side for side in trials.sides} == {Side.LEFT, Side.RIGHT}
    for side in trials.sides:
        assert len(side.values) <= side.wanted <= 10
        assert not (side.unable and side.values)
    assert 0 <= trials.now < 2


def test_a_trial_far_from_those_before_it_is_asked_about_and_taken_when_it_is_sure() -> None:
    trials = enter(enter(begin(LUNGE, Side.RIGHT), "4"), "5.5")
    with pytest.raises(Doubt, match="4 and 17 lie far apart"):
        enter(trials, "17")
    assert values(enter(trials, "17", sure=True))[Side.LEFT] == (4.0, 5.5, 17.0)
    assert values(enter(trials, "7"))[Side.LEFT] == (4.0, 5.5, 7.0)
