"""A thread in front of the player, so that no player holds up the clock: it may be slow, hang, or fail.

What is to be heard is handed over and forgotten. What waited too long is dropped: a cue that comes late misleads,
and cues that pile up mislead for longer.
"""

from __future__ import annotations

import atexit
import threading
from array import array
from collections.abc import Callable
from contextlib import suppress
from queue import Empty, SimpleQueue

from tui.clock.player import Player, PlayerFault

LATE_S = 0.15  # a sound so late is left out
STUCK_S = 1.0  # a player that has not come back for so long is taken for dead
ENDS_S = 1.0  # how long the end of the program waits for the device to be let go


class Loudspeaker:
    """Opens a player in its own thread and feeds it. `why` says, in a clause, why it does not play."""

    def __init__(self, opens: Callable[[], Player], ticks: Callable[[], float]) -> None:
        self.why = "the sound device is being opened"
        self._opens = opens
        self._ticks = ticks
        self._plays = False
        self._since: float | None = None  # ticks at which the player was asked for what it has not answered
        self._waiting: SimpleQueue[tuple[float, array[int], Callable[[], None]] | None] = SimpleQueue()
        self._thread = threading.Thread(target=self._run, name="loudspeaker", daemon=True)
        self._thread.start()
        atexit.register(self._end)

    @property
    def plays(self) -> bool:
        """Will a sound be heard now, as far as is known?"""
        since = self._since
        if self._plays and since is not None and self._ticks() - since > STUCK_S:
            self._plays, self.why = False, "the sound device does not answer"
        return self._plays

    def play(self, samples: array[int], lost: Callable[[], None]) -> None:
        """Hand a sound over, and return at once. `lost` is called, in the thread, if the player failed on it."""
        self._waiting.put((self._ticks(), samples, lost))

    def close(self) -> None:
        """Let the device go; this does not wait for it."""
        self._plays, self.why = False, "the sound device is closed"
        self._waiting.put(None)

    def _end(self) -> None:
        """A device that is open when the interpreter goes would hold it up for ever."""
        self._waiting.put(None)
        self._thread.join(ENDS_S)

    # in the thread

    def _run(self) -> None:
        try:
            player = self._opens()
            self._plays = True
            self._feed(player)
            player.close()
        except Exception as error:  # whatever a sound library throws, the bout goes on with the bell
            self._failed(error)
        finally:
            self._plays = False
            atexit.unregister(self._end)

    def _feed(self, player: Player) -> None:
        while (given := self._newest()) is not None:
            asked, samples, lost = given
            if self._ticks() - asked > LATE_S:
                continue
            try:
                self._since = asked
                player.play(samples)
            except Exception:
                self._plays = False
                lost()
                raise
            finally:
                self._since = None

    def _newest(self) -> tuple[float, array[int], Callable[[], None]] | None:
        """Wait for a sound; of several that wait, the last. None ends."""
        newest = self._waiting.get()
        with suppress(Empty):
            while newest is not None:
                newest = self._waiting.get_nowait()
        return newest

    def _failed(self, error: Exception) -> None:
        self._plays = False
        self.why = str(error) if isinstance(error, PlayerFault) else "the sound device failed"
