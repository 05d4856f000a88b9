"""Units: as they are kept, and the plain words that stand on screen."""

from __future__ import annotations

UNIT_WORDS = {
    "cm": "cm",
    "deg": "degrees",
    "s": "s",
    "reps": "reps",
    "count": "counts",
    "errors": "errors",
    "N": "N",
    "%": "%",
    "points": "points",
    "level": "level",
    "0-10": "of 10",
    "grade": "grade",
    "yes/no": "yes or no",
}
"""Every unit a measure can have, with its words on screen. Yes and no are kept as 1 and 0."""

STEPS = frozenset({"grade", "level"})
"""Units whose values are steps of a scale: its word stands before the figure, "grade 2"."""

YES_NO = "yes/no"
"""The unit of a question that has only these two answers."""


def unit_words(unit: str) -> str:
    """The unit in plain words. A unit that this copy does not know is shown as it was kept."""
    return UNIT_WORDS.get(unit, unit)
