"""Running again, from its table: ladders, the rule of climbing them, the check of single runs, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from store.knowledge import figures
from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.kinds import CutOff, Figure
from store.knowledge.words import Mark

FILE = "running.toml"
MOST_RUNGS, MOST_MIN, MOST_KM = 20, 600, 100
LIMITS: Mapping[str, tuple[int, int]] = MappingProxyType(
    {
        "clean_to_rise": (1, 10),
        "most_pain": (0, 10),
        "bad_pain": (0, 10),
        "rungs_down": (0, 5),
        "days_off": (0, 28),
        "rest_days": (0, 14),
        "a_week": (1, 7),
    }
)
"""The figures of a rule, each with the least and the most it can be."""


class Rung(NamedTuple):
    """One step of a ladder: minutes run and walked in turn, and how often or how far (km); one of the two.

    Without a walk it is run in one piece. `says` is what else belongs to it.
    """

    number: int
    run_min: float | None
    walk_min: float = 0.0
    rounds: int | None = None
    km: float | None = None
    says: str = ""

    @property
    def continuous(self) -> bool:
        """Whether it is run without a break."""
        return self.walk_min == 0

    @property
    def words(self) -> str:
        """As it is written: `3:2x5` is three minutes run and two walked, five times; `30 continuous`."""
        far = f"{self.km:g} km" if self.km is not None else ""
        if self.continuous:
            return f"{far or f'{self.run_min:g}'} continuous"
        turn = f"{self.run_min:g}:{self.walk_min:g}"
        return f"{turn} {far}" if far else f"{turn}x{self.rounds}"

    @property
    def short(self) -> str:
        """In at most six or seven letters: `3:2x5`, `30 min`, `3.2 km`."""
        if self.continuous:
            return f"{self.km:g} km" if self.km is not None else f"{self.run_min:g} min"
        return f"{self.run_min:g}:{self.walk_min:g}{f'x{self.rounds}' if self.rounds else ''}"

    @property
    def minutes(self) -> float | None:
        """Minutes of running in it; None where it goes by distance."""
        return None if self.rounds is None or self.run_min is None else self.run_min * self.rounds

    @property
    def longest(self) -> float | None:
        """Minutes run without a break; None where that hangs on the pace."""
        return self.run_min


class Rule(NamedTuple):
    """When a session is clean, and what follows it. Pains 0 to 10; days and rungs whole."""

    clean_to_rise: Figure
    most_pain: Figure
    bad_pain: Figure
    rungs_down: Figure
    days_off: Figure
    rest_days: Figure
    a_week: Figure


class Ladder(NamedTuple):
    """Rungs in order, and the rule that holds on them."""

    id: str
    name: str
    says: str
    mark: Mark
    source: str
    rungs: tuple[Rung, ...]
    rule: Rule

    def rung(self, number: int) -> Rung:
        """The rung of a number from 1 on; the nearest one where there is none."""
        return self.rungs[min(max(number, 1), len(self.rungs)) - 1]

    def called(self, words: str) -> Rung | None:
        """The rung written so, such as `3:2x5` or `30 continuous`, blanks and case aside."""
        wanted = "".join(words.casefold().split())
        return next((rung for rung in self.rungs if "".join(rung.words.split()) == wanted), None)


class SingleRun(NamedTuple):
    """One run against the longest of some days before: per cent, days, and what was found beyond."""

    share: Figure
    days: Figure
    bands: tuple[CutOff, ...]


class RunCaution(NamedTuple):
    """What is told beside a plan."""

    id: str
    says: str
    mark: Mark
    source: str


class Running(NamedTuple):
    """The table. `ladder` is the id of the one that a new plan takes."""

    ladder: str
    ladders: Mapping[str, Ladder]
    single_run: SingleRun
    weekly: tuple[CutOff, ...]
    first_km: Figure
    cautions: tuple[RunCaution, ...]


def running(data: Mapping[str, Any]) -> Running:
    """What the table holds. Raises KnowledgeError."""
    top = Row(FILE, "running", data)
    base = _rule(top.row("rule"), None)
    ladders = {
        key: _ladder(key, Row(FILE, f"ladders.{key}", table), base)
        for key, table in _tables(top, data, "ladders").items()
    }
    single, weekly = top.row("single_run"), top.row("weekly")
    bands = single.row("bands")
    found = Running(
        ladder=top.one_of("default", ladders),
        ladders=MappingProxyType(ladders),
        single_run=SingleRun(
            figures.figure(single.row("share")),
            figures.figure(single.row("days")),
            figures.lines(bands, "ratios"),
        ),
        weekly=figures.lines(weekly, "lines"),
        first_km=figures.figure(top.row("first_km")),
        cautions=tuple(
            _caution(key, Row(FILE, f"cautions.{key}", table))
            for key, table in _tables(top, data, "cautions").items()
        ),
    )
    for row in (bands, single, weekly, top):
        row.done()
    if not 0 < found.first_km.value <= MOST_KM or found.single_run.share.value <= 100:
        raise top.fault("first_km", "more than 0 km, and a share of more than 100 per cent, are wanted")
    for line in found.single_run.bands:
        if not line.line.isdigit():
            raise bands.fault("ratios", "the last cell is the per cent from which a row counts, such as 110")
    return found


def _tables(top: Row, data: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    found = data.get(key) if top.has(key) else None
    if not isinstance(found, Mapping) or not found:
        raise top.fault(key, "missing: at least one table is wanted")
    return found


def _ladder(key: str, row: Row, base: Rule) -> Ladder:
    mark, source = figures.provenance(row)
    found = Ladder(
        id=key,
        name=row.text("name"),
        says=row.text("says"),
        mark=mark,
        source=source,
        rungs=tuple(_rung(number, item) for number, item in enumerate(row.rows("rungs"), 1)),
        rule=_rule(row.row("rule"), base) if row.has("rule") else base,
    )
    row.done()
    if not 1 < len(found.rungs) <= MOST_RUNGS or not found.rungs[-1].continuous:
        raise row.fault("rungs", f"2 to {MOST_RUNGS} rungs are wanted, the last one without a walk")
    return found


def _rung(number: int, row: Row) -> Rung:
    def given(key: str, most: float) -> float | None:
        value = row.number(key) if row.has(key) else None
        if value is not None and not 0 < value <= most:
            raise row.fault(key, f"more than 0, and at most {most}, is wanted")
        return value

    rounds = row.whole("rounds") if row.has("rounds") else None
    found = Rung(
        number,
        given("run_min", MOST_MIN),
        given("walk_min", MOST_MIN) or 0.0,
        rounds,
        given("km", MOST_KM),
        row.text("says", ""),
    )
    row.done()
    if (found.rounds is None) == (found.km is None) or rounds == 0:
        raise row.fault("rounds", "a rung is so many rounds or so many km, one of the two")
    if found.run_min is None and (found.walk_min or found.rounds is not None):
        raise row.fault("run_min", "missing: minutes run")
    if found.continuous and rounds not in (None, 1):
        raise row.fault("rounds", "what is run without a walk has one round")
    return found


def _rule(row: Row, base: Rule | None) -> Rule:
    """A whole rule, or the figures that a ladder has of its own laid over the base."""
    own = {key: rule_figure(key, row.row(key), row) for key in Rule._fields if base is None or row.has(key)}
    row.done()
    found = base._replace(**own) if base is not None else Rule(**own)
    if found.bad_pain.value < found.most_pain.value:
        raise row.fault("bad_pain", "too much pain is not below the most of a clean session")
    return found


def rule_figure(key: str, own: Row, row: Row) -> Figure:
    """A figure of a rule, whole and within its limits. Raises KnowledgeError."""
    found = figures.figure(own)
    check_limits(key, found.value, row)
    return found


def check_limits(key: str, value: float, row: Row) -> None:
    """Raise KnowledgeError where a figure of a rule is not whole or beyond its limits."""
    least, most = LIMITS[key]
    if value != int(value) or not least <= value <= most:
        raise row.fault(key, f"a whole number from {least} to {most} is wanted")


def _caution(key: str, row: Row) -> RunCaution:
    mark, source = figures.provenance(row)
    found = RunCaution(key, row.text("says"), mark, source)
    row.done()
    return found


def figures_of(found: Running) -> Iterator[Figure]:
    """Every figure of the table."""
    for ladder in found.ladders.values():
        yield from ladder.rule
    yield from (found.single_run.share, found.single_run.days, found.first_km)
    yield from (line.figure for line in (*found.single_run.bands, *found.weekly))


def sources_of(found: Running) -> list[str]:
    """The sources that the table names."""
    own = [ladder.source for ladder in found.ladders.values()] + [one.source for one in found.cautions]
    return own + [figure.source for figure in figures_of(found)]


def with_own(found: Running, ladder: str, own: Mapping[str, Figure]) -> Running:
    """The table with a clinic's ladder, and its figures on every ladder. Raises KnowledgeError."""
    laid = {}
    for key, one in found.ladders.items():
        rule = one.rule._replace(**own)
        if rule.bad_pain.value < rule.most_pain.value:
            raise KnowledgeError("", key="bad_pain", says="it is below most_pain, the most of a clean session")
        laid[key] = one._replace(rule=rule)
    return found._replace(ladder=ladder or found.ladder, ladders=MappingProxyType(laid))
