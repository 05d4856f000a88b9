"""Pain and its advice, control, and what each key says when it cannot."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.bout import keys
from store.bout.events import Event, Kind
from store.bout.keys import NotNow
from store.bout.state import Mode, Question, opening
from store.knowledge.kinds import Phase
from store.knowledge.words import Side
from tests.bout.player import GLIDES, HOLD, RAISES, STANCE, Player


def after_a_set() -> Player:
    player = Player(GLIDES)
    player.start()
    player.wait(80)
    return player


def asked(player: Player) -> tuple[Question, ...]:
    return player.view.questions


@pytest.mark.parametrize("n", range(11))
def test_pain_is_asked_after_a_set_and_taken_from_0_to_10(n: int) -> None:
    player = after_a_set()
    assert asked(player) == (Question.PAIN,)
    assert player.key(keys.pain, n) == ""
    assert player.view.done[0].pain == n
    assert asked(player) == ()


def test_a_second_answer_in_the_same_rest_corrects_the_first() -> None:
    player = after_a_set()
    player.key(keys.pain, 7)
    player.key(keys.pain, 1)
    assert player.view.done[0].pain == 1
    assert player.view.advice == "change the glide"


def test_the_question_is_still_open_while_the_next_set_counts_down() -> None:
    player = after_a_set()
    player.press()
    assert asked(player) == (Question.PAIN,)
    player.key(keys.pain, 0)
    player.wait(3)
    assert asked(player) == ()
    assert player.view.done[0].pain == 0


def test_pain_during_a_set_belongs_to_that_set_and_leaves_its_question_open() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(20)
    player.key(keys.pain, 2)
    assert player.view.advice == "change the glide"
    player.wait(60)
    assert asked(player) == (Question.PAIN,)
    player.key(keys.pain, 0)
    assert player.view.done[0].pains == (2, 0)
    assert player.view.advice == ""


def test_a_painless_technique_that_hurts_is_changed_then_stopped() -> None:
    player = after_a_set()
    player.key(keys.pain, 1)
    assert player.view.advice == "change the glide"
    player.start()
    player.wait(80)
    player.key(keys.pain, 0)
    assert player.view.advice == ""
    player.start()
    player.wait(80)
    player.key(keys.pain, 3)
    assert player.view.mode is Mode.DONE
    assert player.view.advice == "stop this technique"


def test_once_it_says_stop_it_goes_on_saying_so() -> None:
    player = Player(GLIDES)
    player.start()
    for n in (1, 2, 0):
        player.wait(80)
        player.key(keys.pain, n)
        player.start()
    assert player.view.advice == "stop this technique"


def test_pain_in_a_set_and_after_the_same_set_counts_once() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(5)
    player.key(keys.pain, 8)
    player.wait(80)
    player.key(keys.pain, 8)
    assert player.view.done[0].pains == (8, 8)
    assert player.view.advice == "change the glide"


def test_pain_in_an_exercise_that_may_hurt_gives_no_advice() -> None:
    player = Player(replace(GLIDES, painless=False))
    player.start()
    player.wait(80)
    player.key(keys.pain, 5)
    assert player.view.advice == ""


def test_a_set_never_starts_by_itself_against_the_advice() -> None:
    player = Player(replace(GLIDES, auto_next=True))
    player.start()
    player.wait(80)
    player.key(keys.pain, 2)
    player.wait(200)
    assert (player.view.mode, player.view.rest_over) == (Mode.REST, True)


def test_control_is_kept_for_the_hold_just_done_by_side() -> None:
    player = Player(replace(HOLD, sets=1))
    player.start()
    assert asked(player) == ()
    player.wait(30)
    assert asked(player) == (Question.CONTROL,)
    player.key(keys.control, 2)
    player.start()
    player.wait(30)
    player.key(keys.control, 3)
    assert [(result.side, result.control) for result in player.view.done] == [(Side.LEFT, 2), (Side.RIGHT, 3)]


def test_leaving_pauses_what_runs() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(10)
    assert player.key(keys.leave) == ""
    assert (player.view.mode, player.view.left) == (Mode.PAUSED, True)
    assert player.view.sentence.startswith("This bout was kept paused.")
    player.key(keys.pause_or_resume)
    assert (player.view.mode, player.view.left, player.view.sentence) == (Mode.WORKING, False, "")


def test_leaving_what_is_paused_already_keeps_it_where_it_was() -> None:
    player = Player(GLIDES)
    player.start()
    player.wait(10)
    player.press()
    player.wait(10)
    player.key(keys.leave)
    assert (player.view.mode, player.view.left, player.view.seconds) == (Mode.PAUSED, True, 10)


def test_keys_that_cannot_say_why() -> None:
    fresh = opening(GLIDES)
    ready = [
        keys.pain(GLIDES, fresh, 0, 3),
        keys.pain(GLIDES, fresh, 0, 11),
        keys.control(GLIDES, fresh, 0, 3),
        keys.control(STANCE, opening(STANCE), 0, 4),
        keys.control(STANCE, opening(STANCE), 0, 3),
        keys.pause_or_resume(GLIDES, fresh, 0),
        keys.undo(GLIDES, fresh, 0),
        keys.end_set(GLIDES, fresh, 0),
        keys.set_times(GLIDES, fresh, 0),
        keys.set_times(GLIDES, fresh, 0, hold_s=3),
        keys.set_times(GLIDES, fresh, 0, rest_s=-1),
        keys.set_times(GLIDES, fresh, 0, phases=()),
        keys.set_times(GLIDES, fresh, 0, phases=(Phase("HOLD", 0),)),
        keys.set_times(HOLD, opening(HOLD), 0, hold_s=0),
        keys.set_times(HOLD, opening(HOLD), 0, phases=(Phase("HOLD", 3),)),
        keys.set_times(STANCE, opening(STANCE), 0, hold_s=30),
        keys.set_times(GLIDES, fresh, 0, rest_s=float("inf")),
    ]
    assert all(isinstance(answer, NotNow) and answer.says.endswith(".") for answer in ready)


def test_a_trial_of_time_to_loss_is_ended_by_the_pedal_alone() -> None:
    player = Player(STANCE)
    player.start()
    assert player.key(keys.end_set) == "Press space when the position is lost: that ends the trial."


def test_an_ended_bout_says_that_it_has_ended() -> None:
    player = Player(RAISES)
    player.start()
    player.wait(2)
    player.press()
    player.key(keys.end)
    says = "This bout has ended."
    assert player.key(keys.pain, 1) == says
    assert player.key(keys.pause_or_resume) == says
    assert player.key(keys.undo) == says
    assert player.key(keys.end) == says
    assert player.key(keys.leave) == says
    assert player.key(keys.set_times, rest_s=3) == says


def test_a_key_makes_the_next_event() -> None:
    player = after_a_set()
    assert keys.pain(player.plan, player.state, player.at_ms, 10) == Event(
        player.state.seq + 1, Kind.PAIN, player.at_ms, {"n": 10}
    )


def test_after_a_hold_control_is_asked_first_and_then_pain() -> None:
    player = Player(replace(HOLD, ask_pain=True))
    player.start()
    player.wait(30)
    assert asked(player) == (Question.CONTROL, Question.PAIN)
    player.key(keys.control, 2)
    assert asked(player) == (Question.PAIN,)
    player.key(keys.undo)
    assert asked(player) == (Question.CONTROL, Question.PAIN)
    player.key(keys.control, 3)
    player.key(keys.pain, 0)
    assert (player.view.done[0].control, player.view.done[0].pain) == (3, 0)


def test_no_set_starts_by_itself_after_too_much_pain() -> None:
    player = Player(replace(GLIDES, painless=False, auto_next=True))
    player.start()
    player.wait(80)
    player.key(keys.pain, 6)
    player.wait(200)
    assert (player.view.mode, player.view.rest_over) == (Mode.REST, True)
