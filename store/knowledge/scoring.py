"""The total of a questionnaire from the sum of its answers. No item's text stands anywhere in this program."""

from __future__ import annotations

from store.knowledge.fields import Row
from store.knowledge.figures import provenance
from store.knowledge.kinds import Scoring


def scoring(row: Row) -> Scoring | None:
    """The scoring of a measure that is a questionnaire, else None. Raises KnowledgeError."""
    if not row.has("scoring"):
        return None
    part = row.row("scoring")
    mark, source = provenance(part)
    items = part.whole("items")
    found = Scoring(
        items=items,
        lowest=part.whole("lowest", 0),
        highest=part.whole("highest"),
        wanted=part.whole("wanted", items),
        percent=part.flag("percent"),
        mark=mark,
        source=source,
        says=part.text("says", ""),
    )
    part.done()
    if found.lowest >= found.highest:
        raise part.fault("lowest", f"{found.lowest} is not below highest, {found.highest}")
    if not 0 < found.wanted <= items:
        raise part.fault("wanted", f"{found.wanted} answers of {items} items cannot be wanted")
    if not found.percent and found.wanted != items:
        raise part.fault("wanted", "a plain sum wants every answer: one left out would look like a low one")
    return found


def total(how: Scoring, given: int, answered: int) -> float | None:
    """The total from the sum of the answers given and their number; None when too few were answered.

    Percent of the most that the answered ones could give, else the sum itself. Raises ValueError on a sum that
    so many answers cannot have.
    """
    if not 0 <= answered <= how.items:
        raise ValueError(f"there are {how.items} items, and {answered} answers cannot be")
    if not how.lowest * answered <= given <= how.highest * answered:
        raise ValueError(f"{answered} answers sum to {how.lowest * answered} to {how.highest * answered}")
    if answered < how.wanted:
        return None
    return 100 * given / (how.highest * answered) if how.percent else float(given)
