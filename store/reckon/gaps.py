"""The left-right gap from visit to visit: it may close by the injured side's gain, or by the other side's fall."""

from __future__ import annotations

from dataclasses import dataclass

from store.knowledge.kinds import Measure
from store.knowledge.words import Reading, Status, Verdict
from store.reckon import compare
from store.reckon.change import Change, change, important, no_figures, verdict_of, warned
from store.reckon.error import error_for
from store.reckon.sides import deficit, difference, gap


@dataclass(frozen=True, slots=True)
class Pair:
    """The two sides on one occasion. Raises ValueError unless one is left and the other right."""

    injured: Reading
    uninjured: Reading

    def __post_init__(self) -> None:
        """Refuse two readings of one side."""
        if self.injured.side is None or self.injured.side is self.uninjured.side:
            raise ValueError("a pair has a left and a right")


def gap_change(earlier: Pair, later: Pair, measure: Measure, *, own_sem: float | None = None) -> Change:
    """The change of the gap (injured minus uninjured, raw), held against the error of a gap.

    A gap that closes because the uninjured side fell is no gain, and one that opens because that side rose is no
    loss: then the injured side's own verdict stands, with a sentence. Raises ValueError as `change` does.
    """
    injured = change(earlier.injured, later.injured, measure, own_sem=own_sem)
    uninjured = change(earlier.uninjured, later.uninjured, measure, own_sem=own_sem)
    error = error_for(
        measure,
        compare.span_of(earlier.injured, later.injured),
        gap=True,
        examiners=compare.examiners_of(earlier.injured, later.injured, earlier.uninjured, later.uninjured),
        own_sem=own_sem,
    )
    mdc = error.mdc if error else None
    silent = _no_figures(earlier, later)
    if silent:
        return Change(None, mdc, None, (silent,), error=error)
    value = difference(_gap(later), _gap(earlier))
    said = tuple(dict.fromkeys(_both_sides(earlier, later, measure)))
    verdict = verdict_of(value, mdc, measure.better)
    whole = Change(value, mdc, verdict, warned(said, error), important(value, measure), error)
    return _honest(whole, injured, uninjured, measure)


def _honest(whole: Change, injured: Change, uninjured: Change, measure: Measure) -> Change:
    """The injured side's own verdict, where the gap moved with the other side's help."""
    fell = deficit(uninjured.value or 0.0, 0.0, measure.better)
    if whole.verdict is injured.verdict:
        return whole
    if whole.verdict is Verdict.GAIN and fell > 0:
        sentence = "the gap closed because the uninjured side got worse: no clear gain of the injured side"
    elif whole.verdict is Verdict.LOSS and fell < 0:
        sentence = "the gap opened because the uninjured side got better: no clear loss of the injured side"
    else:
        return whole
    return whole._replace(verdict=injured.verdict, warnings=(*whole.warnings, sentence), important=None)


def _gap(pair: Pair) -> float:
    if pair.injured.value is None or pair.uninjured.value is None:
        raise ValueError("a reading that was measured has a value")
    return gap(pair.injured.value, pair.uninjured.value)


def _no_figures(earlier: Pair, later: Pair) -> str:
    for was, now in ((earlier.injured, later.injured), (earlier.uninjured, later.uninjured)):
        if Status.CAP in (was.status, now.status):
            return f"cap reached on the {now.side}: the gap cannot be followed"
        silent = no_figures(was, now)
        if silent:
            return silent
    return ""


def _both_sides(earlier: Pair, later: Pair, measure: Measure) -> tuple[str, ...]:
    return (
        *compare.warnings(earlier.injured, later.injured, measure),
        *compare.warnings(earlier.uninjured, later.uninjured, measure),
    )
