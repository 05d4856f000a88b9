"""What a look at the sideline comes to: the gravest sign that is there; what was not looked at is unknown.

Pure. It supports, and does not replace, licensed judgement, the rules of the game and local protocol.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from store.knowledge.sideline import BenchOutcome, Sign

_GRAVEST = list(BenchOutcome)


class Look(NamedTuple):
    """What it comes to, the signs that make it so, and those that were not looked at."""

    outcome: BenchOutcome
    because: tuple[Sign, ...]
    open: tuple[Sign, ...]


def look(signs: Sequence[Sign], answers: Mapping[str, bool]) -> Look:
    """One outcome. Without a sign that is there it is a re-check as long as anything was not looked at."""
    there = [sign for sign in signs if answers.get(sign.id)]
    unknown = tuple(sign for sign in signs if sign.id not in answers)
    if there:
        outcome = min((sign.comes_to for sign in there), key=_GRAVEST.index)
        return Look(outcome, tuple(sign for sign in there if sign.comes_to is outcome), unknown)
    return Look(BenchOutcome.RECHECK if unknown else BenchOutcome.NONE, (), unknown)
