"""What was measured in a visit, a side at a time: before, after, and what the change between them means."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from store.care.plan import before_and_after
from store.knowledge.kinds import Measure
from store.knowledge.words import Reading, Side
from store.reckon.change import Change, change


class Pair(NamedTuple):
    """One side of a measure in a visit (None: a single measure): before, and after the hands-on part.

    While the re-test is blind, `before` is None and `hidden` says that there is one.
    """

    measure: Measure
    side: Side | None
    before: Reading | None
    after: Reading | None
    hidden: bool = False
    change: Change | None = None


def pairs_of(
    known: Mapping[str, Measure], measures: Iterable[str], taken: Sequence[Reading], hidden: frozenset[str]
) -> tuple[Pair, ...]:
    """The measures of these ids that this copy knows, each once, left before right. `taken` is oldest first."""
    found: list[Pair] = []
    for measure in (known[each] for each in dict.fromkeys(measures) if each in known):
        found += [_pair(measure, side, taken, measure.id in hidden) for side in measure.sides]
    return tuple(found)


def _pair(measure: Measure, side: Side | None, taken: Sequence[Reading], hidden: bool) -> Pair:
    before, after = before_and_after(measure, side, taken)
    if hidden:
        return Pair(measure, side, None, after, hidden=before is not None)
    changed = change(before, after, measure, span="within") if before and after else None
    return Pair(measure, side, before, after, change=changed)
