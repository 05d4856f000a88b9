"""One's own error: the same ankles measured again and again, blind, and what that says of the examiner."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from store.care.care import Care
from store.care.faults import CareFault
from store.care.in_words import many, rough
from store.care.statements import Section, Statement
from store.entry.grammar import parse
from store.knowledge.kinds import Measure
from store.knowledge.tries import PracticeTry
from store.knowledge.units import unit_words
from store.reckon.error import error_for
from store.reckon.reliability import Reliability, summary

LEAST_ANKLES, MOST_ANKLES, MOST_REPEATS = 2, 40, 5
ENOUGH_ANKLES = 10
"""Below it the interval is so wide that it is said: a choice of ours, no source."""
HOW = "how many ankles, how often: 8 x 2"

_PLAN = re.compile(r"\s*(\d{1,3})\s*(?:[x*×]\s*(\d{1,2})\s*)?", re.IGNORECASE | re.ASCII)


class Drill(NamedTuple):
    """A drill under way: `values` come round by round, in each round every ankle once, in one order."""

    measure: Measure
    ankles: int
    repeats: int
    values: tuple[float, ...] = ()

    @property
    def done(self) -> bool:
        """Whether every ankle was measured as often as was wanted."""
        return len(self.values) >= self.ankles * self.repeats

    @property
    def enough(self) -> bool:
        """Whether two rounds are whole, so that there is an error to tell."""
        return len(self.values) >= 2 * self.ankles

    @property
    def ankle(self) -> int:
        """The number of the ankle to be measured now, from 1."""
        return len(self.values) % self.ankles + 1

    @property
    def round(self) -> int:
        """The round in hand, from 1."""
        return min(len(self.values) // self.ankles, self.repeats - 1) + 1

    @property
    def table(self) -> list[list[float]]:
        """A row an ankle, a column a round; whole rounds only."""
        rounds = len(self.values) // self.ankles
        return [[self.values[n * self.ankles + at] for n in range(rounds)] for at in range(self.ankles)]

    @property
    def data(self) -> dict[str, Any]:
        """As a try keeps it."""
        return {"ankles": self.ankles, "repeats": self.repeats, "values": list(self.values)}


def planned(measure: Measure, line: str) -> Drill:
    """The drill that a line such as `8 x 2` asks for; `8` alone is measured twice. Raises CareFault."""
    found = _PLAN.fullmatch(line)
    if not found:
        raise CareFault(f"type {HOW}")
    ankles, repeats = int(found[1]), int(found[2] or 2)
    if not LEAST_ANKLES <= ankles <= MOST_ANKLES or not 2 <= repeats <= MOST_REPEATS:
        raise CareFault(
            f"{LEAST_ANKLES} to {MOST_ANKLES} ankles, each measured 2 to {MOST_REPEATS} times, are wanted: {HOW}"
        )
    return Drill(measure, ankles, repeats)


def resumed(care: Care, one: PracticeTry) -> Drill:
    """The drill of a try that was kept."""
    data = one.data
    return Drill(care.knowledge.measures[one.ref], data["ankles"], data["repeats"], tuple(data["values"]))


def with_value(care: Care, drill: Drill, text: str) -> tuple[Drill, tuple[str, ...]]:
    """The drill with one more value as it was typed, and what is asked of it. Raises EntryError or CareFault."""
    words = text.split()
    if len(words) != 1:
        raise CareFault("type one value: each ankle is measured once in a round")
    entry = parse(f"{drill.measure.id} left {words[0]}", care.knowledge.find_measure)
    trials = entry.sides[0].trials
    if len(trials) != 1:
        raise CareFault("a drill wants a value: leave an ankle out that cannot be measured")
    asks = tuple(each.replace("left ", "", 1) for each in entry.asks)
    return drill._replace(values=(*drill.values, trials[0])), asks


def without_last(drill: Drill) -> Drill:
    """The drill without the value that was typed last."""
    return drill._replace(values=drill.values[:-1])


# what it says


def how(measure: Measure) -> list[Section]:
    """How a drill is done, and the protocol of the measure, which is the same each time."""
    says = (
        Statement("ankles", "as many as you can get, ten or more; left and right of one person are two"),
        Statement("rounds", "each ankle once, in one order, then all again; what you had is not shown"),
        Statement("between", "take the foot off and place it anew: that is a part of your error"),
    )
    steps = tuple(Statement(str(n), step) for n, step in enumerate(measure.steps, 1))
    return [Section("how", says), *([Section(measure.long_name, steps)] if steps else [])]


def told(drill: Drill) -> list[Section]:
    """ICC, SEM, MDC and limits of agreement in words; empty where no two rounds are whole."""
    if not drill.enough:
        return []
    found, measure = summary(drill.table), drill.measure
    own = [
        Statement("SEM", f"{_with_unit(found.sem, measure)}: how far your own reading lies off, usually", _SEM),
        Statement("MDC", f"{_with_unit(found.mdc, measure)}: a smaller change may be you", "2.77 x SEM (derived)"),
        Statement("ICC(2,1)", _icc_words(found), "absolute agreement, one reading; 1 is the best there is"),
        Statement("between rounds", _limits_words(found, measure), "limits of agreement, first to second round"),
    ]
    notes = [Statement("against", _against(measure, found.sem), _of_one_trial(measure))]
    if drill.ankles < ENOUGH_ANKLES:
        notes.append(Statement("mind", f"{many(drill.ankles, 'ankle')} are few: look how wide the interval is"))
    notes.append(
        Statement(
            "", "Sound ankles of one group lie close together: an ICC is low then, though the error is small."
        )
    )
    return [Section(f"your own error, {measure.name}", tuple(own)), Section("what to make of it", tuple(notes))]


_SEM = "square root of the error mean square (Weir 2005)"


def _with_unit(value: float, measure: Measure) -> str:
    return f"{rough(value)} {unit_words(measure.unit)}".strip()


def _icc_words(found: Reliability) -> str:
    count = f"of {many(found.targets, 'ankle')} measured {found.repeats} times"
    if found.icc.value is None:
        return f"cannot be told {count}: nothing differs"
    value = f"{found.icc.value:.2f}"
    if found.icc.low is None or found.icc.high is None:
        return f"{value} {count}; its interval needs the extra `practice`: pip install '.[practice]'"
    return f"{value} (95 % {found.icc.low:.2f} to {found.icc.high:.2f}) {count}"


def _limits_words(found: Reliability, measure: Measure) -> str:
    low, high = found.limits
    unit = unit_words(measure.unit)
    return f"{_tenths(found.bias)} {unit}, 95 of 100 differences from {_tenths(low)} to {_tenths(high)}"


def _tenths(value: float) -> str:
    """A difference with its sign; nought has none."""
    rounded = round(value, 1)
    return f"{rounded:+.1f}" if rounded else "0.0"


def _of_one_trial(measure: Measure) -> str:
    """Where the measure takes the mean of some trials, and a drill takes one: both errors are not of the same."""
    if measure.aggregate != "mean" or measure.counted < 2:
        return ""
    return f"yours is of one trial, the other of a mean of {measure.counted}: type means to compare like with like"


def _against(measure: Measure, sem: float) -> str:
    """One's own error beside the one that the program reckons with."""
    error = error_for(measure, "within")
    if error is None:
        return "no error of this measure is known to the program: yours is the only one"
    beside = "more than" if sem > error.sem else "no more than"
    return f"{beside} the {_with_unit(error.sem, measure)} that the program reckons with within a visit"
