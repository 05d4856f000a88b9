"""A bout driven in a loop under a set clock: what rings is noted, and the disk can be held up."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from store.care.timing import Cue, LiveBout, Overrides, View, begin
from store.record import bouts
from tests.care.bouts import Ward, ward
from tui.clock.driver import Driver
from tui.clock.hand import Hand


class Ears:
    """Notes the cues, with the instant of the bout's clock at which each batch was due."""

    def __init__(self) -> None:
        self.on = True
        self.cues: list[tuple[int, str]] = []
        self.answers: list[str] = []

    @property
    def told(self) -> str:
        return "All is noted."

    def prepare(self) -> None: ...

    def rest(self) -> None: ...

    def cue(self, cues: Sequence[Cue]) -> None:
        self.cues += [(cue.at_ms, cue.say) for cue in cues]

    def answer(self, cue: Cue) -> None:
        self.answers.append(cue.tone)


class Desk:
    """One bout with its driver."""

    def __init__(self, at: Ward, hand: Hand, live: LiveBout) -> None:
        self.at, self.hand, self.live = at, hand, live
        self.ears = Ears()
        self.faults: list[str] = []
        self.painted: list[View] = []
        self.driver = Driver(
            live, hand, at.clock, self.ears,
            changed=self._changed, failed=lambda error: self.faults.append(str(error)),
        )  # fmt: skip

    def _changed(self) -> None:
        self.painted.append(self.driver.view())

    @property
    def view(self) -> View:
        return self.driver.view()

    async def move(self, seconds: float, step: float = 1.0) -> None:
        """Let time go by in steps, and wake at each; all is on disk after."""
        while seconds > 1e-9:
            self.at.clock.move(min(step, seconds))
            self.driver.wake()
            await self.hand.settled()
            seconds -= step

    async def press(self) -> None:
        self.driver.press()
        await self.hand.settled()

    async def start(self) -> None:
        await self.move(1)
        await self.press()
        await self.move(3)


async def desk(tmp_path: Path, activity: str, **overrides: Any) -> Desk:  # noqa: ANN401 - fields of the dose
    at = ward(tmp_path)
    hand = Hand(at.care)
    made: list[LiveBout] = []
    known = at.care.knowledge.activities[activity]
    hand.do(
        lambda care: begin(care, known, at.visit, overrides=Overrides(**overrides), seed=1), made.append, _raised
    )
    await hand.settled()
    found = Desk(at, hand, made[0])
    found.driver.start()
    return found


def _raised(error: Exception) -> None:
    raise error


@contextmanager
def held_disk(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """A disk that keeps nothing until the event is set."""
    let_go, add = threading.Event(), bouts.add_events

    def waits(*args: Any) -> None:  # noqa: ANN401 - passed on as they are
        assert let_go.wait(20)
        add(*args)

    with monkeypatch.context() as held:
        held.setattr(bouts, "add_events", waits)
        try:
            yield let_go
        finally:
            let_go.set()
