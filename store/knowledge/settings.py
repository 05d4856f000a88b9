"""A clinic's own settings as plain values: what is not set is as the program ships it.

They are tuples with names: every start makes these classes.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from store.knowledge.criteria import Stage, StageCriteria
    from store.knowledge.kinds import Activity, Figure, Measure, Source
    from store.knowledge.words import Step

THEMES = ("auto", "dark", "light")
PEDAL = "space"
CLOT_FORMS = ("two_level", "three_level")
"""The forms of the clot score, by their ids in the table of the safety screen; the first is the default."""


class Sound(NamedTuple):
    """What may be heard in a bout."""

    tones: bool = True
    speech: bool = True
    bell: bool = True


class SettingFault(NamedTuple):
    """An entry that cannot be used. `line` counts from 1; None where no line is to blame. `then` is what holds."""

    entry: str
    says: str
    line: int | None = None
    then: str = "the default holds"

    @property
    def text(self) -> str:
        """The fault in a sentence that says what holds now."""
        where = f"line {self.line}: " if self.line else ""
        return f"{where}{self.entry}{': ' if self.entry else ''}{self.says}; {self.then}"


class Change(NamedTuple):
    """An entry that differs from the default, both in words."""

    entry: str
    default: str
    now: str
    line: int | None = None


class Settings(NamedTuple):
    """All that a settings file can change. `plan` is empty where the standard one holds, and `first_plan` too.

    `measures` and `activities` hold those that are changed and those that are added, by id; `criteria` the stages
    of which a line was changed; `sources` those that are added. `ladder` is empty where the standard one holds;
    `run_rule` are the figures of the rule of running that are their own.
    """

    examiner: str = ""
    clinic: str = ""
    slot_min: int = 30
    pedal_key: str = PEDAL
    theme: str = "auto"
    blind_retest: bool = True
    next_set_by_itself: bool = False
    clot_form: str = CLOT_FORMS[0]
    letter_to: str = ""
    sound: Sound = Sound()
    plan: tuple[Step, ...] = ()
    first_plan: tuple[Step, ...] = ()
    measures: Mapping[str, Measure] = MappingProxyType({})
    activities: Mapping[str, Activity] = MappingProxyType({})
    criteria: Mapping[Stage, StageCriteria] = MappingProxyType({})
    sources: Mapping[str, Source] = MappingProxyType({})
    ladder: str = ""
    run_rule: Mapping[str, Figure] = MappingProxyType({})
    changes: tuple[Change, ...] = ()
    faults: tuple[SettingFault, ...] = ()


NOTHING_SET = Settings()
"""The defaults."""
