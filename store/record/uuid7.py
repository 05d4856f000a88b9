"""Identifiers that sort by the time they were made: UUID version 7 (RFC 9562, section 5.7), never going back."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from random import SystemRandom
from threading import Lock

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MS = timedelta(milliseconds=1)
RANDOM_BITS = 74
_SYSTEM = SystemRandom()  # what `secrets` uses, without the cryptography that it brings to every start
_LARGEST_STEP = (1 << 32) - 1
_V7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_NONE = -1
"""Less than the 122 free bits of any."""


def milliseconds(at: datetime) -> int:
    """Whole milliseconds since 1970 of an aware time."""
    return (at - EPOCH) // _MS


def uuid7(ms: int, bits: int, last: str = "") -> str:
    """The UUIDv7 of an instant in milliseconds and 74 random bits, in lower case, always greater than `last`.

    Where the instant is not past that of `last`, the last number is raised by a random step instead (RFC 9562,
    section 6.2, method 2); a full counter runs over into the milliseconds. Raises ValueError beyond either.
    """
    return _text(_number_after(_number(last) if last else _NONE, ms, bits))


def made_at(text: str) -> datetime | None:
    """When a UUIDv7 was made, to the millisecond, in UTC; None for a text that is none."""
    return EPOCH + (_number(text) >> RANDOM_BITS) * _MS if _V7.fullmatch(text) else None


def _number_after(last: int, ms: int, bits: int) -> int:
    if not 0 <= ms < 1 << 48 or not 0 <= bits < 1 << RANDOM_BITS:
        raise ValueError("a UUIDv7 holds 48 bits of milliseconds and 74 random bits")
    if ms <= last >> RANDOM_BITS:
        return last + 1 + (bits & _LARGEST_STEP)
    return ms << RANDOM_BITS | bits


def _text(number: int) -> str:
    """The 122 free bits as text, with version 7 and variant 2 put in their places."""
    ms, rand_a, rand_b = number >> RANDOM_BITS, number >> 62 & 0xFFF, number & (1 << 62) - 1
    whole = f"{ms << 80 | 7 << 76 | rand_a << 64 | 2 << 62 | rand_b:032x}"
    if len(whole) > 32:
        raise ValueError("no UUIDv7 is left after this one")
    return f"{whole[:8]}-{whole[8:12]}-{whole[12:16]}-{whole[16:20]}-{whole[20:]}"


def _number(text: str) -> int:
    """The 122 free bits of a UUIDv7's text."""
    whole = int(text.replace("-", ""), 16)
    return whole >> 80 << RANDOM_BITS | (whole >> 64 & 0xFFF) << 62 | whole & (1 << 62) - 1


class Ids:
    """A source of UUIDv7 that remembers its last one, so that a clock set back gives no smaller identifier.

    `randbits` gives that many random bits; a seeded one makes a record that can be made again to the letter.
    """

    def __init__(self, randbits: Callable[[int], int] = _SYSTEM.getrandbits) -> None:
        self._randbits = randbits
        self._last = _NONE
        self._lock = Lock()

    def next(self, at: datetime, after: str = "") -> str:
        """The next one at an aware time; greater than every one before it, and than `after`."""
        with self._lock:
            last = max(self._last, _number(after)) if after else self._last
            self._last = _number_after(last, milliseconds(at), self._randbits(RANDOM_BITS))
            return _text(self._last)


PROCESS_IDS = Ids()
"""The one source that all records of a process share, unless they are given their own."""
