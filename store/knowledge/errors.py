"""Error families: coherent from the table on. What follows from published figures is worked out where used."""

from __future__ import annotations

import math

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.figures import figure_or_none
from store.knowledge.kinds import ErrorFamily, Figure, Measure
from store.knowledge.words import Mark

MDC_OF_SEM = 2.77
"""MDC at 95 % = 1.96 x root 2 x SEM (Weir 2005, J Strength Cond Res 19:231)."""

ROOT_2 = math.sqrt(2)


def families(row: Row, key: str, paired: bool) -> tuple[ErrorFamily, ...]:
    """The error families of a measure, the first being its default. Raises KnowledgeError on an incoherent one."""
    found: list[ErrorFamily] = []
    for item in row.rows(key):
        family = _family(item, paired)
        if family.id in {other.id for other in found}:
            raise item.fault("id", f"{family.id!r} is used twice")
        if not found and family.examiners != 1:
            raise item.fault("examiners", "the first family is the default, and that is the error of one examiner")
        found.append(family)
    return tuple(found)


def with_error(measure: Measure, family: str) -> Measure:
    """The measure with one of its families put first, so that it is the default.

    A family of two examiners cannot be the default: its published figure may be less than one examiner's, which
    cannot be, and it is only ever used beside that. Raises KnowledgeError on such a one, and on an unknown one.
    """
    ones = [found for found in measure.errors if found.examiners == 1]
    for chosen in ones:
        if chosen.id == family:
            others = tuple(other for other in measure.errors if other is not chosen)
            return measure._replace(errors=(chosen, *others))
    known = ", ".join(found.id for found in ones) or "none"
    raise KnowledgeError(f"{measure.id} has no error of one examiner called {family!r}; it has {known}")


def _family(row: Row, paired: bool) -> ErrorFamily:
    family = ErrorFamily(
        id=row.text("id"),
        name=row.text("name"),
        sem_within=figure_or_none(row, "sem_within"),
        sem_between=figure_or_none(row, "sem_between"),
        mdc_within=figure_or_none(row, "mdc_within"),
        mdc_between=figure_or_none(row, "mdc_between"),
        gap_mdc=figure_or_none(row, "gap_mdc"),
        examiners=row.whole("examiners", 1),
    )
    row.done()
    if family.examiners < 1:
        raise row.fault("examiners", "at least one examiner is wanted")
    _check_pairs(row, family)
    _check_gap(row, family, paired)
    return family


def _check_pairs(row: Row, family: ErrorFamily) -> None:
    """SEM and MDC agree, and a visit adds no error that the same day has not: within is at most between."""
    within = _pair(row, "within", family.sem_within, family.mdc_within)
    between = _pair(row, "between", family.sem_between, family.mdc_between)
    if within is None and between is None:
        raise row.fault("id", "an error family without any figure: leave it out where no error is known")
    if within and between and within.low > between.high:
        what = f"an MDC of {within.value:.3g} within a visit is more than {between.value:.3g} between visits"
        raise row.fault("mdc_within", what)


def _check_gap(row: Row, family: ErrorFamily, paired: bool) -> None:
    """A gap's MDC is root 2 times a side's, unless one study gives both."""
    gap, side = family.gap_mdc, _pair(row, "between", family.sem_between, family.mdc_between)
    if gap is None:
        return
    if not paired:
        raise row.fault("gap_mdc", "a measure that is not paired has no gap between sides")
    if side is None:
        raise row.fault("gap_mdc", "there is no error of one side between visits to hold it against")
    if family.mdc_between and gap.mark is not Mark.DERIVED and gap.source == family.mdc_between.source:
        if gap.value < family.mdc_between.value:
            raise row.fault("gap_mdc", f"{gap.value:g} is less than one side's, {family.mdc_between.value:g}")
        return
    if not _Known(gap).meets(side, ROOT_2):
        raise row.fault("gap_mdc", f"{gap.value:g} is not root 2 x {side.value:g}, and no one study gives both")


def _pair(row: Row, when: str, sem: Figure | None, mdc: Figure | None) -> _Known | None:
    """The MDC within or between visits, printed or from its SEM."""
    for key, found in ((f"sem_{when}", sem), (f"mdc_{when}", mdc)):
        if found and found.value <= 0:
            raise row.fault(key, "an error is more than 0")
    if sem and mdc and not _Known(mdc).meets(_Known(sem), MDC_OF_SEM):
        reached = MDC_OF_SEM * sem.value
        raise row.fault(
            f"mdc_{when}", f"{mdc.value:g} is not {MDC_OF_SEM} x SEM {sem.value:g}, which is {reached:.3g}"
        )
    if mdc:
        return _Known(mdc)
    return _Known(sem, MDC_OF_SEM) if sem else None


class _Known:
    """A printed number, or a multiple of one, with the rounding that printing it left open."""

    __slots__ = ("high", "low", "value")

    def __init__(self, figure: Figure, times: float = 1.0) -> None:
        half_digit = 0.5 * 10.0 ** -len(repr(figure.value).partition(".")[2])
        self.value = times * figure.value
        self.low = times * (figure.value - half_digit)
        self.high = times * (figure.value + half_digit)

    def meets(self, base: _Known, factor: float) -> bool:
        """Whether this is factor x base, within the rounding of both."""
        return factor * base.low <= self.high and self.low <= factor * base.high
