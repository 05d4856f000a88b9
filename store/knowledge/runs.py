"""A plan of running and its sessions, as the record keeps them."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from store.knowledge.time import Stamp


class RunPlan(NamedTuple):
    """That an ankle runs again by a ladder: from which rung and day, on which days of the week (`mon`, `tue` ...;
    none: alternate days). `reason` is what was said where it was planned against advice.
    """

    id: str
    person: str
    episode: str
    ladder: str
    rung: int
    weekdays: tuple[str, ...]
    begins_on: date
    made: Stamp
    examiner: str = ""
    reason: str = ""
    retracted: Stamp | None = None
    revision: str = ""


class RunSession(NamedTuple):
    """One walk-run or run, planned or done or both. Pains 0 to 10: during it, next morning, and in the mornings
    before it (`pain_usual`); minutes run; None is not told.
    """

    id: str
    person: str
    episode: str
    plan: str | None
    rung: int
    planned_on: date | None = None
    done_on: date | None = None
    minutes: float | None = None
    distance_km: float | None = None
    pain_during: int | None = None
    pain_morning: int | None = None
    pain_usual: int | None = None
    swelling: bool | None = None
    note: str = ""
    examiner: str = ""
    retracted: Stamp | None = None
    revision: str = ""
