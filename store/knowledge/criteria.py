"""The criteria of each stage from their table: what an ankle wants before it walks, jogs, runs, turns, plays.

No published set is validated for this ankle. Every line is common practice or names where it was read, and the
clinician's own file may change any of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from store.knowledge.cross import check_known
from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.figures import lines, provenance
from store.knowledge.kinds import CutOff, Measure
from store.knowledge.measures import DOMAINS
from store.knowledge.units import YES_NO
from store.knowledge.words import Better, Mark
from store.knowledge.words import Stage as Stage

FILE = "criteria.toml"

NUMBERS = ("at_least", "at_most", "within", "share")
GROUPS = ("any", "all")
PLAIN = ("yes", "no_rise")


class Need(NamedTuple):
    """A line on a value, or several of them.

    `at_least` and `at_most` are a value of the injured side; `within` is how far it may be on the worse side of
    its reference, in the unit; `share` is the part of the uninjured side's that it must reach; `yes` wants a
    yes. `any` and `all` hold parts.
    """

    kind: str
    value: float = 0.0
    parts: tuple[Need, ...] = ()


class Criterion(NamedTuple):
    """One condition of a stage. `lines` tell who drew it and where that was read."""

    id: str
    measure: str
    says: str
    need: Need
    domain: str
    mark: Mark
    source: str = ""
    lines: tuple[CutOff, ...] = ()


class StageCriteria(NamedTuple):
    """The conditions of a stage, and what is said beside them and counts for none (healing time).

    `left_out` are what the clinic's settings took away, in words.
    """

    stage: Stage
    criteria: tuple[Criterion, ...]
    advice: tuple[CutOff, ...] = ()
    left_out: tuple[str, ...] = ()


PLACE = "{}"
"""Where the value stands in what an advice says."""


def advice_words(one: CutOff) -> str:
    """The sentence of an advice with its value."""
    return one.says.replace(PLACE, f"{one.figure.value:g}")


def criteria(data: Mapping[str, Any]) -> dict[Stage, StageCriteria]:
    """The criteria by stage, in the order of the stages. Raises KnowledgeError."""
    for key in data:
        if key not in set(Stage):
            raise KnowledgeError(f"{FILE}: [{key}]: no such stage; the stages are {', '.join(Stage)}")
    return {stage: _stage(stage, Row(FILE, stage, data[stage])) for stage in Stage if stage in data}


def _stage(stage: Stage, row: Row) -> StageCriteria:
    found: list[Criterion] = []
    for item in row.rows("criterion"):
        one = _criterion(item)
        if one.id in {other.id for other in found}:
            raise item.fault("id", f"{one.id!r} is used twice in a stage")
        found.append(one)
    if not found:
        raise row.fault("criterion", "missing: a stage without a criterion would be met by nothing")
    made = StageCriteria(stage, tuple(found), _advice(row))
    row.done()
    return made


def _advice(row: Row) -> tuple[CutOff, ...]:
    """What is said beside the count. Its value has one place in the sentence, so that it is never told apart."""
    found = lines(row, "advice")
    for one in found:
        if one.says.count(PLACE) != 1:
            raise row.fault("advice", f"{one.says!r}: {PLACE} is wanted once, where its value belongs")
    return found


def _criterion(row: Row) -> Criterion:
    mark, source = provenance(row)
    made = Criterion(
        id=row.word("id"),
        measure=row.text("measure"),
        says=row.text("says"),
        need=need(row.row("needs")),
        domain=row.one_of("domain", DOMAINS),
        mark=mark,
        source=source,
        lines=lines(row, "lines"),
    )
    row.done()
    if not made.id:
        raise row.fault("id", "missing")
    return made


def need(row: Row) -> Need:
    """What a criterion wants, from its table. Raises KnowledgeError."""
    kinds = [kind for kind in (*NUMBERS, *GROUPS, *PLAIN) if row.has(kind)]
    row.done()
    if len(kinds) != 1:
        raise row.fault("needs", f"one of {', '.join((*NUMBERS, *GROUPS, *PLAIN))} is wanted, not {len(kinds)}")
    (kind,) = kinds
    if kind in PLAIN:
        if not row.flag(kind):
            raise row.fault(kind, "only true can be wanted")
        return Need(kind)
    if kind in GROUPS:
        parts = tuple(need(item) for item in row.rows(kind))
        if len(parts) < 2 or any(part.kind in PLAIN for part in parts):
            raise row.fault(kind, "two or more lines on a value are wanted")
        return Need(kind, parts=parts)
    value = row.number(kind)
    if kind == "within" and value < 0:
        raise row.fault("within", "a distance is not below 0")
    if kind == "share" and not 0 < value <= 1.5:
        raise row.fault("share", "a share of the uninjured side is above 0, as 0.8")
    return Need(kind, value)


def sources_of(stage: StageCriteria) -> Iterator[str]:
    """Every source that the criteria of a stage name."""
    yield from (line.figure.source for line in stage.advice)
    for criterion in stage.criteria:
        yield criterion.source
        yield from (line.figure.source for line in criterion.lines)


def check(stage: StageCriteria, measures: Mapping[str, Measure]) -> None:
    """Each criterion is of a measure that is there, and asks of it what it can answer."""
    for criterion in stage.criteria:
        where = f"{FILE}: [{stage.stage}] {criterion.id}"
        check_known(f"{where} measure", [criterion.measure], measures, "the measures")
        measure = measures[criterion.measure]
        if (criterion.need.kind == "yes") != (measure.unit == YES_NO):
            raise KnowledgeError(f"{where}: {measure.id} is in {measure.unit}, and a yes is of yes/no only")
        for leaf in _leaves(criterion.need):
            if leaf.kind in {"within", "share"} and not measure.paired:
                raise KnowledgeError(f"{where}: {measure.id} has no sides, so no line through the other one")
            if leaf.kind == _WRONG_WAY[measure.better]:
                raise KnowledgeError(f"{where}: {leaf.kind} on a measure where {measure.better} is better")


_WRONG_WAY = {Better.HIGHER: "at_most", Better.LOWER: "at_least"}


def _leaves(need: Need) -> Iterator[Need]:
    if not need.parts:
        yield need
    for part in need.parts:
        yield from _leaves(part)
