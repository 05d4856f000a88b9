"""One measure of one person as it stands: both sides, the gap, the change, the re-test. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Reading, Side, Status
from store.reckon.change import Change, change
from store.reckon.compare import examiners_of
from store.reckon.error import Error, error_for
from store.reckon.sides import deficit, gap, in_words, lsi


@dataclass(frozen=True, slots=True)
class Reference:
    """What the injured side is held against, by its kind's own words, with its value."""

    kind: str  # own baseline | uninjured side
    value: float
    reading: Reading


@dataclass(frozen=True, slots=True)
class Retest:
    """What one visit's hands-on part did to the injured side (or to a single measure), and to the other side."""

    before: Reading
    after: Reading
    change: Change


@dataclass(frozen=True, slots=True)
class Course:
    """The readings that count of one side: the newest, the one of the visit before, and the first.

    They are untreated: before the hands-on part, or unmarked. Only where a side has nothing else do readings taken
    after it stand in. `after` is the newest of those, `before` its own visit's untreated one.
    """

    latest: Reading | None = None
    previous: Reading | None = None
    first: Reading | None = None
    before: Reading | None = None
    after: Reading | None = None


@dataclass(frozen=True, slots=True)
class MeasureStanding:
    """All that a screen or paper shows of one measure. Figures are None where they cannot honestly be given.

    `gap` is injured minus reference, raw; `deficit` is positive when worse; `change` is the last visit against
    the one before. `multiples` is the deficit in multiples of the gap's own MDC. `hidden` says that this visit's
    values are held back until the re-test is in.
    """

    measure: Measure
    injured: Side
    courses: dict[Side | None, Course]
    reference: Reference | None = None
    gap: float | None = None
    deficit: float | None = None
    lsi: float | None = None
    gap_error: Error | None = None
    change: Change | None = None
    since_first: Change | None = None
    retest: Retest | None = None
    hidden: bool = False

    def of(self, side: Side | None) -> Reading | None:
        """The newest reading of a side that counts; of None, on a single measure."""
        return self.courses.get(side, Course()).latest

    @property
    def subject(self) -> Course:
        """The course the verdicts are about: the injured side's, or a single measure's own."""
        return self.courses.get(self.injured if self.measure.paired else None, Course())

    @property
    def gap_words(self) -> str:
        """The gap as a number and a word; empty when there is none."""
        return in_words(self.gap, self.measure) if self.gap is not None else ""

    @property
    def multiples(self) -> float | None:
        """The deficit in multiples of the gap's MDC; None when either is unknown."""
        if self.deficit is None or self.gap_error is None:
            return None
        return self.deficit / self.gap_error.mdc

    @property
    def measured(self) -> bool:
        """Whether there is any reading that counts."""
        return any(course.latest for course in self.courses.values())


def stand(
    measure: Measure,
    injured: Side,
    courses: dict[Side | None, Course],
    *,
    baseline: Reading | None = None,
    both_injured: bool = False,
    hidden: bool = False,
) -> MeasureStanding:
    """Work out how a measure stands from its courses.

    `baseline` is the injured side's own reading from before the injury, and comes first as the reference. With
    both ankles injured there is no uninjured side to hold against.
    """
    subject = courses.get(injured if measure.paired else None, Course())
    reference = _reference(measure, injured, courses, baseline, both_injured)
    latest = subject.latest
    raw_gap = worse = error = None
    if reference and latest and latest.value is not None and not _both_capped(latest, reference.reading):
        raw_gap = gap(latest.value, reference.value)
        worse = deficit(latest.value, reference.value, measure.better)
        error = error_for(measure, "between", gap=True, examiners=examiners_of(latest, reference.reading))
    return MeasureStanding(
        measure=measure,
        injured=injured,
        courses=courses,
        reference=reference,
        gap=raw_gap,
        deficit=worse,
        lsi=_lsi(measure, injured, courses, both_injured),
        gap_error=error,
        change=_change(measure, subject.previous, subject.latest),
        since_first=_change(measure, subject.first, subject.latest),
        retest=_retest(measure, subject),
        hidden=hidden,
    )


def _reference(
    measure: Measure,
    injured: Side,
    courses: dict[Side | None, Course],
    baseline: Reading | None,
    both_injured: bool,
) -> Reference | None:
    if not measure.paired:
        return None
    if baseline is not None and baseline.value is not None:
        return Reference("own baseline", baseline.value, baseline)
    other = courses.get(injured.other, Course()).latest
    if both_injured or other is None or other.value is None:
        return None
    return Reference("uninjured side", other.value, other)


def _both_capped(one: Reading, other: Reading) -> bool:
    """Two lower bounds have no difference that could be told."""
    return one.status is Status.CAP and other.status is Status.CAP


def _lsi(measure: Measure, injured: Side, courses: dict[Side | None, Course], both_injured: bool) -> float | None:
    """The limb symmetry index, only where the measure is one of ratio and one side is uninjured."""
    if measure.symmetry == "none" or not measure.paired or both_injured:
        return None
    one, other = courses.get(injured, Course()).latest, courses.get(injured.other, Course()).latest
    if one is None or other is None or _both_capped(one, other):
        return None
    return lsi(one.value, other.value, measure.better)


def _change(measure: Measure, earlier: Reading | None, later: Reading | None) -> Change | None:
    if earlier is None or later is None or earlier.id == later.id:
        return None
    return change(earlier, later, measure)


def _retest(measure: Measure, course: Course) -> Retest | None:
    if course.before is None or course.after is None:
        return None
    return Retest(course.before, course.after, change(course.before, course.after, measure, span="within"))


def widest(standings: Iterable[MeasureStanding]) -> MeasureStanding | None:
    """The measure whose gap is largest in multiples of its own MDC; None where no gap has a known error."""
    known = [one for one in standings if one.multiples is not None]
    return max(known, key=lambda one: one.multiples or 0.0, default=None)


def course_of(readings: Iterable[Reading]) -> Course:
    """The course of one side from all its standing readings, in any order.

    Several readings on one occasion (a visit, or a day without one) count as their last.
    """
    untreated: dict[str, Reading] = {}
    treated: dict[str, Reading] = {}
    for reading in sorted(readings, key=lambda one: (one.taken, one.id)):
        occasion = reading.visit or reading.taken.on.isoformat()
        (treated if reading.moment is Moment.AFTER else untreated)[occasion] = reading
    counted = sorted((untreated or treated).values(), key=lambda one: (one.taken, one.id))
    retested = [occasion for occasion in treated if occasion in untreated]
    last = max(retested, key=lambda occasion: treated[occasion].taken, default=None)
    return Course(
        latest=counted[-1] if counted else None,
        previous=counted[-2] if len(counted) > 1 else None,
        first=counted[0] if counted else None,
        before=untreated[last] if last else None,
        after=treated[last] if last else None,
    )
