"""What is practised, from its table: assessments in order with their budgets, and invented people on paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Any, NamedTuple

from store.knowledge import figures
from store.knowledge.fields import Row
from store.knowledge.words import Mark

FILE = "practice.toml"
CASES_GO_BY = "whole"
"""The sequence whose steps a paper case asks and tests."""


class Outcome(StrEnum):
    """What an assessment can come to, the gravest first."""

    EMERGENCY = "emergency"
    REFER = "refer"
    FILMS = "films"
    TREAT = "treat"


class PracticeStep(NamedTuple):
    """One thing to ask, look at or test. `plain` is what it finds where nothing is wrong; empty: nothing."""

    id: str
    asks: str
    needed: bool = False
    plain: str = ""


class PracticeBlock(NamedTuple):
    """Steps that belong together under one giant word, with their seconds."""

    word: str
    name: str
    budget_s: int
    steps: tuple[PracticeStep, ...]


class Sequence(NamedTuple):
    """An assessment in a set order with budgets."""

    id: str
    name: str
    says: str
    mark: Mark
    source: str
    blocks: tuple[PracticeBlock, ...]

    @property
    def budget_s(self) -> int:
        """Seconds of all blocks."""
        return sum(block.budget_s for block in self.blocks)

    @property
    def steps(self) -> tuple[PracticeStep, ...]:
        """The steps of all blocks, in order."""
        return tuple(step for block in self.blocks for step in block.steps)


class PaperCase(NamedTuple):
    """An invented person on paper: what differs from plain, what must be asked, and what the rules make of it."""

    id: str
    name: str
    story: str
    outcome: Outcome
    why: str
    needed: tuple[str, ...]
    finds: Mapping[str, str]
    mark: Mark
    source: str


class Practice(NamedTuple):
    """The table."""

    sequences: Mapping[str, Sequence]
    cases: Mapping[str, PaperCase]

    @property
    def case_blocks(self) -> tuple[PracticeBlock, ...]:
        """What a paper case can be asked, block by block: the steps that find something."""
        found = []
        for block in self.sequences[CASES_GO_BY].blocks:
            steps = tuple(step for step in block.steps if step.plain)
            if steps:
                found.append(block._replace(steps=steps))
        return tuple(found)

    def finding(self, case: PaperCase, step: str) -> str:
        """What a step finds in a case."""
        plain = next(each.plain for each in self.sequences[CASES_GO_BY].steps if each.id == step)
        return case.finds.get(step, plain)


def practice(data: Mapping[str, Any]) -> Practice:
    """What the table holds. Raises KnowledgeError."""
    sequences = {
        key: _sequence(key, Row(FILE, f"sequences.{key}", table))
        for key, table in dict(data.get("sequences", {})).items()
    }
    top = Row(FILE, "practice", data)
    top.has("sequences"), top.has("cases")
    top.done()
    if CASES_GO_BY not in sequences:
        raise top.fault("sequences", f"missing: {CASES_GO_BY}, by which the paper cases go")
    askable = {step.id for step in sequences[CASES_GO_BY].steps if step.plain}
    cases = {
        key: _case(key, Row(FILE, f"cases.{key}", table), askable)
        for key, table in dict(data.get("cases", {})).items()
    }
    return Practice(MappingProxyType(sequences), MappingProxyType(cases))


def _sequence(key: str, row: Row) -> Sequence:
    mark, source = figures.provenance(row)
    blocks = tuple(_block(item) for item in row.rows("blocks"))
    found = Sequence(key, row.text("name"), row.text("says"), mark, source, blocks)
    row.done()
    ids = [step.id for step in found.steps]
    twice = next((one for one in ids if ids.count(one) > 1), None)
    if not blocks or twice:
        raise row.fault("blocks", f"{twice} stands in it twice" if twice else "at least one block is wanted")
    return found


def _block(row: Row) -> PracticeBlock:
    found = PracticeBlock(
        row.text("word"), row.text("name"), row.whole("budget_s"), tuple(_step(item) for item in row.rows("steps"))
    )
    row.done()
    if not found.budget_s or not found.steps:
        raise row.fault("budget_s", "a block has more than 0 seconds and at least one step")
    return found


def _step(row: Row) -> PracticeStep:
    found = PracticeStep(row.word("id"), row.text("asks"), row.flag("needed", False), row.text("plain", ""))
    row.done()
    if not found.id:
        raise row.fault("id", "missing: a name in lower snake case")
    return found


def _case(key: str, row: Row, askable: set[str]) -> PaperCase:
    mark, source = figures.provenance(row)
    own = row.row("finds") if row.has("finds") else None
    finds = {step: own.text(step) for step in askable if own.has(step)} if own is not None else {}
    if own is not None:
        own.done()
    found = PaperCase(
        id=key,
        name=row.text("name"),
        story=row.text("story"),
        outcome=row.choice("outcome", Outcome),
        why=row.text("why"),
        needed=row.texts("needed"),
        finds=MappingProxyType(finds),
        mark=mark,
        source=source,
    )
    row.done()
    unknown = next((step for step in found.needed if step not in askable), None)
    if unknown or not found.needed:
        raise row.fault("needed", f"no step that finds something is called {unknown}" if unknown else "missing")
    return found


def sources_of(found: Practice) -> Iterator[str]:
    """The sources that the table names."""
    yield from (one.source for one in found.sequences.values())
    yield from (one.source for one in found.cases.values())
