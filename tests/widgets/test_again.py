"""What a key must be to answer a question: the same one, and neither a second tap on it nor its repeats."""

from __future__ import annotations

import pytest

from store.knowledge.time import SetClock
from tests.helpers.stage import NOON
from tui.widgets.again import Again


@pytest.fixture
def clock() -> SetClock:
    return SetClock(NOON)


@pytest.fixture
def again(clock: SetClock) -> Again:
    return Again(clock.ticks)


def test_the_second_key_answers_once_and_the_next_is_asked_anew(clock: SetClock, again: Again) -> None:
    assert not again.confirms("end")
    clock.move(0.71)
    assert again.confirms("end")
    clock.move(1)
    assert not again.confirms("end")


def test_a_second_tap_is_no_answer_and_the_question_stays(clock: SetClock, again: Again) -> None:
    assert not again.confirms("end")
    clock.move(0.2)
    assert not again.confirms("end")
    assert again.about == "end"
    clock.move(0.71)
    assert again.confirms("end")


def test_a_held_key_never_answers(clock: SetClock, again: Again) -> None:
    for _ in range(100):
        assert not again.confirms("end")
        clock.move(0.033)
    clock.move(0.71)
    assert again.confirms("end")


def test_what_was_asked_about_something_else_or_was_taken_back_is_not_answered(
    clock: SetClock, again: Again
) -> None:
    assert not again.confirms("one")
    clock.move(1)
    assert not again.confirms("other")
    clock.move(1)
    assert not again.confirms("one")
    again.take_back()
    clock.move(1)
    assert not again.answered("one")
    assert not again.confirms("one")


def test_what_is_put_elsewhere_is_answered_the_same_way(clock: SetClock, again: Again) -> None:
    assert not again.answered("end")
    again.ask("end")
    assert not again.answered("end")
    clock.move(0.71)
    assert again.answered("end")
    assert not again.answered("end")
