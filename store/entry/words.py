"""A typed line as its words, each with its place. What no line may hold is refused here, before it is read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from store.entry.errors import EntryError, hidden
from store.knowledge.words import Side

LONGEST = 1000
"""Characters a line may have, its note included."""

SIDES = {"left": Side.LEFT, "l": Side.LEFT, "right": Side.RIGHT, "r": Side.RIGHT}
"""A side by the key of a word."""

_CLOSES = {'"': '"', "“": "”"}
_BARE = re.compile(rf"[^\s{''.join(_CLOSES)}]+")


class Word(NamedTuple):
    """One word of a line, or one text in quotes (its `text` without them). `start` and `end` are its place."""

    text: str
    start: int
    end: int
    quoted: bool = False

    @property
    def key(self) -> str:
        """The word as it is looked up: small letters, and an underscore for a hyphen."""
        return self.text.casefold().replace("-", "_")

    def error(self, why: str) -> EntryError:
        """What is said when this word is at fault."""
        return EntryError(f'"{self.text}"' if self.quoted else self.text, why, self.start, self.end)


def words_of(line: str, such_as: str = "lunge 10.2 8.4") -> list[Word]:
    """The words of a line. Raises EntryError on one too long, empty, with hidden characters or with open quotes.

    `such_as` is what to type, said when the line is empty.
    """
    _check(line)
    words = list(_split(line))
    if not words:
        raise EntryError("", f"nothing to read: type a line such as {such_as}", 0, len(line))
    return words


def _check(line: str) -> None:
    if len(line) > LONGEST:
        why = f"the line has {len(line)} characters and may have {LONGEST}: type one measure with its values"
        raise EntryError(line[LONGEST:], why, LONGEST, len(line))
    inner = line.rstrip("\r\n")
    if inner.isascii() and inner.isprintable():
        return  # as most are
    for place, char in enumerate(inner):
        if char in "\r\n":
            raise EntryError(char, "one line at a time: take out the line break", place, place + 1)
        if hidden(char) and char != "\t":
            raise EntryError(
                char, "a character that cannot be shown: delete it and type the line again", place, place + 1
            )


def _split(line: str) -> Iterator[Word]:
    place = 0
    while place < len(line):
        if line[place].isspace():
            place += 1
        elif line[place] in _CLOSES:
            word = _quoted(line, place)
            yield word
            place = word.end
        else:
            found = _BARE.match(line, place)
            assert found is not None
            place = found.end()
            yield Word(found[0], found.start(), place)


def _quoted(line: str, start: int) -> Word:
    """The text in quotes that begins at `start`. A straight quote inside is written twice."""
    closing = _CLOSES[line[start]]
    text: list[str] = []
    place = start + 1
    while place < len(line):
        if line[place] != closing:
            text.append(line[place])
            place += 1
        elif closing == '"' and line[place + 1 : place + 2] == '"':
            text.append('"')
            place += 2
        else:
            return Word("".join(text), start, place + 1, quoted=True)
    raise EntryError(line[start:], f"the quotes are not closed: type {closing} behind the note", start, len(line))
