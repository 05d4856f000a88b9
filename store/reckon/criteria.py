"""Whether an ankle meets the conditions of a stage: a verdict each, never a score, and what to measure next."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from store.knowledge.criteria import Criterion, Need
from store.knowledge.kinds import Measure
from store.knowledge.words import Better, Reading, Status
from store.reckon.sides import difference
from store.reckon.threshold import LineVerdict, of_answer, past

UNSURE = 0.5
"""How likely what was not measured is to be met: nobody knows."""

FIGURES_ONLY = 0.8
"""How sure a verdict without a known error is taken to be, when it is weighed what to measure next: common
practice."""


class Line(NamedTuple):
    """A line on the injured side's value. `relative`: it was drawn from the reference, so that the error of a gap
    holds."""

    value: float
    relative: bool = False


class Answer(NamedTuple):
    """What can be said of one criterion. `margin` is how far the value is on the better side of the line, in the
    unit.

    `chance` is the probability that the true value is past the line, None where no error is known. `why` is a
    short sentence where there is no line or no value.
    """

    criterion: Criterion
    verdict: LineVerdict
    value: float | None = None
    line: float | None = None
    margin: float | None = None
    chance: float | None = None
    age_days: int | None = None
    relative: bool = False
    why: str = ""

    @property
    def fresh(self) -> bool:
        """Whether it was answered today."""
        return self.verdict.answered and self.age_days == 0


class Evidence(NamedTuple):
    """What is known of one criterion's measure: the reading that counts, the one before, reference, errors."""

    measure: Measure
    reading: Reading | None
    previous: Reading | None = None
    reference: float | None = None
    sem: float | None = None
    gap_sem: float | None = None
    fresh_days: float | None = None


def answer(criterion: Criterion, known: Evidence, today: date) -> Answer:
    """Hold what is known against a criterion. Unable is clearly short, and never a zero."""
    reading = known.reading
    if reading is None:
        return Answer(criterion, LineVerdict.NOT_MEASURED)
    age = (today - reading.taken.on).days
    told = _fresh_answer(criterion, known, reading)._replace(age_days=age)
    if known.fresh_days is not None and age > known.fresh_days:
        return told._replace(verdict=LineVerdict.STALE)
    return told


def _fresh_answer(criterion: Criterion, known: Evidence, reading: Reading) -> Answer:
    if reading.status is Status.UNABLE or reading.value is None:
        return Answer(criterion, LineVerdict.CLEARLY_SHORT, why="unable")
    if criterion.need.kind == "yes":
        return Answer(criterion, of_answer(reading.value > 0), reading.value)
    if criterion.need.kind == "no_rise":
        return _no_rise(criterion, known, reading.value)
    better = known.measure.better
    line = line_of(criterion.need, known.reference, better)
    if line is None:
        why = "the side or baseline it is held against is not measured"
        return Answer(criterion, LineVerdict.NOT_MEASURED, reading.value, why=why)
    found = past(reading.value, line.value, better, known.gap_sem if line.relative else known.sem)
    margin = difference(reading.value, line.value)
    return Answer(
        criterion,
        found.verdict,
        reading.value,
        line.value,
        margin if better is Better.HIGHER else -margin + 0.0,
        found.probability,
        relative=line.relative,
    )


def _no_rise(criterion: Criterion, known: Evidence, value: float) -> Answer:
    """No worse than the time before; the best there is cannot be a rise, whatever stood before it."""
    best = known.measure.low if known.measure.better is Better.LOWER else known.measure.high
    before = known.previous.value if known.previous is not None else None
    if before is None and value != best:
        return Answer(criterion, LineVerdict.NOT_MEASURED, value, why="asked once: no rise can be told yet")
    line = best if before is None else before
    found = past(value, line, known.measure.better, None)
    return Answer(criterion, found.verdict, value, line, difference(line, value))


def line_of(need: Need, reference: float | None, better: Better) -> Line | None:
    """The one line that a need draws on a value; None where it hangs on a reference that is not known.

    On one value the easier of `any` and the harder of `all` decides.
    """
    up = 1 if better is Better.HIGHER else -1
    if need.parts:
        lines = [line_of(part, reference, better) for part in need.parts]
        known = [line for line in lines if line is not None]
        if not known or (need.kind == "all" and len(known) < len(lines)):
            return None
        choose = min if need.kind == "any" else max
        return choose(known, key=lambda line: up * line.value)
    if need.kind in {"at_least", "at_most"}:
        return Line(need.value)
    if reference is None:
        return None
    if need.kind == "within":
        return Line(difference(reference, up * need.value), relative=True)
    return Line(reference * need.value if up > 0 else reference / need.value, relative=True)


def counted(answers: Sequence[Answer]) -> dict[LineVerdict, int]:
    """How many there are of each verdict, in the order of the verdicts; none that does not occur."""
    found = {verdict: sum(one.verdict is verdict for one in answers) for verdict in LineVerdict}
    return {verdict: count for verdict, count in found.items() if count}


def all_met(answers: Sequence[Answer]) -> bool:
    """Whether every one is met, each by its own verdict."""
    return bool(answers) and all(one.verdict.met for one in answers)


def in_the_way(answers: Sequence[Answer]) -> list[Answer]:
    """Those answered today that are short beyond doubt: while one is, no other answer changes the decision."""
    short = {LineVerdict.CLEARLY_SHORT, LineVerdict.SHORT}
    return [one for one in answers if one.fresh and one.verdict in short]


_SETTLED = frozenset(
    {
        LineVerdict.CLEARLY_MET,
        LineVerdict.CLEARLY_SHORT,
        LineVerdict.MET,
        LineVerdict.SHORT,
        LineVerdict.MET_UNKNOWN,
    }
)


def measure_next(answers: Sequence[Answer]) -> Answer | None:
    """The criterion whose answer would most change the decision, of those not answered today, if there is one.

    An answer that is missing comes before one that is close, and what is settled is measured again only when
    nothing else is open.

    The decision is that all are met. Measuring one moves its probability from p to nought or one, so that the
    decision moves by (product of the others)^2 x p (1 - p) in variance. The first in order wins a tie.
    """
    open_ones = [one for one in answers if not one.fresh]
    unanswered = [one for one in open_ones if not one.verdict.answered]
    unsettled = [one for one in open_ones if one.verdict not in _SETTLED]
    if not open_ones:
        return None
    chances = {one.criterion.id: _chance(one) for one in answers}

    def weight(candidate: Answer) -> float:
        product = 1.0
        for one in answers:
            if one is not candidate:
                product *= max(chances[one.criterion.id], 1e-3)
        p = chances[candidate.criterion.id]
        return product**2 * p * (1 - p)

    return max(unanswered or unsettled or open_ones, key=weight)


def _chance(answer: Answer) -> float:
    """How likely it is met, as far as is known."""
    if not answer.verdict.answered:
        return UNSURE
    if answer.chance is not None:
        return answer.chance
    if answer.verdict is LineVerdict.CLEARLY_SHORT:
        return 1 - FIGURES_ONLY
    return FIGURES_ONLY if answer.verdict.met else 1 - FIGURES_ONLY
