"""What a look at the sideline comes to: the gravest sign that is there; what was not looked at is unknown.

Pure. It supports, and does not replace, licensed judgement, the rules of the game and local protocol.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from store.knowledge.sideline import BenchOutcome, Sign

_GRAVEST = list(BenchOutcome)


class Look(NamedTuple):
    """What it comes to, the signs that make it so, and those that were not looked at.

    `barred` are the ids of the ladder that are not to be begun any more: something is there already.
    """

    outcome: BenchOutcome
    because: tuple[Sign, ...]
    open: tuple[Sign, ...]
    barred: tuple[str, ...] = ()


def look(signs: Sequence[Sign], answers: Mapping[str, bool], ladder: Sequence[str] = ()) -> Look:
    """One outcome. Without a sign that is there it is a re-check as long as anything was not looked at.

    `ladder` are the ids of the signs for which the ankle is loaded: after a yes nobody is asked to.
    """
    there = [sign for sign in signs if answers.get(sign.id)]
    barred = tuple(key for key in ladder if key not in answers) if there else ()
    unknown = tuple(sign for sign in signs if sign.id not in answers and sign.id not in barred)
    if there:
        outcome = min((sign.comes_to for sign in there), key=_GRAVEST.index)
        return Look(outcome, tuple(sign for sign in there if sign.comes_to is outcome), unknown, barred)
    return Look(BenchOutcome.RECHECK if unknown else BenchOutcome.NONE, (), unknown)
