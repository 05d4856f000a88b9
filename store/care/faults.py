"""What care says when it cannot do as asked: a sentence for the person at the keyboard."""

from __future__ import annotations

from store.entry.errors import EntryError
from store.record.faults import RecordFault


class CareFault(Exception):
    """Something that cannot be done, said in one clear sentence that also says what to do."""


FAULTS = (CareFault, RecordFault, EntryError)
"""All that an act may raise with a sentence fit to be shown as it is."""
