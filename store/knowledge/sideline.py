"""The sideline, from its table: what stops a player, what each comes to, and what is done then."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Any, NamedTuple

from store.knowledge import figures
from store.knowledge.fields import Row
from store.knowledge.kinds import Figure
from store.knowledge.words import Mark

FILE = "sideline.toml"


class BenchOutcome(StrEnum):
    """What a look at the sideline comes to, the gravest first."""

    EMERGENCY = "emergency"
    TODAY = "refer today"
    REMOVE = "remove"
    RECHECK = "re-check"
    NONE = "no stop sign found"


SIGNS = (BenchOutcome.EMERGENCY, BenchOutcome.TODAY, BenchOutcome.REMOVE)
"""What a yes can come to."""


class Sign(NamedTuple):
    """One thing to look at, and what a yes comes to."""

    id: str
    comes_to: BenchOutcome
    asks: str
    mark: Mark
    source: str


class Sideline(NamedTuple):
    """The table. `after` is what is done then, by outcome.

    `ladder` are the ids of the last signs, which load the ankle.
    """

    recheck_min: Figure
    signs: tuple[Sign, ...]
    ladder: tuple[str, ...]
    after: Mapping[BenchOutcome, str]


def sideline(data: Mapping[str, Any]) -> Sideline:
    """What the table holds. Raises KnowledgeError."""
    top = Row(FILE, "sideline", data)
    after = top.row("after")
    found = Sideline(
        figures.figure(top.row("recheck_min")),
        tuple(map(_sign, top.listed("questions", ("id", "comes_to", "asks", "mark", "source")))),
        top.texts("ladder"),
        MappingProxyType({outcome: after.text(outcome) for outcome in BenchOutcome}),
    )
    after.done()
    top.done()
    if not 1 <= found.recheck_min.value <= 120:
        raise top.fault("recheck_min", "1 to 120 minutes are wanted")
    ids = [sign.id for sign in found.signs]
    if not ids or len(set(ids)) < len(ids):
        raise top.fault("questions", "at least one is wanted, and none stands in it twice")
    if not found.ladder or tuple(ids[-len(found.ladder) :]) != found.ladder:
        raise top.fault("ladder", "the ids of the last questions are wanted, in their order")
    return found


def _sign(row: Row) -> Sign:
    mark, source = figures.provenance(row)
    return Sign(row.word("id"), BenchOutcome(row.one_of("comes_to", SIGNS)), row.text("asks"), mark, source)


def sources_of(found: Sideline) -> Iterator[str]:
    """The sources that the table names."""
    yield found.recheck_min.source
    yield from (sign.source for sign in found.signs)
