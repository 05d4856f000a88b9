"""The one-line grammar: a measure, its values by side, and what holds for all of them.

MEASURE [left|right] VALUE... [left|right VALUE...] [before|after] [brace|tape|...] [note "..."]
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import takewhile
from typing import NamedTuple

from store.entry.entry import CONDITIONS, Entry, asks_of, says_of
from store.entry.errors import EntryError
from store.entry.numbers import Figure, is_unit
from store.entry.trials import CAP, UNABLE, Run, is_value, sides_of
from store.entry.words import SIDES, Word, words_of
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Side

NAME_WORDS = 10
"""Words of a line that its measure's name may have."""

FindMeasure = Callable[[str], Measure | None]
"""A measure by its id, short form or name, in small letters with underscores; None when there is none."""

_MOMENTS = {moment.value: moment for moment in Moment}
_CONDITIONS = {condition.replace("-", "_"): condition for condition in CONDITIONS}
_WORDS = ("left", "right", *_MOMENTS, *CONDITIONS, UNABLE, CAP, "note")


@dataclass(slots=True)
class _Draft:
    """A line as far as it has been read. `closed` is the word behind which no more values may stand."""

    measure: Measure
    runs: list[Run] = field(default_factory=list)
    moment: Moment | None = None
    conditions: list[str] = field(default_factory=list)
    note: str | None = None
    closed: str = ""


def parse(
    line: str, find_measure: FindMeasure, *, moment: Moment | None = None, names: Iterable[str] = ()
) -> Entry:
    """The entry that a line says. Without a moment of its own it takes the one given, which is the plan's.

    `names` are the measures' names, to suggest the nearest from. Raises EntryError, and nothing else, on a line
    that cannot be read.
    """
    words = words_of(line)
    name, measure = _measure(line, words, find_measure, names)
    draft = _Draft(measure)
    rest = iter(words[name.words :])
    for word in rest:
        if word.key == "note" and not word.quoted:
            _read_note(draft, word, next(rest, None))
        else:
            _read_word(draft, word)
    return _entry(draft, name.word, draft.moment or moment)


def named(line: str, find_measure: FindMeasure) -> Measure | None:
    """The measure that a line begins with, or None; of names that begin alike the longest. Never raises."""
    try:
        found = _longest(line, words_of(line), find_measure)
    except EntryError:
        return None
    return found[1] if found else None


def nearest(word: Word, names: Iterable[str], otherwise: str) -> str:
    """The end of a sentence on an unknown word: the nearest of the names, or something else to type."""
    near = difflib.get_close_matches(word.key[:40], list(names), n=1, cutoff=0.5)
    return f"; did you mean {near[0]}?" if near else f": {otherwise}"


def one_word(name: str) -> str:
    """The name of a measure as one word, as it is looked up: `reach, front` as `reach_front`."""
    return "_".join(part.removesuffix(",") for part in name.casefold().split())


def measures_near(name: str, names: Iterable[str], find_measure: FindMeasure, otherwise: str) -> str:
    """The end of a sentence on an unknown measure: which ones may be meant, by their names on screen: those that
    begin with it, or the nearest; `otherwise` where there is none.
    """
    there, key = list(names), one_word(name)[:40]
    found = [key] if key in there else [each for each in there if each.split("_")[0] == key][:3]
    found = found or difflib.get_close_matches(key, there, n=1, cutoff=0.5)
    plain = dict.fromkeys(measure.name for each in found if (measure := find_measure(each)) is not None)
    return f"; did you mean {' or '.join(plain)}?" if plain else f": {otherwise}"


class _Name(NamedTuple):
    """The words at the start of a line that name its measure, as one word."""

    word: Word
    words: int


def _measure(
    line: str, words: Sequence[Word], find_measure: FindMeasure, names: Iterable[str]
) -> tuple[_Name, Measure]:
    found = _longest(line, words, find_measure)
    if found is None:
        near = measures_near(words[0].key, names, find_measure, "type one, such as lunge")
        raise words[0].error(f"no measure has this name{near}")
    if found[1].made_of:
        raise words[0].error(f"{found[1].name} is worked out: enter {', '.join(found[1].made_of)}")
    return found


def _longest(line: str, words: Sequence[Word], find_measure: FindMeasure) -> tuple[_Name, Measure] | None:
    """The measure that the first words name: of names that begin alike the longest, blanks for underscores."""
    possible = [words[0], *takewhile(_may_name, words[1:NAME_WORDS])] if not words[0].quoted else []
    for many in range(len(possible), 0, -1):
        inner = [word.key.removesuffix(",") for word in possible[: many - 1]]
        key = "_".join([*inner, possible[many - 1].key])
        measure = find_measure(key)
        if measure is not None:
            start, end = words[0].start, words[many - 1].end
            return _Name(Word(line[start:end], start, end), many), measure
    return None


