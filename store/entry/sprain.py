"""A new sprain in one line: 12 jan on the stairs; yesterday left landed on a foot, off for three days.

First the day, then the side where it is not the one that is cared for, then how it came about, in free words.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.entry.errors import EntryError
from store.entry.past import Rest, bare, checked, past_day
from store.entry.words import SIDES, words_of
from store.knowledge.words import Side

SUCH_AS = "12 jan on the stairs or yesterday left on the kerb"


@dataclass(frozen=True, slots=True)
class SaidSprain:
    """What a line says of a new sprain; `side` is None where none was said, `words` may be empty."""

    day: date
    side: Side | None = None
    words: str = ""


def parse_sprain(line: str, today: date) -> SaidSprain:
    """What a line says. Raises EntryError, and nothing else, on a line that cannot be read."""
    words = [bare(word) for word in words_of(line, such_as=SUCH_AS) if word.text.strip(",;")]
    if not words:
        raise EntryError("", f"nothing to read: type the day first, as in {SUCH_AS}", 0, len(line))
    rest = Rest(words)
    first = rest.take()
    if first.quoted:
        raise first.error(f"type the day first, as in {SUCH_AS}")
    day = checked(past_day(first, rest, today, SUCH_AS), today, first)
    side = SIDES.get(rest.key)
    if side is not None:
        rest.take()
    said = line[rest.left[0].start :] if rest.left else ""
    return SaidSprain(day, side, said.strip(" ,;\"'"))
