"""What is planned and decided about a person, as types: squads, stages, forecasts as shown."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from store.knowledge.time import Stamp
from store.knowledge.words import Side, Stage


class Squad(NamedTuple):
    """A named group of people, for a trainer."""

    id: str
    name: str
    retracted: Stamp | None = None
    revision: str = ""


class Member(NamedTuple):
    """That a person belongs to a squad; `retracted` once they left it."""

    id: str
    squad: str
    person: str
    retracted: Stamp | None = None
    revision: str = ""


class StageDecision(NamedTuple):
    """That a clinician decided what an ankle is ready for, when, and why. `answers` are the criteria as they
    stood, plain data."""

    id: str
    person: str
    episode: str
    stage: Stage
    decided: Stamp
    examiner: str
    reason: str
    answers: tuple[dict[str, object], ...] = ()
    retracted: Stamp | None = None
    revision: str = ""


class ForecastMade(NamedTuple):
    """A forecast as it was shown: of one side's value on a day, with the 80 % band of the true value and of a
    reading."""

    id: str
    person: str
    episode: str
    visit: str
    measure: str
    side: Side | None
    made: Stamp
    for_on: date
    value: float
    low80: float
    high80: float
    reading_low80: float
    reading_high80: float
    flat: bool = False
    rate_a_week: float | None = None
    over_days: int = 0
    retracted: Stamp | None = None
    revision: str = ""
