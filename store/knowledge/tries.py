"""A try at what is practised: a row of its own, about nobody who is cared for."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Any, NamedTuple

from store.knowledge.time import Stamp


class TryKind(StrEnum):
    """What was practised: an assessment in order and time, a paper case, or one's own error."""

    SEQUENCE = "sequence"
    CASE = "case"
    DRILL = "drill"


class PracticeTry(NamedTuple):
    """One try. `ref` is the id of the sequence, of the case, or of the measure; `data` is what came of it so far:

    - sequence: `block_s` seconds by block so far, `done` and `left_out` ids of steps once they are told;
    - case: `asked` ids of steps in order, `outcome` the one decided on;
    - drill: `ankles`, `repeats`, and `values` round by round, in the measure's unit.
    """

    id: str
    kind: TryKind
    ref: str
    began: Stamp
    examiner: str = ""
    ended: Stamp | None = None
    data: Mapping[str, Any] = MappingProxyType({})
    retracted: Stamp | None = None
    revision: str = ""
