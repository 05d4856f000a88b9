from __future__ import annotations

from array import array
from collections.abc import Iterator

import pytest

from tests.clock.players import Heard, until
from tui.clock.loudspeaker import LATE_S, STUCK_S, Loudspeaker
from tui.clock.player import Player, PlayerFault


class Room:
    """A loudspeaker before a player that notes, on a clock moved by hand."""

    def __init__(self) -> None:
        self.player = Heard()
        self.now = 100.0
        self.lost: list[int] = []
        self.loud = Loudspeaker(self.player.open, lambda: self.now)

    def play(self, n: int) -> None:
        self.loud.play(array("h", [n]), lambda: self.lost.append(n))

    @property
    def heard(self) -> list[int]:
        return [sound[0] for sound in self.player.sounds]


@pytest.fixture
def room() -> Iterator[Room]:
    found = Room()
    until(lambda: found.loud.plays)
    yield found
    found.player.let_go.set()
    found.loud.close()


def test_what_is_handed_over_is_played(room: Room) -> None:
    room.play(1)
    until(lambda: room.heard == [1])
    room.play(2)
    until(lambda: room.heard == [1, 2])


def test_of_what_piled_up_behind_a_slow_player_only_the_last_is_played(room: Room) -> None:
    room.player.let_go.clear()
    room.play(1)
    assert room.player.asked.wait(20)
    for n in (2, 3, 4):
        room.play(n)
    room.player.let_go.set()
    until(lambda: len(room.heard) == 2)
    assert room.heard == [1, 4]


def test_what_waited_too_long_is_dropped(room: Room) -> None:
    room.player.let_go.clear()
    room.play(1)
    assert room.player.asked.wait(20)
    room.play(2)
    room.now += LATE_S + 0.01
    room.player.let_go.set()
    until(lambda: room.heard == [1])
    room.play(3)
    until(lambda: room.heard[-1] == 3)
    assert room.heard == [1, 3]


def test_a_player_that_hangs_is_taken_for_dead_and_holds_nobody_up(room: Room) -> None:
    room.player.let_go.clear()
    room.play(1)
    assert room.player.asked.wait(20)
    until(lambda: room.loud.plays)
    room.now += STUCK_S + 0.1
    assert not room.loud.plays
    assert room.loud.why == "the sound device does not answer"


def test_a_player_that_fails_says_so_once(room: Room) -> None:
    room.player.broken = True
    room.play(1)
    until(lambda: room.lost == [1])
    assert not room.loud.plays
    until(lambda: room.loud.why == "the sound device takes no more sound")


def test_a_device_is_let_go(room: Room) -> None:
    room.loud.close()
    assert room.player.closed.wait(20)
    assert not room.loud.plays


@pytest.mark.parametrize(
    ("error", "why"),
    [
        (PlayerFault("no sound device was found"), "no sound device was found"),
        (RuntimeError("a library's own"), "the sound device failed"),
    ],
)
def test_a_device_that_cannot_be_opened_is_a_reason(error: Exception, why: str) -> None:
    def opens() -> Player:
        raise error

    loud = Loudspeaker(opens, lambda: 0.0)
    until(lambda: loud.why == why)
    assert not loud.plays
