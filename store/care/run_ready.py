"""When an ankle may be ready to jog by its criteria: the days that are foreseen, and what is not foreseen at all.

A day is told as such only where all that is not met has a forecast. Where something has none, what is foreseen
still says before which day it will hardly be.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from store.care.care import Care
from store.care.compared import HIDDEN
from store.care.dates import short_day
from store.care.in_cells import criterion_line
from store.care.stages import CriterionStanding, stage_standing
from store.care.standing import Standing
from store.knowledge.criteria import Stage
from store.reckon.goal import Marginal, all_ready
from store.reckon.threshold import LineVerdict

NAMED_MOST = 2
"""So many of those without a forecast are named."""


class Unforeseen(NamedTuple):
    """A measure of a criterion that is not met and has no forecast, and how it stands: `unable`, `short`,
    `stale`, `not measured`, `hidden`."""

    measure: str
    how: str


class ReadyAhead(NamedTuple):
    """The criteria of jogging that are not met, as of a day.

    `low` and `high` are the first days on which all that has a forecast is met with a chance of 0.1 and of 0.9
    (None: not within a year); `foreseen` names those measures, `needs` says what is wanted of each, `marginals`
    are their chances by day.
    """

    on: date
    low: date | None
    high: date | None
    foreseen: tuple[str, ...] = ()
    unforeseen: tuple[Unforeseen, ...] = ()
    needs: tuple[str, ...] = ()
    marginals: tuple[Marginal, ...] = ()

    @property
    def known(self) -> bool:
        """Whether all that is not met has a forecast, so that a day can be told."""
        return not self.unforeseen

    @property
    def days(self) -> tuple[date | None, date | None]:
        """The early and the late day; none where something has no forecast."""
        return (self.low, self.high) if self.known else (None, None)

    @property
    def not_before(self) -> date | None:
        """The early day of what is foreseen, whatever becomes of the rest; None where that is today, or no day."""
        return self.low if self.foreseen and self.low is not None and self.low > self.on else None

    @property
    def not_within_a_year(self) -> bool:
        """Whether something that is foreseen is not expected within a year."""
        return bool(self.foreseen) and self.low is None

    def is_before(self, day: date) -> bool:
        """Whether a day comes before all that is foreseen may be met."""
        return self.not_within_a_year or (self.not_before is not None and day < self.not_before)


def ready_ahead(care: Care, stands_as: Standing) -> ReadyAhead:
    """When it may be ready, by the criteria of jogging."""
    stood = stage_standing(care, stands_as, Stage.JOG)
    short = [one for one in stood.criteria if not one.answer.verdict.met]
    known = [(one, chance) for one in short if (chance := _marginal(one)) is not None]
    low, high = (
        all_ready([getattr(one.dates, end) if one.dates else None for one, _ in known], stands_as.on)
        for end in ("low", "high")
    )
    rest = {one.measure: Unforeseen(one.measure, _how(one)) for one in short if _marginal(one) is None}
    return ReadyAhead(
        on=stands_as.on,
        low=low,
        high=high,
        foreseen=tuple(dict.fromkeys(one.measure for one, _ in known)),
        unforeseen=tuple(sorted(rest.values(), key=lambda one: _ORDER.index(one.how))),
        needs=tuple(_need(stands_as, one) for one, _ in known),
        marginals=tuple(chance for _, chance in known),
    )


_UNABLE, _SHORT, _STALE, _NOT_MEASURED, _HIDDEN = "unable", "short", "stale", "not measured", "hidden"
_ORDER = (_UNABLE, _SHORT, _STALE, _NOT_MEASURED, _HIDDEN)


def _how(one: CriterionStanding) -> str:
    answer = one.answer
    if answer.why == HIDDEN:
        return _HIDDEN
    if answer.verdict is LineVerdict.STALE:
        return _STALE
    if answer.verdict is LineVerdict.NOT_MEASURED:
        return _NOT_MEASURED
    return _UNABLE if answer.value is None else _SHORT


def _marginal(one: CriterionStanding) -> Marginal | None:
    """How likely a criterion is met by day, from the forecast of its measure; None where there is none."""
    line, told = one.answer.line, one.forecast
    if line is None or told is None:
        return None
    return lambda day: told.chance_past(line, day)


def _need(stands_as: Standing, one: CriterionStanding) -> str:
    """What a criterion wants, as a value: "lunge 8.2 cm"."""
    measure = stands_as.of(one.criterion.measure).measure
    return f"{measure.name} {criterion_line(one.answer.line, measure)}"


# in words


def ready_words(ahead: ReadyAhead) -> str:
    """When it may be ready to jog, in a sentence; no day is told as such where something has no forecast."""
    if not ahead.known:
        bound = bound_words(ahead)
        said = f"when it is ready to jog cannot be foreseen: {named(ahead.unforeseen)}"
        return f"{said}; {bound}" if bound else said
    if not ahead.foreseen:
        return "ready to jog by its criteria: decide it (c)"
    low, high = ahead.days
    span = f"{short_day(low)} to {short_day(high) if high else 'over a year'}" if low else "not within a year"
    return f"ready to jog {span} by {', '.join(ahead.foreseen)}"


def bound_words(ahead: ReadyAhead) -> str:
    """Before which day it will hardly be ready, whatever else: "not before 9 Dec by girth"; empty where there is
    no such day."""
    by = ", ".join(ahead.foreseen)
    if ahead.not_within_a_year:
        return f"not within a year by {by}"
    return f"not before {short_day(ahead.not_before)} by {by}" if ahead.not_before is not None else ""


def named(found: Sequence[Unforeseen]) -> str:
    """How many have no forecast, with a few of them and how each stands: "8 have no forecast, such as lunge
    (short) and limp (stale)"."""
    told = " and ".join(f"{one.measure} ({one.how})" for one in found[:NAMED_MOST])
    if len(found) > NAMED_MOST:
        return f"{len(found)} have no forecast, such as {told}"
    return f"{told} {'has' if len(found) == 1 else 'have'} no forecast"
