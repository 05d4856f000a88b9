"""The one hand that writes a bout down: a thread with a connection of its own, one act after another.

What waits for the disk waits here, so that the loop of the screen rings cues and takes keys at their time.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from functools import partial
from typing import TypeVar

from store.care.care import Care
from store.care.timing import own_hand

T = TypeVar("T")


class Hand:
    """Does acts in the order in which they were asked for, and says in the loop what came of each."""

    def __init__(self, care: Care) -> None:
        self._of = care
        self._care: Care | None = None
        self._pool = ThreadPoolExecutor(1, "keeps-bout")
        self._waiting = 0
        self._idle = asyncio.Event()
        self._idle.set()

    @property
    def waiting(self) -> int:
        """Acts asked for of which it was not yet said what came of them."""
        return self._waiting

    def do(self, act: Callable[[Care], T], then: Callable[[T], None], failed: Callable[[Exception], None]) -> None:
        """Do an act in the thread; then, in the loop, hand on its result, or the error it raised."""
        loop, context = asyncio.get_running_loop(), copy_context()
        self._waiting += 1
        self._idle.clear()

        def work() -> None:
            try:
                told = partial(then, act(self._own()))
            except Exception as error:  # whatever it is, it is told where the act was asked for
                told = partial(failed, error)
            with contextlib.suppress(RuntimeError):  # the program has closed its loop: nobody listens any more
                loop.call_soon_threadsafe(self._told, told, context=context)

        self._pool.submit(work)

    def _told(self, told: Callable[[], None]) -> None:
        self._waiting -= 1
        if not self._waiting:
            self._idle.set()
        told()

    def _own(self) -> Care:
        if self._care is None:
            self._care = own_hand(self._of)
        return self._care

    async def settled(self) -> None:
        """Wait until everything asked for is on disk or has failed, and was told."""
        while self._waiting:
            await self._idle.wait()

    def close(self) -> None:
        """Close the connection after what still waits; this does not wait for it."""
        self._pool.submit(self._close)
        self._pool.shutdown(wait=False)

    def _close(self) -> None:
        if self._care is not None:
            self._care.close()
