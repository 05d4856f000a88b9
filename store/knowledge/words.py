"""The words of the trade as types. In code, on screen and in the file they are spelled alike.

The rows are tuples with names: every start makes these classes, and a frozen dataclass takes several times as
long, to make and to fill.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Any, NamedTuple

from store.knowledge.time import Stamp


class Side(StrEnum):
    """A side of the body. Never a bool: left stands on the left."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Side:
        """The opposite side."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


class Moment(StrEnum):
    """When in a visit a reading was taken: before or after the hands-on part."""

    BEFORE = "before"
    AFTER = "after"


class Status(StrEnum):
    """What came of trying to measure."""

    MEASURED = "measured"
    UNABLE = "unable"
    CAP = "cap reached"


class Grade(StrEnum):
    """Grade of a ligament sprain; none while it is not yet graded."""

    I = "I"  # noqa: E741 - the trade's own numeral
    II = "II"
    III = "III"


class VisitKind(StrEnum):
    """Where a contact took place."""

    CLINIC = "clinic"
    SIDELINE = "sideline"
    PRACTICE = "practice"


class Verdict(StrEnum):
    """What a change means against its measurement error."""

    GAIN = "clear gain"
    LOSS = "clear loss"
    WITHIN = "within measurement error"
    UNKNOWN = "error unknown"


class Stage(StrEnum):
    """What an ankle is ready for. Reaching one is the clinician's decision, recorded."""

    WALK = "walk"
    JOG = "jog"
    RUN = "run"
    AGILITY = "agility"
    SPORT = "sport"


class Mark(StrEnum):
    """How a figure is known: read in its source, recalled, common practice without a source, or derived.

    What a clinic's own settings change is none of these, whatever the figure was before.
    """

    READ = "read"
    RECALLED = "recalled"
    COMMON = "common practice"
    DERIVED = "derived"
    CLINIC = "set by this clinic"


class Better(StrEnum):
    """Which way a measure improves."""

    HIGHER = "higher"
    LOWER = "lower"
    NEITHER = "neither"


class BoutKind(StrEnum):
    """The kinds of timed or counted work."""

    PACED = "paced reps"
    COUNTED = "counted reps"
    HOLD_TO_LOSS = "hold to loss"
    HOLD_FIXED = "hold of fixed time"
    SHIFTS = "direction shifts"
    OSCILLATIONS = "oscillations"
    WALK_RUN = "walk-run intervals"
    REACHES = "reaches"
    HOP_HOLD = "hop and hold"
    TIMED = "timed work"


class Person(NamedTuple):
    """Somebody cared for: a short label, which need not be unique, and no more than the job needs.

    `born` is an ISO 8601 date that may stop at the year ("1995" or "1995-04-12"), or None.
    """

    id: str
    label: str
    born: str | None = None
    revision: str = ""


class Examiner(NamedTuple):
    """Somebody who measures, by the name or initials that readings carry."""

    id: str
    name: str
    revision: str = ""


class Episode(NamedTuple):
    """One injury of one ankle, from first contact to discharge. None means: not asked, or not yet known.

    `letter_to` is whom its letter goes to, empty: nobody is named; None: whom the settings name.
    """

    id: str
    person: str
    side: Side
    opened: Stamp
    structure: str = "lateral ligament"
    grade: Grade | None = None
    injured_on: date | None = None
    goal: str | None = None
    goal_on: date | None = None
    sport: str | None = None
    level: str | None = None
    sprains_left: int | None = None
    sprains_right: int | None = None
    anticoagulant: bool | None = None
    loss_of_feeling: bool | None = None
    hypermobility: bool | None = None
    brace: str | None = None
    main_measure: str = "lunge"
    linked_episode: str | None = None
    closed: Stamp | None = None
    letter_to: str | None = None
    revision: str = ""


class Step(NamedTuple):
    """One line of a visit's plan: what to do, and for how long. `ref` names a measure or an activity."""

    id: str
    kind: str  # said | safety | measure | retest | activity | home | note
    ref: str = ""
    minutes: float = 0.0
    dropped: bool = False


class Visit(NamedTuple):
    """One contact. Pains the person reports are readings; the rest of what was said stands here."""

    id: str
    person: str
    started: Stamp
    episode: str | None = None
    kind: VisitKind = VisitKind.CLINIC
    ended: Stamp | None = None
    examiner: str = ""
    gave_way: int | None = None
    home_done: int | None = None
    home_planned: int | None = None
    said: str | None = None
    consent: Stamp | None = None
    slot_min: int = 30
    plan: tuple[Step, ...] = ()
    revision: str = ""


class Reading(NamedTuple):
    """One value of one measure on one side. `value` is None when unable; `trials` holds what it was made of."""

    id: str
    person: str
    measure: str
    unit: str
    taken: Stamp
    side: Side | None = None
    value: float | None = None
    status: Status = Status.MEASURED
    moment: Moment | None = None
    trials: tuple[float, ...] = ()
    conditions: tuple[str, ...] = ()
    episode: str | None = None
    visit: str | None = None
    bout: str | None = None
    examiner: str = ""
    note: str | None = None
    protocol: str = ""
    blind: bool = False
    retracted: Stamp | None = None
    revision: str = ""


class BoutRow(NamedTuple):
    """A bout as kept: what was planned. What happened is in its events. `plan` is plain JSON data."""

    id: str
    person: str
    activity: str
    kind: BoutKind
    started: Stamp
    plan: dict[str, Any]
    episode: str | None = None
    visit: str | None = None
    measure: str | None = None
    moment: Moment | None = None
    ended: Stamp | None = None
    retracted: Stamp | None = None
    examiner: str = ""
    revision: str = ""


class BoutEvent(NamedTuple):
    """Something that happened in a bout: `at_ms` on the bout's own clock, `wall_at` on the wall's."""

    bout: str
    seq: int
    kind: str
    at_ms: int
    wall_at: Stamp
    data: dict[str, Any]


class Amendment(NamedTuple):
    """A row as it stood before a correction. `revision` is the new one, under which `was` is filed."""

    row_table: str
    row_id: str
    revision: str
    by: str
    because: str
    at: Stamp
    was: dict[str, Any]
