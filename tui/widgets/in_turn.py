"""Keys one after another: the next is handed on when all that the last one did has come to rest.

Textual hands a key to the widget that has the focus when it arrives, and the key then goes up from queue to
queue; what it does, such as moving the focus, is done at the end of that way. Keys that are typed ahead would be
given to the widget that had the focus before. So a key waits here until a message sent behind the last one has
come up the same way.
"""

from __future__ import annotations

import asyncio
from collections import deque
from typing import TYPE_CHECKING

from textual import events, on
from textual.app import App
from textual.message import Message

if TYPE_CHECKING:
    from store.care.timing import Guard

QUITS = "ctrl+q"
ROUNDS = 2
"""How often a message goes the way of a key: behind the key, then behind what the key sent, as enter does."""
LOST_S = 0.2
"""After so long a message that did not come back is lost, with a widget that was taken away."""


class Passed(Message, bubble=True):
    """Has come up behind a key."""

    def __init__(self, key: int, round_: int) -> None:
        super().__init__()
        self.key = key
        self.round = round_


class KeysInTurn(App[None]):
    """An application that deals with one key, or one paste, at a time."""

    def __init__(self, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._coming: deque[events.Key | events.Paste] = deque()
        self._key = 0  # the number of the key that is dealt with
        self._dealing = False
        self._lost: asyncio.TimerHandle | None = None
        self._last = ""  # the key that was handed on last
        self._spent: tuple[str, Guard] | None = None  # the key that closed a screen, held against its next press

    def ticks(self) -> float:
        """Seconds on a clock that only runs forward."""
        raise NotImplementedError

    async def ready_for_key(self) -> bool:
        """Wait until a key can be given to somebody; False when it never can."""
        return True

    def drop_keys(self) -> None:
        """Forget what was typed ahead for a place that is not reached. To quit is meant everywhere."""
        kept = [each for each in self._coming if isinstance(each, events.Key) and each.key == QUITS]
        self._coming = deque(kept)

    def spend_key(self, guard: Guard) -> None:
        """The last key closed a screen: a letter, held or doubled, must not do what it means on the one below.

        Space, enter and escape only go on or back there. The guard has been pressed now.
        """
        self._spent = (self._last, guard) if len(self._last) == 1 else None

    def _is_spent(self, key: str) -> bool:
        if self._spent is None or self._spent[0] != key:
            self._spent = None
            return False
        guard, new = self._spent[1].pressed(int(self.ticks() * 1000))
        self._spent = None if new else (key, guard)
        return not new

    @property
    def keys_wait(self) -> bool:
        """Whether a key is being dealt with, or waits for its turn."""
        return self._dealing

    async def on_event(self, event: events.Event) -> None:
        """A key or a paste that has just come waits for its turn; one that comes up from below goes its way."""
        if isinstance(event, events.Key | events.Paste) and not event.is_forwarded:
            self._coming.append(event)
            if not self._dealing:
                await self._deal()
        else:
            await super().on_event(event)

    async def _deal(self) -> None:
        """Hand on the next key."""
        self._dealing = bool(self._coming)
        if not self._dealing:
            return
        self._key += 1
        event = self._coming.popleft()
        key = event.key if isinstance(event, events.Key) else ""
        if await self.ready_for_key() and not self._is_spent(key):
            self._last = key
            await super().on_event(event)
        self._send(1)

    def _send(self, round_: int) -> None:
        """Send a message behind the key, or behind what it did."""
        if self._lost is not None:
            self._lost.cancel()
        if not self.screen_stack:
            return
        self._lost = asyncio.get_running_loop().call_later(LOST_S, self._give_up, self._key)
        if not (self.focused or self.screen).post_message(Passed(self._key, round_)):
            self._give_up(self._key)

    def _give_up(self, key: int) -> None:
        self.post_message(Passed(key, ROUNDS))

    @on(Passed)
    async def _passed(self, event: Passed) -> None:
        """What was sent has come up."""
        event.stop()
        if event.key != self._key or not self._dealing:
            return  # late news of a key that was given up
        if event.round < ROUNDS:
            self._send(event.round + 1)
            return
        if self._lost is not None:
            self._lost.cancel()
        await self._deal()
