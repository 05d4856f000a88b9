"""The first line of a visit: what the person says, in the order it comes.

pain 2 worst 4 morning 1 walk 1 gaveway 0 home 5/7 confidence 6 consent y, each part by itself or left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from store.entry.entry import Entry, asks_of, says_of
from store.entry.grammar import FindMeasure, nearest
from store.entry.numbers import figure_of
from store.entry.trials import Run, sides_of
from store.entry.words import Word, words_of

MEASURES = {
    "pain": "pain_now",
    "worst": "pain_worst",
    "morning": "pain_morning",
    "walk": "pain_walk",
    "confidence": "confidence",
}
"""The words of the line that are measures, with their ids."""

MOST = 99
"""The highest count of giving way, and of days of a home programme."""

_GAVE_WAY = ("gaveway", "gave_way")
_WORDS = (*MEASURES, "gaveway", "home", "consent")
_ANSWERS = {"y": True, "yes": True, "n": False, "no": False}


class Said(NamedTuple):
    """What the person said. None means: not said. `asks` are sentences on the unusual, to be asked once more.

    `consent` is whether the person agrees to today's visit.
    """

    entries: tuple[Entry, ...] = ()
    gave_way: int | None = None
    home_done: int | None = None
    home_planned: int | None = None
    consent: bool | None = None
    asks: tuple[str, ...] = ()


@dataclass(slots=True)
class _Draft:
    entries: dict[str, Entry] = field(default_factory=dict)
    gave_way: int | None = None
    home: tuple[int, int] | None = None
    consent: bool | None = None


def is_said(line: str) -> bool:
    """Whether a line is one of what the person says, by its first word."""
    first = line.split(maxsplit=1)[:1]
    return bool(first) and first[0].casefold().replace("-", "_") in (*_WORDS, *_GAVE_WAY)


def parse_said(line: str, find_measure: FindMeasure) -> Said:
    """What a first line says. Raises EntryError, and nothing else, on a line that cannot be read."""
    draft = _Draft()
    words = iter(words_of(line, such_as="pain 2 worst 4"))
    for word in words:
        if word.text not in (",", ";"):
            _read_part(draft, word, words, find_measure)
    done, planned = draft.home or (None, None)
    asks = [ask for entry in draft.entries.values() for ask in entry.asks]
    if done is not None and planned is not None and done > planned:
        asks.append(f"home {done}/{planned}: more done than planned. Is it right?")
    return Said(tuple(draft.entries.values()), draft.gave_way, done, planned, draft.consent, tuple(asks))


def _read_part(draft: _Draft, name: Word, words: Iterator[Word], find_measure: FindMeasure) -> None:
    if name.quoted:
        raise name.error("no quotes here: type words and figures, such as pain 2")
    if name.key in MEASURES:
        if name.key in draft.entries:
            raise _twice(name)
        draft.entries[name.key] = _measured(name, _value(name, words), find_measure)
    elif name.key in _GAVE_WAY:
        if draft.gave_way is not None:
            raise _twice(name)
        draft.gave_way = _count(_value(name, words), "0 if it did not")
    elif name.key == "home":
        if draft.home is not None:
            raise _twice(name)
        draft.home = _days(_value(name, words))
    elif name.key == "consent":
        if draft.consent is not None:
            raise _twice(name)
        draft.consent = _answer(_value(name, words))
    else:
        raise name.error("not a word of this line" + nearest(name, _WORDS, "use " + ", ".join(_WORDS)))


def _value(name: Word, words: Iterator[Word]) -> Word:
    value = next(words, None)
    if value is None or value.quoted or value.key in (*_WORDS, *_GAVE_WAY):
        raise name.error("no figure behind it: type one, or leave the word out")
    return value


def _measured(name: Word, value: Word, find_measure: FindMeasure) -> Entry:
    measure = find_measure(MEASURES[name.key])
    if measure is None:
        raise name.error(f"the tables of this copy have no measure {MEASURES[name.key]}: leave this word out")
    side = sides_of([Run(values=[figure_of(value)])], measure)[0]
    return Entry(measure, (side,), asks=asks_of(side, measure), says=says_of(side, measure))


def _count(word: Word, hint: str) -> int:
    if not re.fullmatch(r"[0-9]{1,6}", word.text.rstrip(",;")):
        raise word.error(f"not a count: type a whole number, {hint}")
    return _at_most(word, int(word.text.rstrip(",;")))


def _days(word: Word) -> tuple[int, int]:
    match = re.fullmatch(r"([0-9]{1,6})/([0-9]{1,6})", word.text.rstrip(",;"))
    if not match:
        raise word.error("type the days done and planned, such as home 5/7")
    return _at_most(word, int(match[1])), _at_most(word, int(match[2]))


def _answer(word: Word) -> bool:
    answer = _ANSWERS.get(word.key.rstrip(",;"))
    if answer is None:
        raise word.error("type y when the person agrees to today's visit, or n")
    return answer


def _at_most(word: Word, count: int) -> int:
    if count > MOST:
        raise word.error(f"at most {MOST}")
    return count


def _twice(name: Word) -> Exception:
    return name.error("said twice: leave one of the two")
