"""Whether two readings may be held against each other, and what must be said beside it when they are."""

from __future__ import annotations

from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Reading
from store.reckon.error import Span


def same_thing(earlier: Reading, later: Reading, measure: Measure) -> None:
    """Raise ValueError unless both are readings of this measure, on the same side of the same person."""
    if not earlier.measure == later.measure == measure.id:
        raise ValueError(f"{earlier.measure} and {later.measure} are not both {measure.id}")
    if earlier.side is not later.side or earlier.person != later.person:
        raise ValueError("a change is of one side of one person")


def span_of(earlier: Reading, later: Reading) -> Span:
    """Within a visit when both carry the same visit, else between visits."""
    return "within" if earlier.visit is not None and earlier.visit == later.visit else "between"


def examiners_of(*readings: Reading) -> int:
    """How many examiners took them. One who is not named is taken for the same."""
    return max(1, len({reading.examiner for reading in readings if reading.examiner}))


def warnings(earlier: Reading, later: Reading, measure: Measure) -> tuple[str, ...]:
    """Sentences on what was not alike: protocol, conditions, moment, order, number of trials."""
    found: list[str] = []
    if earlier.protocol != later.protocol:
        was, now = earlier.protocol or "not recorded", later.protocol or "not recorded"
        found.append(f"not by the same protocol: {was}, then {now}")
    if set(earlier.conditions) != set(later.conditions):
        found.append(f"not under the same conditions: {_listed(earlier)}, then {_listed(later)}")
    if span_of(earlier, later) == "between" and (earlier.moment is Moment.AFTER) != (later.moment is Moment.AFTER):
        found.append(f"not at the same moment of a visit: {_moment(earlier)}, then {_moment(later)} treatment")
    if earlier.taken > later.taken:
        found.append("the value before was entered after the one it is held against")
    fewest = min((len(reading.trials) for reading in (earlier, later) if reading.trials), default=measure.counted)
    if fewest < measure.counted:
        trials = "trial" if fewest == 1 else "trials"
        found.append(f"only {fewest} {trials} of {measure.counted}: the error is larger than the one used")
    return tuple(found)


def unlike(one: Reading, other: Reading, *, same_day: bool) -> tuple[str, ...]:
    """Sentences on what was not alike of two sides that make a gap; `same_day`: that they are of two days, too."""
    found: list[str] = []
    if same_day and one.taken.on != other.taken.on and (one.visit is None or one.visit != other.visit):
        found.append("not measured on the same day")
    if one.protocol != other.protocol:
        found.append("not measured by the same protocol")
    if set(one.conditions) != set(other.conditions):
        found.append("not measured under the same conditions")
    return tuple(found)


def _listed(reading: Reading) -> str:
    return " and ".join(sorted(reading.conditions)) or "none noted"


def _moment(reading: Reading) -> str:
    """An unmarked reading was not taken after treatment, so it counts as before."""
    return (reading.moment or Moment.BEFORE).value
