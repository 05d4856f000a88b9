"""One measure of one person as it stands: both sides, the gap, the change, the re-test. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import NamedTuple

from store.knowledge.kinds import Measure
from store.knowledge.units import YES_NO
from store.knowledge.words import Better, Moment, Reading, Side, Status
from store.reckon import compare
from store.reckon.change import Change, change
from store.reckon.error import Error, error_for
from store.reckon.sides import deficit, gap, in_words, lsi

BASELINE, UNINJURED = "own baseline", "uninjured side"
"""The kinds of a reference, in the words of screen and file."""


class Reference(NamedTuple):
    """What the injured side is held against: one of the two kinds, with its value."""

    kind: str
    value: float
    reading: Reading


class Retest(NamedTuple):
    """What one visit's hands-on part did to the injured side, or to a single measure."""

    before: Reading
    after: Reading
    change: Change

    @property
    def blind(self) -> bool:
        """Whether the value before was hidden until the one after it was in."""
        return self.after.blind and self.before.taken <= self.after.taken


class Course(NamedTuple):
    """The readings that count of one side: the newest, the one of the visit before, and the first.

    They are untreated: before the hands-on part, or unmarked. Where a side has nothing else, readings taken after
    it are shown, and no verdict, gap or index rests on them. `after` is the newest of those and `before` its own
    visit's untreated one, where that is the latest or the previous.
    """

    latest: Reading | None = None
    previous: Reading | None = None
    first: Reading | None = None
    before: Reading | None = None
    after: Reading | None = None


_NOTHING = Course()


class MeasureStanding(NamedTuple):
    """All that a screen or paper shows of one measure, each figure worked out when it is asked for.

    Figures are None where they cannot honestly be given. `baseline` is the injured side's own reading from before
    the injury. `hidden` says that this visit's values are held back until the re-test is in.
    """

    measure: Measure
    injured: Side
    courses: Mapping[Side | None, Course]
    baseline: Reading | None = None
    both_injured: bool = False
    hidden: bool = False

    def of(self, side: Side | None) -> Reading | None:
        """The newest reading of a side that counts; of None, on a single measure."""
        return self.courses.get(side, _NOTHING).latest

    def days_stale(self, on: date) -> int:
        """The days since the newest reading on show, where it is no longer fresh by its measure; else 0."""
        shown = [course.latest.taken.on for course in self.courses.values() if course.latest is not None]
        fresh = self.measure.fresh_days
        old = (on - max(shown)).days if shown else 0
        return old if fresh is not None and old > fresh.value else 0

    @property
    def subject(self) -> Course:
        """The course the verdicts are about: the injured side's, or a single measure's own."""
        return self.courses.get(self.injured if self.measure.paired else None, _NOTHING)

    @property
    def untreated(self) -> Reading | None:
        """The newest reading that a verdict may rest on; None where there are only readings after treatment."""
        latest = self.subject.latest
        return None if latest is None or after_treatment(latest) else latest

    @property
    def only_after(self) -> bool:
        """Whether a side, or a single measure, has nothing but readings taken after treatment."""
        return any(
            course.latest is not None and after_treatment(course.latest) for course in self.courses.values()
        )

    @property
    def reference(self) -> Reference | None:
        """What the injured side is held against: its own baseline, else the uninjured side.

        With both ankles injured there is no uninjured side.
        """
        if not self.measure.paired:
            return None
        if self.baseline is not None and self.baseline.value is not None:
            return Reference(BASELINE, self.baseline.value, self.baseline)
        other = self.of(self.injured.other)
        if self.both_injured or other is None or other.value is None or after_treatment(other):
            return None
        return Reference(UNINJURED, other.value, other)

    @property
    def gap(self) -> float | None:
        """Injured minus reference, raw, in the unit."""
        pair = self._pair()
        return gap(_value(pair[0]), _value(pair[1])) if pair else None

    @property
    def deficit(self) -> float | None:
        """The gap turned so that positive is worse; None where neither way is."""
        if self.measure.better is Better.NEITHER:
            return None
        pair = self._pair()
        return deficit(_value(pair[0]), _value(pair[1]), self.measure.better) if pair else None

    def _pair(self) -> tuple[Reading, Reading] | None:
        """The injured side's reading and the reference's, where a gap can be told."""
        latest, reference = self.subject.latest, self.reference
        if self.measure.unit == YES_NO:
            return None  # two answers stand side by side, and no figure lies between them
        if latest is None or reference is None or not _comparable(latest, reference.reading):
            return None
        return latest, reference.reading

    @property
    def gap_error(self) -> Error | None:
        """The error that the gap is held against."""
        pair = self._pair()
        return (
            error_for(self.measure, "between", gap=True, examiners=compare.examiners_of(*pair)) if pair else None
        )

    @property
    def gap_at_least(self) -> bool:
        """Whether one of the two values reached the cap, so that the true gap is this or more."""
        pair = self._pair()
        return pair is not None and Status.CAP in (pair[0].status, pair[1].status)

    @property
    def gap_words(self) -> str:
        """The gap as a number and a word, "at least" before a bound; empty when there is none."""
        raw = self.gap
        if raw is None:
            return ""
        return f"{'at least ' if self.gap_at_least else ''}{in_words(raw, self.measure)}"

    @property
    def gap_warnings(self) -> tuple[str, ...]:
        """Sentences on what was not alike of the two values; that a baseline is of another day needs none."""
        pair, reference = self._pair(), self.reference
        if pair is None or reference is None:
            return ()
        return compare.unlike(*pair, same_day=reference.kind == UNINJURED)

    @property
    def unable(self) -> bool:
        """Whether the injured side was unable while its reference has a value: short by what cannot be told."""
        latest = self.subject.latest
        return latest is not None and latest.status is Status.UNABLE and self.reference is not None

    @property
    def multiples(self) -> float | None:
        """The deficit in multiples of the gap's own MDC; None when either is unknown."""
        worse, error = self.deficit, self.gap_error
        return None if worse is None or error is None else worse / error.mdc

    @property
    def lsi(self) -> float | None:
        """The limb symmetry index, in percent, where one side is uninjured.

        None of a size such as girth, even as data: a share of the whole foot says nothing about swelling.
        """
        measure = self.measure
        one, other = self.of(self.injured), self.of(self.injured.other)
        if not _has_index(measure) or self.both_injured or one is None or other is None:
            return None
        return lsi(one.value, other.value, measure.better) if _comparable(one, other) else None

    @property
    def lsi_bound(self) -> str:
        """`at most` or `at least`, where one side reached the cap and the index is a bound; else empty."""
        one, other = self.of(self.injured), self.of(self.injured.other)
        if self.lsi is None or one is None or other is None or Status.CAP not in (one.status, other.status):
            return ""
        better = self.measure.better is Better.HIGHER
        return "at most" if (other.status is Status.CAP) is better else "at least"

    @property
    def lsi_words(self) -> str:
        """The index as it is shown: only of a measure whose sides are compared by it, else empty."""
        index = self.lsi if self.measure.symmetry == "lsi" else None
        bound = f"{self.lsi_bound} " if self.lsi_bound else ""
        return f"LSI {bound}{index:.0f} %" if index is not None else ""

    @property
    def change(self) -> Change | None:
        """The injured side's last visit against the one before."""
        return _change(self.measure, self.subject.previous, self.subject.latest)

    @property
    def since_first(self) -> Change | None:
        """The injured side's last visit against the first."""
        return _change(self.measure, self.subject.first, self.subject.latest)

    @property
    def retest(self) -> Retest | None:
        """What the last hands-on part that was re-tested did, if it was in one of the last two visits."""
        before, after = self.subject.before, self.subject.after
        if before is None or after is None:
            return None
        return Retest(before, after, change(before, after, self.measure, span="within"))

    @property
    def measured(self) -> bool:
        """Whether there is any reading that counts."""
        return any(course.latest for course in self.courses.values())


