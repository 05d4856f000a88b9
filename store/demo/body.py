"""An invented body: what each side would truly measure on a day, and what a measurement makes of it."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from store.knowledge.kinds import Measure
from store.knowledge.words import Side
from store.reckon.error import Span, error_for

STEADY = 0.7
"""The invented examiner's error against the published SEM: a careful one."""

OF_ONE_TRIAL = 0.6
"""How far trials of one side lie apart, in SEM within a visit."""

OF_A_HOLD = 0.1
"""How far the best hold of a day lies from the true one, as a share of it: no SEM is known."""


class Course(NamedTuple):
    """How one side goes: (day since injury, value), straight between the days given; unable before `able`."""

    points: tuple[tuple[float, float], ...]
    able: float = -math.inf

    def at(self, day: float) -> float | None:
        """The true value on a day; None while the person is unable."""
        if day < self.able:
            return None
        earlier = [point for point in self.points if point[0] <= day] or [self.points[0]]
        later = [point for point in self.points if point[0] >= day] or [self.points[-1]]
        (day_0, value_0), (day_1, value_1) = earlier[-1], later[0]
        share = (day - day_0) / (day_1 - day_0) if day_1 > day_0 else 0.0
        return value_0 + share * (value_1 - value_0)


def course(*points: tuple[float, float], able: float = -math.inf) -> Course:
    """A course through these days and values."""
    return Course(points, able)


def steady(value: float) -> Course:
    """A side that stays as it is."""
    return Course(((0, value),))


@dataclass(slots=True)
class Body:
    """Both ankles of an invented person: per measure the injured side's course, then the other's.

    `day` is the day since injury. What a day makes of a side holds for the whole visit; a trial adds its own.
    """

    chance: random.Random
    injured: Side
    courses: Mapping[str, tuple[Course, Course]]
    day: float = 0
    _today: dict[tuple[str, Side], float] = field(default_factory=dict)

    def wake(self, day: float) -> None:
        """A new day."""
        self.day = day
        self._today.clear()

    def trials(self, measure: Measure, side: Side, lift: float = 0.0) -> tuple[float, ...]:
        """The trials of one side as they would be read off; none when unable. `lift` is what treatment adds."""
        own, other = self.courses[measure.id]
        true = (own if side is self.injured else other).at(self.day)
        if true is None:
            return ()
        true += lift
        if measure.aggregate == "best":
            best = true * (1 + OF_A_HOLD * self._of_today(measure.id, side))
            return tuple(self._held(best, n, measure) for n in range(measure.counted))
        within, between = _sem(measure, "within"), _sem(measure, "between")
        of_day = math.sqrt(max(between**2 - within**2, 0.0))
        level = true + self._of_today(measure.id, side) * of_day + self._noise() * within
        return tuple(
            stepped(level + self._noise() * within * OF_ONE_TRIAL, measure) for _ in range(measure.counted)
        )

    def _held(self, best: float, n: int, measure: Measure) -> float:
        """A hold: one trial of a side is its best, the others end earlier."""
        share = 1.0 if n == 1 else 0.6 + 0.35 * self.chance.random()
        return stepped(best * share, measure)

    def _of_today(self, measure: str, side: Side) -> float:
        key = (measure, side)
        if key not in self._today:
            self._today[key] = self._noise()
        return self._today[key]

    def _noise(self) -> float:
        """Near normal, mean 0 and SD 1, never past 3: of uniform numbers, which every machine draws alike."""
        return 2 * (self.chance.random() + self.chance.random() + self.chance.random() - 1.5)


def _sem(measure: Measure, span: Span) -> float:
    """The invented examiner's SEM; where none is known within a visit, half of that between visits."""
    error = error_for(measure, span)
    if error is None:
        return _sem(measure, "between") / 2 if span == "within" else measure.step
    return error.sem * STEADY


def stepped(value: float, measure: Measure) -> float:
    """A value as it can be read off: on the measure's step, within its limits."""
    on_step = round(value / measure.step) * measure.step
    return round(min(max(on_step, measure.low), measure.high), 6)
