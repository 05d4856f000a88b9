"""The measurement error that a change or a gap is held against: one coherent family a measure, or none known."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from store.knowledge.kinds import ErrorFamily, Figure, Measure
from store.knowledge.words import Mark

Span = Literal["within", "between"]
"""Within a visit (before and re-test), or between visits."""

MDC_PER_SEM = 1.96 * math.sqrt(2)
"""MDC at 95 % = 1.96 x root 2 x SEM (Weir 2005, J Strength Cond Res 19:231-240); 2.77 in print."""

UNSHARED = "two examiners, and the error between them is not known here: the true one may be larger"


class Error(NamedTuple):
    """A known error, in the measure's unit, and where it comes from.

    `mdc` is at 95 % and is 2.77 x `sem`. `figures` are what both rest on, the SEM before the MDC, each with its
    own source; `formula` is what was reckoned from them, and `says` what kind of value they hold for. `warning` is
    a sentence, or empty.
    """

    sem: float
    mdc: float
    figures: tuple[Figure, ...]
    family: str
    formula: str
    says: str
    warning: str = ""

    @property
    def figure(self) -> Figure:
        """The one of the figures that was published, else the first."""
        return next((figure for figure in self.figures if figure.mark is not Mark.DERIVED), self.figures[0])


def mdc_from_sem(sem: float) -> float:
    """Minimal detectable change at 95 % from a standard error of measurement."""
    return MDC_PER_SEM * sem


def sem_from_mdc(mdc: float) -> float:
    """Standard error of measurement from a minimal detectable change at 95 %."""
    return mdc / MDC_PER_SEM


def error_for(
    measure: Measure, span: Span, *, gap: bool = False, examiners: int = 1, own_sem: float | None = None
) -> Error | None:
    """The error of one side's value, or of a left-right gap, in force for this measure. None when it is unknown.

    `own_sem` is the examiner's own SEM of one side over the same span, and replaces the published one. With two
    examiners the largest of what is known holds: never less than one examiner's error. What a person reports has
    no examiner. Raises ValueError on an `own_sem` that is not above nought, or fewer than one examiner.
    """
    if examiners < 1:
        raise ValueError("a reading has at least one examiner")
    published = _of_family(measure.error, measure, span, gap) if measure.error else None
    own = _own(measure, own_sem, gap) if own_sem is not None else None
    if examiners == 1 or measure.asks:
        return own or published
    shared = [_of_two(family, measure, span, gap) for family in measure.errors if family.examiners > 1]
    known = [error for error in (own, published, *shared) if error]
    if not known:
        return None
    largest = max(known, key=lambda error: error.mdc)
    return largest if any(shared) else largest._replace(warning=UNSHARED)


def _of_two(family: ErrorFamily, measure: Measure, span: Span, gap: bool) -> Error | None:
    """The error between two examiners: where none is given within a visit, the one between visits holds."""
    known = _of_family(family, measure, span, gap)
    return known or (_of_family(family, measure, "between", gap) if span == "within" else None)


def _of_family(family: ErrorFamily, measure: Measure, span: Span, gap: bool) -> Error | None:
    if gap and span == "between" and family.gap_mdc:
        mdc = family.gap_mdc
        formula = "the gap's own MDC; SEM = MDC / 2.77"
        return Error(sem_from_mdc(mdc.value), mdc.value, (mdc,), family.name, formula, _of_what(measure))
    if span == "within":
        side = _of_side(family.sem_within, family.mdc_within, family.name, measure)
    else:
        side = _of_side(family.sem_between, family.mdc_between, family.name, measure)
    return _of_gap(side) if side and gap else side


def _of_side(sem: Figure | None, mdc: Figure | None, family: str, measure: Measure) -> Error | None:
    """The error of one side. Of SEM and MDC the one that is missing follows from the other."""
    if sem:
        reached = mdc.value if mdc else mdc_from_sem(sem.value)
        figures = (sem, mdc) if mdc else (sem,)
        return Error(sem.value, reached, figures, family, "MDC = 2.77 x SEM", _of_what(measure))
    if mdc:
        return Error(sem_from_mdc(mdc.value), mdc.value, (mdc,), family, "SEM = MDC / 2.77", _of_what(measure))
    return None


def _own(measure: Measure, own_sem: float, gap: bool) -> Error | None:
    if not (own_sem > 0 and math.isfinite(own_sem)):
        raise ValueError("an examiner's own SEM is a number above nought")
    figure = Figure(own_sem, Mark.DERIVED, formula="root of the error mean square of the examiner's own trials")
    side = _of_side(figure, None, "own error", measure)
    return _of_gap(side) if side and gap else side


def _of_gap(side: Error) -> Error:
    """Two sides, two independent errors: root 2 times one side's."""
    root = math.sqrt(2)
    formula = f"{side.formula}; a gap's is root 2 times a side's"
    return side._replace(sem=side.sem * root, mdc=side.mdc * root, formula=formula)


def _of_what(measure: Measure) -> str:
    if measure.counted <= 1 or measure.aggregate == "single":
        return "the error of one trial"
    return f"the error of the {measure.aggregate} of {measure.counted} trials"