def after_treatment(reading: Reading) -> bool:
    """Whether it was taken after the hands-on part of its visit."""
    return reading.moment is Moment.AFTER


def _comparable(one: Reading, other: Reading) -> bool:
    """Whether two values can be told apart: a lower bound only from a value below it, and `unable` from none.

    What was measured after treatment is no value of the ankle as it stands.
    """
    if one.value is None or other.value is None or after_treatment(one) or after_treatment(other):
        return False
    at_cap = Status.CAP
    return not (
        (one.status is at_cap and one.value <= other.value)
        or (other.status is at_cap and other.value <= one.value)
    )


def _value(reading: Reading) -> float:
    if reading.value is None:
        raise ValueError("a gap is of two values")
    return reading.value


def _has_index(measure: Measure) -> bool:
    """Whether a ratio of the sides means anything: where a difference is the custom, only if more is better."""
    return measure.symmetry == "lsi" or (measure.symmetry == "difference" and measure.better is Better.HIGHER)


def _change(measure: Measure, earlier: Reading | None, later: Reading | None) -> Change | None:
    if earlier is None or later is None or earlier.id == later.id:
        return None
    return change(earlier, later, measure)


def widest(standings: Iterable[MeasureStanding]) -> MeasureStanding | None:
    """The measure whose gap is largest in multiples of its own MDC; None where no gap has a known error."""
    known = [one for one in standings if one.multiples is not None]
    return max(known, key=lambda one: one.multiples or 0.0, default=None)


def course_of(readings: Iterable[Reading]) -> Course:
    """The course of one side from all its standing readings, in any order.

    Several readings on one occasion (a visit, or a day without one) count as their last.
    """
    untreated, treated = _by_occasion(readings)
    counted = list((untreated or treated).values())
    if not counted:
        return _NOTHING
    after = next(reversed(treated.values()), None)
    before = untreated.get(_occasion(after)) if after else None
    retested = before is not None and before in counted[-2:]
    return Course(
        latest=counted[-1],
        previous=counted[-2] if len(counted) > 1 else None,
        first=counted[0],
        before=before if retested else None,
        after=after if retested else None,
    )


def counted_of(readings: Iterable[Reading]) -> tuple[Reading, ...]:
    """The readings of one side that count in its course, one an occasion, oldest first."""
    untreated, treated = _by_occasion(readings)
    return tuple((untreated or treated).values())


def _by_occasion(readings: Iterable[Reading]) -> tuple[dict[str, Reading], dict[str, Reading]]:
    """The last untreated reading of each occasion, and the last one after the hands-on part; each oldest first."""
    untreated: dict[str, Reading] = {}
    treated: dict[str, Reading] = {}
    for reading in sorted(readings, key=_when):
        last = treated if reading.moment is Moment.AFTER else untreated
        occasion = _occasion(reading)
        last.pop(occasion, None)  # its last reading counts, and stands where that was taken
        last[occasion] = reading
    return untreated, treated


def _when(reading: Reading) -> tuple[datetime, str]:
    return reading.taken.at, reading.id


def _occasion(reading: Reading) -> str:
    return reading.visit or reading.taken.on.isoformat()
