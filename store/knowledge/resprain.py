"""A new sprain, told of after the one that is cared for: a row of the re-sprain log."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from store.knowledge.time import Stamp
from store.knowledge.words import Side


class Resprain(NamedTuple):
    """That an ankle was sprained again: which, on which day, how it came about in the teller's words.

    `episode` is the one in whose care or follow-up it was told; `visit` the visit in hand then, if there was one.
    """

    id: str
    person: str
    episode: str
    side: Side
    day: date
    told: Stamp
    visit: str | None = None
    note: str = ""
    examiner: str = ""
    retracted: Stamp | None = None
    revision: str = ""
