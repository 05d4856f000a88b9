"""Whether a record is of invented people: it says so in its own rows, by the examiner of all that was measured."""

from __future__ import annotations

from store.care.care import Care
from store.record import examiners

INVENTED = "invented"
"""The examiner of invented people. The word goes with each reading, wherever it is copied to."""

NOTE = "These people are invented, and so is all that was measured of them."


def is_invented(care: Care) -> bool:
    """Whether the record holds invented people."""
    return examiners.examiner_named(care.record, INVENTED) is not None
