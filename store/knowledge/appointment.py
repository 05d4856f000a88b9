"""A planned contact, as a type. By itself: a list of people shows the next one of each, and waits for no other."""

from __future__ import annotations

from typing import NamedTuple

from store.knowledge.time import Stamp


class Appointment(NamedTuple):
    """A contact that is planned. `retracted` when it was called off."""

    id: str
    person: str
    due: Stamp
    episode: str | None = None
    minutes: int = 30
    note: str = ""
    retracted: Stamp | None = None
    revision: str = ""
