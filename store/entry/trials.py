"""The values of one side, from typed words to trials: figures with or without units, `unable`, `cap`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from store.entry import numbers
from store.entry.entry import SideEntry, status_of
from store.entry.words import Word, words_of
from store.knowledge.kinds import Measure, Scoring
from store.knowledge.scoring import total
from store.knowledge.units import YES_NO
from store.knowledge.words import Side, Status

UNABLE, CAP = "unable", "cap"

_ANSWERED = re.compile(r"([0-9]{1,4})/([0-9]{1,3})")
"""The sum of a questionnaire's answers, and how many were answered."""


@dataclass(slots=True)
class Run:
    """The values behind one side, or bare ones: each a figure, or the word `unable` or `cap`.

    `word` is the word that named the side, None where none did.
    """

    side: Side | None = None
    word: Word | None = None
    values: list[numbers.Figure | Word] = field(default_factory=list)

    def add_value(self, word: Word, measure: Measure) -> None:
        """Take a value. Raises EntryError on what is no number, and on `cap`, `yes`, `no` out of place."""
        key = _key(word)
        if key in numbers.ANSWERS:
            self.values.append(_answer(word, measure))
            return
        if measure.scoring is not None and (answers := _ANSWERED.fullmatch(key)):
            self.values.append(_scored(word, measure.scoring, int(answers[1]), int(answers[2])))
            return
        if key == CAP and measure.cap is None:
            raise word.error(f"{measure.name} has no cap: type its value")
        self.values.append(word if key in (UNABLE, CAP) else numbers.figure_of(word))

    def add_unit(self, word: Word) -> None:
        """Take a unit that stands by itself behind a figure. Raises EntryError where it does not."""
        if not self.values or isinstance(self.values[-1], Word):
            raise word.error("a unit stands behind its value")
        self.values[-1] = numbers.with_unit(self.values[-1], word)


def is_value(word: Word) -> bool:
    """Whether a word is meant as a value."""
    known = _key(word) in (UNABLE, CAP) or _key(word) in numbers.ANSWERS
    return not word.quoted and (known or numbers.looks_like_number(word))


def values_in(text: str, measure: Measure, side: Side | None = None) -> SideEntry:
    """One side's trials from a text of values alone, as typed trial by trial: `10.2`, `45 mm`, `unable`, `cap`.

    Raises EntryError.
    """
    run = Run(side)
    asked = measure.unit == YES_NO
    for word in words_of(text):
        if asked and word.key in numbers.ANSWERS_IN_SHORT:
            word = Word(numbers.ANSWERS_IN_SHORT[word.key], word.start, word.end)
        if is_value(word):
            run.add_value(word, measure)
        elif numbers.is_unit(word):
            run.add_unit(word)
        elif word.text not in (",", ";"):
            what = "yes, no (y, n) or unable" if asked else "a figure, unable or cap"
            raise word.error(f"not a value: type {what}")
    return sides_of([run], measure)[0]


def sides_of(runs: Sequence[Run], measure: Measure) -> tuple[SideEntry, ...]:
    """The sides of a line, left before right. Raises EntryError on units, limits and numbers of trials."""
    _spread_units(runs, measure)
    sides = [_side(run, measure) for run in runs]
    return tuple(sorted(sides, key=lambda side: side.side is Side.RIGHT))


def _spread_units(runs: Sequence[Run], measure: Measure) -> None:
    """Give each figure without a unit the next unit behind it, so that `45 47 46 mm` is three values in mm.

    Raises EntryError where a figure is left without one while others are in a unit that is not the measure's own.
    """
    unit, foreign = "", False
    for run in reversed(runs):
        for place, figure in reversed(list(enumerate(run.values))):
            if isinstance(figure, numbers.Figure) and numbers.fits(figure.unit, measure):
                unit = figure.unit or unit
                foreign = foreign or numbers.converts(figure.unit, measure)
                run.values[place] = figure._replace(unit=unit)
    for figure in (value for run in runs for value in run.values):
        if foreign and isinstance(figure, numbers.Figure) and not figure.unit:
            raise figure.word.error("other values have a unit and this one has none: type its unit too")


def _side(run: Run, measure: Measure) -> SideEntry:
    unable = next((value for value in run.values if isinstance(value, Word) and _key(value) == UNABLE), None)
    if unable:
        if len(run.values) > 1:
            raise unable.error("it stands alone on its side: leave it out, or leave the values out")
        return SideEntry(run.side, (), Status.UNABLE)
    found = _trials(run, measure)
    if len(found) > measure.counted:
        raise found[measure.counted].word.error(f"too many trials: {measure.name} counts {measure.counted}")
    trials = tuple(trial.value for trial in found)
    return SideEntry(run.side, trials, status_of(trials, measure))


class _Trial(NamedTuple):
    value: float
    word: Word
    said: str  # figure | cap | both


def _trials(run: Run, measure: Measure) -> list[_Trial]:
    """The trials of a side. `cap` is a trial at the cap; beside a figure that reached it the two are one trial."""
    found: list[_Trial] = []
    for value in run.values:
        if isinstance(value, Word):
            trial = _Trial(measure.cap or 0.0, value, "cap")
        else:
            trial = _Trial(numbers.in_unit(value, measure), value.word, "figure")
        if found and _one_trial(found[-1], trial, measure.cap):
            found[-1] = trial._replace(value=max(found[-1].value, trial.value), said="both")
        else:
            found.append(trial)
    return found


def _one_trial(last: _Trial, trial: _Trial, cap: float | None) -> bool:
    return cap is not None and {last.said, trial.said} == {"cap", "figure"} and min(last.value, trial.value) >= cap


def _answer(word: Word, measure: Measure) -> numbers.Figure:
    if measure.unit != YES_NO:
        raise word.error(f"{measure.name} is no yes or no: type its value")
    return numbers.Figure(numbers.ANSWERS[_key(word)], "", word)


def _scored(word: Word, how: Scoring, given: int, answered: int) -> numbers.Figure:
    """The total of a questionnaire from `64/20`: the sum of the answers, and how many of them there are."""
    try:
        found = total(how, given, answered)
    except ValueError as error:
        raise word.error(f"{error}: type the sum of the answers, a stroke, and their number") from error
    if found is None:
        raise word.error(f"no score: at least {how.wanted} of {how.items} are to be answered, not {answered}")
    return numbers.Figure(Decimal(repr(round(found, 1))), "", word)


def _key(word: Word) -> str:
    return word.key.rstrip(",;")
