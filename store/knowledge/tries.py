"""A try at what is practised: a row of its own, about nobody who is cared for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from store.knowledge.time import Stamp


class TryKind(StrEnum):
    """What was practised: an assessment in order and time, a paper case, or one's own error."""

    SEQUENCE = "sequence"
    CASE = "case"
    DRILL = "drill"


@dataclass(frozen=True, slots=True)
class PracticeTry:
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
    data: Mapping[str, Any] = field(default_factory=dict)
    retracted: Stamp | None = None
    revision: str = ""
