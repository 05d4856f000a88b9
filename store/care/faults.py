"""What care says when it cannot do as asked: a sentence for the person at the keyboard."""

from __future__ import annotations

from store.entry.errors import EntryError
from store.record.faults import FaultKind, RecordFault

__all__ = [
    "FAULTS", "CareFault", "EntryError", "FaultKind", "RecordFault", "RunsElsewhere", "wants_passphrase",
]  # fmt: skip


class CareFault(Exception):
    """Something that cannot be done, said in one clear sentence that also says what to do."""


class RunsElsewhere(CareFault):
    """A bout that another window keeps running, or kept until a moment ago; `bout` is its id."""

    def __init__(self, bout: str, says: str) -> None:
        super().__init__(says)
        self.bout = bout


FAULTS = (CareFault, RecordFault, EntryError)
"""All that an act may raise with a sentence fit to be shown as it is."""


def wants_passphrase(found: RecordFault) -> bool:
    """Whether a file could not be opened only because its passphrase was not given."""
    return found.kind is FaultKind.PASSPHRASE_NEEDED
