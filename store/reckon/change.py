"""Whether a change is more than its measurement error: before and re-test, or visit and visit."""

from __future__ import annotations

from typing import NamedTuple

from store.knowledge.kinds import Measure
from store.knowledge.units import YES_NO
from store.knowledge.words import Better, Reading, Status, Verdict
from store.reckon import compare
from store.reckon.error import Error, Span, error_for
from store.reckon.sides import EDGE, difference


class Change(NamedTuple):
    """What can honestly be said of a change.

    `value` is later minus earlier, raw, in the unit; None when there are no two figures. `verdict` is None when
    nothing can be said, and `warnings` then says why. `at_least`: a cap was reached, so the true change is this or
    more. `important` is whether the size reaches what matters to people (MCID), None when that is not known; it
    stands beside the verdict and is never merged with it.
    """

    value: float | None
    mdc: float | None
    verdict: Verdict | None
    warnings: tuple[str, ...] = ()
    important: bool | None = None
    error: Error | None = None
    at_least: bool = False


def verdict_of(value: float, mdc: float | None, better: Better) -> Verdict:
    """The verdict on a raw change. A change of exactly the MDC is clear."""
    if mdc is None:
        return Verdict.UNKNOWN
    if abs(value) < mdc - EDGE:
        return Verdict.WITHIN
    return Verdict.GAIN if (value > 0) is (better is Better.HIGHER) else Verdict.LOSS


def change(
    earlier: Reading, later: Reading, measure: Measure, *, span: Span | None = None, own_sem: float | None = None
) -> Change:
    """The change of one side (or of a single measure) between two readings, with its verdict.

    The error is that within a visit when both readings carry the same visit, else between visits, unless `span`
    says which; that of two examiners when two took them. Raises ValueError on readings of two measures or sides.
    """
    compare.same_thing(earlier, later, measure)
    error = error_for(
        measure,
        span or compare.span_of(earlier, later),
        examiners=compare.examiners_of(earlier, later),
        own_sem=own_sem,
    )
    silent = no_figures(earlier, later)
    if silent:
        return Change(None, error.mdc if error else None, None, (silent,), error=error)
    if earlier.value is None or later.value is None:
        raise ValueError("a reading that was measured has a value")
    said = warned(compare.warnings(earlier, later, measure), error)
    value = difference(later.value, earlier.value)
    if Status.CAP in (earlier.status, later.status):
        return _bounded(value, later.status is Status.CAP, measure, error, said)
    mdc = error.mdc if error else None
    return Change(value, mdc, verdict_of(value, mdc, measure.better), said, important(value, measure), error)


def important(value: float, measure: Measure) -> bool | None:
    """Whether a change is as large as what matters to people (MCID). None when no figure is known."""
    return None if measure.importance is None else abs(value) >= measure.importance.value - EDGE


def warned(sentences: tuple[str, ...], error: Error | None) -> tuple[str, ...]:
    """The sentences, with the error's own behind them."""
    return (*sentences, error.warning) if error and error.warning else sentences


def no_figures(earlier: Reading, later: Reading) -> str:
    """Why no change in figures can be given, in a sentence; empty when it can."""
    if Status.UNABLE in (earlier.status, later.status):
        if earlier.status is later.status:
            return "unable both times: no change in figures"
        was, now = earlier.status.value, later.status.value
        return f"{was}, then {now}: no change in figures"
    if earlier.unit != later.unit:
        return f"not in the same unit: {earlier.unit}, then {later.unit}"
    if later.unit == YES_NO:
        was, now = ("yes" if one.value else "no" for one in (earlier, later))
        return f"{was} both times" if was == now else f"{was}, then {now}"
    if earlier.status is later.status is Status.CAP:
        return "cap reached both times: a change cannot be seen"
    return ""


def _bounded(
    value: float, later_capped: bool, measure: Measure, error: Error | None, said: tuple[str, ...]
) -> Change:
    """A change with the cap at one end. A capped value is a lower bound, so the true change may be larger.

    Where even the bound is clear, so is the change; where it is not, no verdict is honest.
    """
    mdc = error.mdc if error else None
    outward = value > 0 if later_capped else value < 0
    verdict = verdict_of(value, mdc, measure.better) if outward or mdc is None else None
    if verdict is Verdict.WITHIN:
        verdict = None
    if outward:
        which = "later" if later_capped else "earlier"
        sentence = f"the {which} reading reached the cap: the true change is this or more"
    else:
        sentence = "one reading reached its cap below the other: the true change is not known"
    matters = important(value, measure) or None if outward else None
    return Change(value, mdc, verdict, (*said, sentence), matters, error, at_least=outward)