def _may_name(word: Word) -> bool:
    """Whether a word can be part of a name: neither a side nor a value."""
    return not word.quoted and word.key not in SIDES and not word.text[:1].isdigit() and not is_value(word)


def _read_word(draft: _Draft, word: Word) -> None:
    if word.quoted:
        raise word.error("a text in quotes stands behind the word note")
    if word.key in _MOMENTS:
        _read_moment(draft, word)
    elif word.key in _CONDITIONS:
        _read_condition(draft, word)
    elif word.key in SIDES:
        _read_side(draft, word)
    elif is_value(word) and word.text not in (",", ";"):
        _read_value(draft, word)
    elif is_unit(word):
        _read_unit(draft, word)
    elif word.text not in (",", ";"):
        raise word.error(_unknown(word))


def _unknown(word: Word) -> str:
    if re.fullmatch(r"(l|r|left|right)[_0-9].*", word.key):
        return "put a space between the side and the value"
    if word.key in {"injured", "uninjured", "both"}:
        return "type left or right"
    return "not a word of this line" + nearest(word, _WORDS, "use sides, values, before, after, brace, tape, note")


def _read_moment(draft: _Draft, word: Word) -> None:
    if draft.moment is not None:
        raise word.error(f"{draft.moment.value} was said already: leave one of the two")
    draft.moment = _MOMENTS[word.key]


def _read_condition(draft: _Draft, word: Word) -> None:
    condition = _CONDITIONS[word.key]
    if condition not in draft.conditions:
        draft.conditions.append(condition)
    draft.closed = draft.closed or condition


def _read_side(draft: _Draft, word: Word) -> None:
    side = SIDES[word.key]
    _refuse_late(draft, word)
    if not draft.measure.paired:
        raise word.error(f"{draft.measure.name} has no sides: leave this word out")
    if any(run.side is None for run in draft.runs):
        raise word.error("the values before it have no side: type left or right before them")
    if any(run.side is side for run in draft.runs):
        raise word.error(f"{side.value} was said already: type all its values behind one {side.value}")
    _refuse_empty(draft)
    draft.runs.append(Run(side, word))


def _read_value(draft: _Draft, word: Word) -> None:
    _refuse_late(draft, word)
    if not draft.runs:
        draft.runs.append(Run())
    draft.runs[-1].add_value(word, draft.measure)


def _read_unit(draft: _Draft, word: Word) -> None:
    _refuse_late(draft, word)
    if not draft.runs:
        raise word.error("a unit stands behind its value")
    draft.runs[-1].add_unit(word)


def _read_note(draft: _Draft, word: Word, text: Word | None) -> None:
    if text is None or not text.quoted:
        raise word.error('type the note in quotes behind it, such as note "heel lifted"')
    if draft.note is not None:
        raise word.error("there is a note already: put both in one")
    draft.note = text.text.strip()
    draft.closed = draft.closed or "note"


def _refuse_late(draft: _Draft, word: Word) -> None:
    if draft.closed:
        raise word.error(f"type sides and values before {draft.closed}, which holds for the whole line")


def _refuse_empty(draft: _Draft) -> None:
    if draft.runs and draft.runs[-1].word and not draft.runs[-1].values:
        raise draft.runs[-1].word.error("no value behind it: type one, or unable")


def _entry(draft: _Draft, name: Word, moment: Moment | None) -> Entry:
    measure = draft.measure
    _refuse_empty(draft)
    if not draft.runs:
        raise name.error("no value behind it: type one, or unable")
    if measure.paired and draft.runs[0].side is None:
        draft.runs = _left_then_right(draft.runs[0])
    sides = sides_of(draft.runs, measure)
    return Entry(
        measure,
        sides,
        moment,
        tuple(draft.conditions),
        draft.note or None,
        asks=tuple(ask for side in sides for ask in asks_of(side, measure)),
        says=tuple(say for side in sides for say in says_of(side, measure)),
    )


def _left_then_right(bare: Run) -> list[Run]:
    """Two bare values on a paired measure are left, then right; any other number asks for the side."""
    if len(bare.values) != 2:
        first = bare.values[0]
        word = first.word if isinstance(first, Figure) else first
        raise word.error("which side? Type left or right before it")
    return [Run(side, values=[value]) for side, value in zip(Side, bare.values, strict=True)]
