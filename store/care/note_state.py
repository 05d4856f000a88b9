"""How far the note of a visit is: drafted, edited or signed."""

from __future__ import annotations

from store.care.care import Care
from store.record import notes

ADDITION = "addition"
"""The kind of a note that adds to another one."""


def is_signed(care: Care, visit_id: str) -> bool:
    """Whether the note of a visit is signed, and so locked."""
    return state_words(care, visit_id)[0]


def state_words(care: Care, visit_id: str) -> tuple[bool, str]:
    """Whether a visit's note is signed, and how far it is in a few words for the plan."""
    kept = [one for one in notes.notes_of_visit(care.record, visit_id) if one.kind != ADDITION]
    own = kept[-1] if kept else None
    if own is None or own.signed is None:
        return False, "draft ready" if own is None else "draft edited"
    waits = ", countersign wanted" if own.student and own.countersigned is None else ""
    return True, f"signed{waits}"
