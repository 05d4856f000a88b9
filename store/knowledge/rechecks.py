"""A look at a player at the sideline: a row of its own, with when they are looked at again."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from store.knowledge.sideline import BenchOutcome
from store.knowledge.time import Stamp
from store.knowledge.words import Side


class Recheck(NamedTuple):
    """What was looked at on one side, by the ids of the signs (True is yes), and what it came to.

    `due` is when they are looked at again; None where somebody else does.
    """

    id: str
    person: str
    side: Side
    looked: Stamp
    outcome: BenchOutcome
    answers: Mapping[str, bool] = MappingProxyType({})
    due: Stamp | None = None
    examiner: str = ""
    retracted: Stamp | None = None
    revision: str = ""
