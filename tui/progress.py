"""How far a long verb is: one line on standard error, on a terminal only, and not before half a second."""

from __future__ import annotations

import sys
from types import TracebackType

from store.knowledge.time import Clock

PATIENCE_S = 0.5
"""Seconds that nobody minds waiting in silence, and between two words."""


class Progress:
    """Says what is done and how far it is; leaving it takes the line away again."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._said = clock.ticks()
        self._width = 0

    def __call__(self, what: str, done: int, of: int) -> None:
        """Say it if it is time to."""
        now = self._clock.ticks()
        if now - self._said >= PATIENCE_S and sys.stderr.isatty():
            self._said = now
            self._show(f"{what}: {done:,} of {of:,}")

    def _show(self, text: str) -> None:
        sys.stderr.write(f"\r{text.ljust(self._width)}")
        sys.stderr.flush()
        self._width = len(text)

    def __enter__(self) -> Progress:
        """Itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Clear the line."""
        if self._width:
            self._show("")
            sys.stderr.write("\r")
            sys.stderr.flush()
