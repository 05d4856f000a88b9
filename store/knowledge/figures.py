"""Figures from a table: a number with its mark, and the rules of what each mark must bring with it."""

from __future__ import annotations

from store.knowledge.fields import Row
from store.knowledge.kinds import CutOff, Figure
from store.knowledge.words import Mark


def figure(row: Row) -> Figure:
    """The figure in a table of its own. Raises KnowledgeError when it cannot say where it comes from."""
    found = _figure(row, row.text("says", ""))
    row.done()
    return found


def figure_or_none(row: Row, key: str) -> Figure | None:
    """The figure under a key, or None where it is not known."""
    return figure(row.row(key)) if row.has(key) else None


def lines(row: Row, key: str) -> tuple[CutOff, ...]:
    """Rows of one figure each: what it says, value, mark, and source, formula and line where it has them."""
    return tuple(_line(item) for item in row.listed(key, ("says", "value", "mark", "source", "formula", "line")))


def provenance(row: Row) -> tuple[Mark, str]:
    """Mark and source of something that is no single number: a dose, a technique, a caution."""
    mark = row.choice("mark", Mark)
    source = row.text("source", "")
    if mark is Mark.DERIVED:
        raise row.fault("mark", "derived is for single figures, which give their formula")
    _check_source(row, mark, source)
    return mark, source


def _line(row: Row) -> CutOff:
    return CutOff(row.text("says"), _figure(row, ""), row.text("line", ""))


def _figure(row: Row, says: str) -> Figure:
    mark = row.choice("mark", Mark)
    source = row.text("source", "")
    formula = row.text("formula", "")
    _check_source(row, mark, source)
    if mark is Mark.DERIVED and not formula:
        raise row.fault("formula", "missing: a derived figure says how it was reached")
    if formula and mark is not Mark.DERIVED:
        raise row.fault("formula", f"only a derived figure has a formula, and this one is marked {mark}")
    return Figure(row.number("value"), mark, source, formula, says)


def _check_source(row: Row, mark: Mark, source: str) -> None:
    if mark is Mark.READ and not source:
        raise row.fault("source", "missing: what is marked read names where it was read")
    if mark is Mark.COMMON and source:
        raise row.fault("source", "common practice has no source; what has one is read or recalled")
